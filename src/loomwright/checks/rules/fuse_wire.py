"""FUSE02: a fuse is larger than the wire it protects."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.protected import FuseLine, fuse_lines
from loomwright.checks.remedy import alone_a, size_carrying
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuits
from loomwright.electrics.answers import ConductorAnswer, FuseAnswer
from loomwright.quantities import show_current, show_share
from loomwright.reference.fuses import CONTINUOUS_SHARE_MOST, ratings
from loomwright.reference.limits import limit

CODE = "FUSE02"
SOURCE = "abyc-e11: 11.10"

Protected = tuple[FuseLine, ConductorAnswer]


def fuses_larger_than_the_wire(work: Work) -> Iterator[Finding]:
    """Flag each fuse rated far above what the weakest wire behind it may carry.

    Ampacity counts the loaded wires of the bundle. Up to 150 % of it is allowed in boat practice
    and everyday on trailers, and nothing is said. A fuse of twice what the wire carries even in
    free air must be changed. A branch to one load cannot be overloaded by it, so it is left to
    FUSE03, as wires behind a powered converter are left to its own protection. Circuits with the
    same fuse and wire are told together.
    """
    groups: dict[tuple[float, str, Severity], list[Protected]] = {}
    for line in fuse_lines(work):
        shared = [wire for wire in line.wires if wire.part.station != "branch"]
        if not shared:
            continue
        weakest = min(shared, key=lambda wire: wire.ampacity_a)
        if line.fuse.rating_a > limit("fuse-over-ampacity-most").share * weakest.ampacity_a:
            key = line.fuse.rating_a, str(weakest.part.size), _severity(line.fuse, weakest)
            groups.setdefault(key, []).append((line, weakest))
    for (_, _, severity), alike in groups.items():
        yield _finding(severity, alike)


def _severity(fuse: FuseAnswer, weakest: ConductorAnswer) -> Severity:
    far_over = fuse.rating_a > limit("fuse-far-over").share * alone_a(weakest)
    return Severity.MUST if far_over else Severity.SHOULD


def _finding(severity: Severity, alike: list[Protected]) -> Finding:
    bound = limit("fuse-over-ampacity-most")
    line, weakest = min(alike, key=lambda each: each[1].ampacity_a)
    fuse = line.fuse
    share = fuse.rating_a / weakest.ampacity_a
    names = capital(circuits(each.fuse.function for each, _ in alike))
    return Finding(
        rule=CODE,
        severity=severity,
        where=fuse.place,
        says=f"{names}: a {show_current(fuse.rating_a)} fuse is {show_share(share)} of what "
        f"{weakest.part.size} carries in its bundle ({show_current(weakest.ampacity_a)}); the "
        f"weakest wire is the {weakest.part.place}.",
        why="A fault that is no dead short can heat the wire for hours without opening the fuse.",
        fix=_mend(line, weakest),
        source=bound.source,
        value=fuse.rating_a,
        limit=bound.share * weakest.ampacity_a,
        unit="A",
        station="fuse",
        standing=bound.standing,
    )


def _mend(line: FuseLine, weakest: ConductorAnswer) -> str:
    fuse = line.fuse
    load_a = max(abs(wire.current_a) for wire in line.wires) / CONTINUOUS_SHARE_MOST
    made = [each for each in ratings(fuse.kind) if load_a <= each <= weakest.ampacity_a]
    if made:
        return f"Fit a {show_current(made[-1])} fuse."
    inline = [each for each in ratings("medium") if each <= weakest.ampacity_a]
    thicker = _thicker(fuse, weakest)
    if not inline:
        return f"{thicker}."
    return f"{thicker}, or put a {show_current(inline[-1])} fuse where the thin wire begins."


def _thicker(fuse: FuseAnswer, weakest: ConductorAnswer) -> str:
    part = weakest.part
    if part.size is None:
        return "Run thicker wire"
    kept = min(weakest.ampacity_a / alone_a(weakest), 1.0)
    wanted = size_carrying(part.size, fuse.rating_a, part.insulation, kept)
    return f"Run {wanted} as {part.place}" if wanted is not None else "Run thicker wire"


RULE = Rule(CODE, "Fuse larger than the wire behind it", SOURCE, fuses_larger_than_the_wire)
