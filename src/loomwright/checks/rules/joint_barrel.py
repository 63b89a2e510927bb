"""JOIN02: no barrel takes both wires."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuits
from loomwright.hookup.model import End, Pair

CODE = "JOIN02"
SOURCE = "crimp-charts; circular-mil-splices"


def barrels_that_do_not_fit(work: Work) -> Iterator[Finding]:
    """Flag splices whose barrel does not take both wires, one finding for each pair of sizes."""
    groups: dict[tuple[str, str, str], list[Pair]] = {}
    for pair in work.hookup.pairs:
        if pair.splice is not None and not pair.splice.fits:
            sizes = _size(pair.vehicle_side), _size(pair.trailer_side)
            groups.setdefault((pair.socket, *sizes), []).append(pair)
    for (socket, left, right), pairs in groups.items():
        yield _finding(socket, left, right, pairs)


def _size(end: End | None) -> str:
    return "a wire of unknown size" if end is None or end.size is None else str(end.size)


def _finding(socket: str, left: str, right: str, pairs: list[Pair]) -> Finding:
    splice = pairs[0].splice
    note = "" if splice is None else splice.note
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where=f"splices of {socket}",
        says=f"No barrel of the kind planned takes {left} and {right}: "
        f"{circuits(pair.function for pair in pairs)}.",
        why="A wire that is too thin for its barrel pulls out; one that is too thick is cut.",
        fix=f"{note[:1].upper()}{note[1:]}." if note else "Use a step-down butt for these sizes.",
        source=SOURCE,
        station="joint",
        standing="common practice",
    )


RULE = Rule(CODE, "Barrel does not take both wires", SOURCE, barrels_that_do_not_fit)
