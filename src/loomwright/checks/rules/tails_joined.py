"""TAIL01: left and right tail lamp feeds joined."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import listed
from loomwright.reference.connectors import connector
from loomwright.rig.model import Rig

CODE = "TAIL01"
SOURCE = "iso-1724: contacts 5 and 7"

SIDES = ("tail_left", "tail_right")


def tail_feeds_joined(work: Work) -> Iterator[Finding]:
    """Flag left and right tail lamp circuits that a connector keeps apart and the rig joins.

    On the trailer, one conductor for both behind a plug with a pin for each must be parted. On
    the vehicle, one feed on both pins works, and is noted.
    """
    plug = connector(work.rig.trailer.plug)
    if len(plug.feeds_kept_apart) < 2:
        return
    if _joined_on_the_trailer(work.rig):
        yield _finding(
            Severity.MUST,
            "trailer junction",
            f"Pins {listed(sorted(plug.feeds_kept_apart))} of the {plug.key} plug feed one wire on "
            "the trailer.",
            "Run the left tail lamps to the left pin and the right ones to the right pin.",
            plug.row.source,
        )
    elif _one_feed_for_both(work.rig):
        yield _finding(
            Severity.NOTE,
            f"lead of {work.rig.towing}",
            "One tail lamp feed of the vehicle supplies the left and the right pin.",
            "Nothing, if the vehicle has no parking lamp on one side; else find both wires.",
            plug.row.source,
        )


def _joined_on_the_trailer(rig: Rig) -> bool:
    corded = [rig.trailer.cord_wire_for(side) for side in SIDES]
    grouped = any(
        set(group) >= set(SIDES) or _pins(rig) <= set(group) for group in rig.trailer.joined_returns
    )
    runs_one = "tail" in rig.trailer.run and not set(SIDES) & set(rig.trailer.run)
    return all(wire is not None for wire in corded) and (grouped or runs_one)


def _pins(rig: Rig) -> frozenset[str]:
    return connector(rig.trailer.plug).feeds_kept_apart


def _one_feed_for_both(rig: Rig) -> bool:
    fed = {feed.function for feed in rig.vehicle.feeds}
    led = {wire.function for wire in rig.towing_socket.lead}
    return "tail" in fed and not set(SIDES) & fed and set(SIDES) <= led


def _finding(severity: Severity, where: str, says: str, fix: str, source: str) -> Finding:
    return Finding(
        rule=CODE,
        severity=severity,
        where=where,
        says=says,
        why="Each side has its own fuse, so that one fault leaves the other lamps lit; joined, "
        "a parking lamp lights both sides and one fuse feeds the other's circuit.",
        fix=fix,
        source=source,
        station="junction" if severity is Severity.MUST else "lead",
    )


RULE = Rule(CODE, "Left and right tail lamps joined", SOURCE, tail_feeds_joined)
