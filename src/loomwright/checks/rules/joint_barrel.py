"""JOIN02: no barrel takes both wires."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuits, listed
from loomwright.hookup.model import End, Pair

CODE = "JOIN02"
SOURCE = "crimp-charts; circular-mil-splices"


def barrels_that_do_not_fit(work: Work) -> Iterator[Finding]:
    """Flag splices whose barrel does not take both wires, one finding for each socket."""
    groups: dict[str, list[Pair]] = {}
    for pair in work.hookup.pairs:
        if pair.splice is not None and not pair.splice.fits:
            groups.setdefault(pair.socket, []).append(pair)
    for socket, pairs in groups.items():
        yield _finding(socket, pairs)


def _size(end: End | None) -> str:
    return "a wire of unknown size" if end is None or end.size is None else str(end.size)


def _finding(socket: str, pairs: list[Pair]) -> Finding:
    by_sizes: dict[str, list[str]] = {}
    for pair in pairs:
        sizes = f"{_size(pair.vehicle_side)} to {_size(pair.trailer_side)}"
        by_sizes.setdefault(sizes, []).append(pair.function)
    said = [f"{sizes} ({circuits(functions)})" for sizes, functions in by_sizes.items()]
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=f"splices of {socket}",
        says=f"One barrel does not take both wires: {listed(said)}.",
        why="A wire that is too thin for its barrel pulls out; one that is too thick is cut.",
        fix="Use step-down butts for these, with adhesive heat-shrink.",
        source=SOURCE,
        station="joint",
        standing="common practice",
    )


RULE = Rule(CODE, "Barrel does not take both wires", SOURCE, barrels_that_do_not_fit)
