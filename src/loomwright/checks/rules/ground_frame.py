"""GRND04: the trailer's frame carries the return."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.reference.rules import rules_for
from loomwright.rig.model import Braking, Returns

CODE = "GRND04"
SOURCE = "trade; ccr-13-1249: (a)"

MOVING = frozenset({"boat", "pole", "converter dolly"})
"""Trailers with sliding or turning parts, or much water."""


def frame_carries_the_return(work: Work) -> Iterator[Finding]:
    """Flag a trailer whose lamps are grounded to the frame.

    A note on a welded frame with lamps only. It should be changed where the frame tilts, slides
    or is dipped in water, and where brake magnets come home by it.
    """
    trailer = work.rig.trailer
    if trailer.returns is not Returns.FRAME:
        return
    moves = trailer.kind in MOVING
    brakes = trailer.braking is Braking.ELECTRIC
    reason = "with parts that move or get wet" if moves else "with electric brakes on it"
    yield Finding(
        rule=CODE,
        severity=Severity.SHOULD if moves or brakes else Severity.NOTE,
        where="trailer frame",
        says="The loads of the trailer come home by its frame"
        + (f", {reason}." if moves or brakes else "."),
        why="Each screw and bolt on the way rusts for itself, and shows as a fault that moves.",
        fix="Run a ground wire along the trailer to every lamp and brake, thick as the thickest "
        "feed, and bond it to the frame at one place.",
        source=_source(work.rig.jurisdiction),
        station="run",
        standing="common practice",
    )


def _source(jurisdiction: str) -> str:
    grounds = [rule for rule in rules_for(jurisdiction) if rule.row.topic == "ground"]
    return "; ".join([*(rule.row.source for rule in grounds), "trade"])


RULE = Rule(CODE, "Frame carries the return", SOURCE, frame_carries_the_return)
