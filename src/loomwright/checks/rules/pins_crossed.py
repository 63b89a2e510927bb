"""PINS01: a pin means one thing on the vehicle and another on the trailer."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.colour_trap import is_crossed
from loomwright.checks.words import circuit, listed
from loomwright.hookup.model import Pair, Standing
from loomwright.reference.functions import function as function_row

CODE = "PINS01"
SOURCE = "trade-6-round; trade-7-blade"


def pins_crossed(work: Work) -> Iterator[Finding]:
    """Flag pins that carry one function on the vehicle and another on the trailer.

    Brake and charge exchanged is the worst: the trailer's brakes get the battery as soon as it
    is plugged in, and the controller drives the battery. All such pins are told in one finding;
    what only a converter can mend is left to CONV02.
    """
    crossed = [
        pair
        for pair in work.hookup.pairs
        if is_crossed(pair) and pair.standing is not Standing.NEEDS_CONVERTER
    ]
    if crossed:
        yield _finding(sorted(crossed, key=lambda pair: not _is_grave(pair)))


def _is_grave(pair: Pair) -> bool:
    ends = (pair.vehicle_side, pair.trailer_side)
    return any(end is not None and function_row(end.function).kind != "lamp" for end in ends)


def _finding(crossed: list[Pair]) -> Finding:
    grave = _is_grave(crossed[0])
    pins = listed([_said(pair) for pair in crossed])
    return Finding(
        rule=CODE,
        severity=Severity.DANGER if grave else Severity.MUST,
        where=f"{crossed[0].socket} to the trailer's plug",
        says=f"Vehicle and trailer do not agree on: {pins}.",
        why="Plugged in, brakes can lock or never act, and fuses open."
        if grave
        else "Plugged in, the wrong lamps light.",
        fix="Do not plug in. Move the wires of the trailer's plug to the pins their functions "
        "have on the socket, then test each.",
        source=crossed[0].source or SOURCE,
        station="plug",
        standing="common practice",
    )


def _said(pair: Pair) -> str:
    left, right = pair.vehicle_side, pair.trailer_side
    if left is None or right is None:
        return circuit(pair.function)
    pin = f"pin {left.pin}" if left.pin else "one pin"
    return f"{pin} ({circuit(left.function)} against {circuit(right.function)})"


RULE = Rule(CODE, "Pins crossed between vehicle and trailer", SOURCE, pins_crossed)
