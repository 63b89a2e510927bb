"""COLR01: colours that mislead."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuit, circuits
from loomwright.hookup.model import Pair, Standing
from loomwright.reference.functions import function as function_row
from loomwright.rig.feeding import feeders

CODE = "COLR01"
SOURCE = "trade-7-blade; trade-us-looms"

TWO_CONVENTIONS = "two-blade-conventions"


def colours_that_mislead(work: Work) -> Iterator[Finding]:
    """Flag joints where following the colour joins the wrong wires, one finding for each place.

    The wires are paired by function, so the plan is right; whoever joins by colour goes wrong.
    It matters most at splices, where brakes, supply or ground are among what the colours stand
    for. Plug and socket meet by pin, so there it waits for whoever opens them: a note, but where
    one connector is sold in two colour conventions.
    """
    groups: dict[tuple[str, str], list[Pair]] = {}
    for pair in work.hookup.pairs:
        if pair.standing is Standing.TRAP and not is_crossed(pair):
            groups.setdefault((pair.stage, pair.socket), []).append(pair)
    for (stage, socket), pairs in groups.items():
        yield _finding(stage, socket, pairs, _severity(work, stage, pairs))


def is_crossed(pair: Pair) -> bool:
    """Whether a pin means one function on the vehicle and another on the trailer."""
    left, right = pair.vehicle_side, pair.trailer_side
    if pair.stage == "splice" or left is None or right is None:
        return False
    return left.function not in feeders(right.function)


def _severity(work: Work, stage: str, pairs: list[Pair]) -> Severity:
    if stage == "splice":
        return Severity.SHOULD if all(_is_light(pair) for pair in pairs) else Severity.MUST
    two_conventions = any(trap.key == TWO_CONVENTIONS for trap in work.hookup.traps if trap.grave)
    return Severity.SHOULD if two_conventions else Severity.NOTE


def _finding(stage: str, socket: str, pairs: list[Pair], severity: Severity) -> Finding:
    pairs = sorted(pairs, key=_is_light)
    meanings = pairs[0].meanings
    cut = stage == "splice"
    place = f"splices of {socket}" if cut else f"{socket} to the trailer's cord"
    others = (
        f" It also misleads at: {circuits(pair.function for pair in pairs[1:])}."
        if pairs[1:]
        else ""
    )
    example = f" {meanings[0][:1].upper()}{meanings[0][1:]}." if meanings else ""
    return Finding(
        rule=CODE,
        severity=severity,
        where=place,
        says=f"The colour misleads at {circuit(pairs[0].function)}.{example}{others}",
        why="Joined by colour, the wrong lamp lights, or the brakes get the battery.",
        fix="Join by function: measure each wire, mark both ends, then join and test one by one."
        if cut
        else "Go by pin and function when you open plug or socket, and mark the wires there.",
        source=pairs[0].source or SOURCE,
        station="joint" if cut else "plug",
        standing="common practice",
    )


def _is_light(pair: Pair) -> bool:
    """Whether only lamps are at stake."""
    functions = {end.function for end in (pair.vehicle_side, pair.trailer_side) if end is not None}
    lamps = all(function_row(each).kind == "lamp" for each in functions)
    heavy = any(word in text for text in pair.meanings for word in ("brake", "supply", "return"))
    return lamps and not heavy


RULE = Rule(CODE, "Colours that mislead", SOURCE, colours_that_mislead)
