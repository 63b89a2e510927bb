"""LEAD01: the lead does not reach."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuits
from loomwright.quantities import Units, show_length
from loomwright.reference.limits import limit
from loomwright.rig.model import GroundMethod, PinWire, Socket

CODE = "LEAD01"
SOURCE = "trade"


def leads_too_short(work: Work) -> Iterator[Finding]:
    """Flag each lead that is shorter than its route with slack at both ends.

    Slack is 0.15 m at the joint and 0.20 m at the socket, or what the rig states where that is
    more; a lead that has it but for 0.1 m passes. One shorter than the bare route does not
    reach at all.
    """
    for socket in work.rig.sockets:
        needed_m = socket.route_m + max(socket.slack_m, _usual_slack_m())
        near_m = max(needed_m - limit("slack-short").value, socket.route_m)
        short = [wire for wire in _routed(socket) if wire.wire.length_m < near_m]
        if socket.legs and short:
            yield _finding(socket, short, needed_m, work.rig.units)


def _usual_slack_m() -> float:
    return limit("slack-joint").value + limit("slack-socket").value


def _routed(socket: Socket) -> list[PinWire]:
    """Wires that run the whole route: a ground with a ring of its own ends near the socket."""
    own_ring = socket.ground_method is GroundMethod.OWN_RING
    return [wire for wire in socket.lead if not (own_ring and wire.function == "ground")]


def _finding(socket: Socket, short: list[PinWire], needed_m: float, units: Units) -> Finding:
    shortest_m = min(wire.wire.length_m for wire in short)
    reaches = shortest_m >= socket.route_m
    end = "leaves too little slack" if reaches else "does not reach"
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD if reaches else Severity.MUST,
        where=f"{socket.name} lead",
        says=f"The lead of {show_length(shortest_m, units)} {end}: its route is "
        f"{show_length(socket.route_m, units)}, with slack {show_length(needed_m, units)}. "
        f"Too short: {circuits(wire.function for wire in short)}.",
        why="A lead without slack is pulled at by every movement, and cannot be joined again.",
        fix=f"Take a lead of {show_length(needed_m, units)} or longer, or move the joint "
        f"{show_length(needed_m - shortest_m, units)} nearer to the socket.",
        source=SOURCE,
        value=shortest_m,
        limit=needed_m,
        unit="m",
        station="lead",
        standing="common practice",
    )


RULE = Rule(CODE, "Lead too short for its route", SOURCE, leads_too_short)
