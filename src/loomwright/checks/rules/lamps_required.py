"""LAWS01: lamps that the law asks for are not on the trailer."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.law import count_of, is_reflector, kind_words, needs
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import listed, plural
from loomwright.reference.rules import Requirement
from loomwright.reference.rules import Rule as Law
from loomwright.rig.model import Rig

CODE = "LAWS01"
SOURCE = "fmvss-108-table"

MOST_NAMED = 12

Missing = tuple[Law, Requirement, int]


def lamps_missing(work: Work) -> Iterator[Finding]:
    """Flag the kinds of lamp of which the trailer has fewer than its law asks for.

    What the law asks follows from width, length, mass, kind and year of the trailer, and from
    the jurisdiction of the rig; what is only assumed of these counts as not known (LAWS04). Lamps
    count by what each is said to count as. All are told in one finding, each with its citation.
    """
    missing: dict[str, Missing] = {}
    for law, need in needs(work.rig, "lamp"):
        has = count_of(work.rig, need.kind)
        is_lamp = not is_reflector(need.kind) and not need.replaces
        short = need.min_count is not None and has < need.min_count
        if is_lamp and short and not _is_replaced(work.rig, need.kind):
            missing.setdefault(need.kind, (law, need, has))
    if missing:
        yield _finding(list(missing.values()))


def _is_replaced(rig: Rig, kind: str) -> bool:
    """Whether lamps of another kind stand in for this one, as the law allows."""
    return any(
        kind in need.replaces and count_of(rig, need.kind) >= (need.min_count or 1)
        for _, need in needs(rig, "lamp")
    )


def _finding(missing: list[Missing]) -> Finding:
    said = [f"{_wanted(need, has)} ({law.citation})" for law, need, has in missing]
    lacking = sum((need.min_count or 0) - has for _, need, has in missing)
    laws = [law for law, _, _ in missing]
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where="trailer lamps",
        says=f"Asked for and not on the rig: {listed(said, most=MOST_NAMED)}.",
        why=laws[0].statement
        if len(missing) == 1
        else "Without them the trailer is not lawful on the road.",
        fix=f"Fit {'it' if lacking == 1 else 'them'}, or add to the rig what is there. Where one "
        "housing serves for two, say in the rig what it counts as.",
        source="; ".join(dict.fromkeys(law.row.source for law in laws)),
        station="load",
        standing="memory" if any(law.row.standing == "memory" for law in laws) else "found",
    )


def _wanted(need: Requirement, has: int) -> str:
    coloured = " ".join(part for part in (" or ".join(need.colours), kind_words(need.kind)) if part)
    count = plural((need.min_count or 0) - has, coloured)
    return f"{count} more" if has else count


RULE = Rule(CODE, "Lamp missing that the law asks for", SOURCE, lamps_missing)
