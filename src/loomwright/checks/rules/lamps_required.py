"""LAWS01: a lamp that the law asks for is not on the trailer."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.law import count_of, is_reflector, kind_words, needs
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import plural
from loomwright.reference.rules import Requirement
from loomwright.reference.rules import Rule as Law
from loomwright.rig.model import Rig

CODE = "LAWS01"
SOURCE = "fmvss-108-table"


def lamps_missing(work: Work) -> Iterator[Finding]:
    """Flag each kind of lamp of which the trailer has fewer than its law asks for.

    What the law asks follows from width, length, mass, kind and year of the trailer, and from
    the jurisdiction of the rig. Lamps count by what each is said to count as.
    """
    told: set[str] = set()
    for law, need in needs(work.rig, "lamp"):
        has = count_of(work.rig, need.kind)
        is_lamp = not is_reflector(need.kind) and not need.replaces
        short = need.min_count is not None and has < need.min_count
        if is_lamp and short and need.kind not in told and not _is_replaced(work.rig, need.kind):
            told.add(need.kind)
            yield _finding(law, need, has)


def _is_replaced(rig: Rig, kind: str) -> bool:
    """Whether lamps of another kind stand in for this one, as the law allows."""
    return any(
        kind in need.replaces and count_of(rig, need.kind) >= (need.min_count or 1)
        for _, need in needs(rig, "lamp")
    )


def _finding(law: Law, need: Requirement, has: int) -> Finding:
    wanted = need.min_count or 0
    word = kind_words(need.kind)
    coloured = " ".join(part for part in (" or ".join(need.colours), word) if part)
    lists = f"{plural(has, word)}" if has else f"no {word}"
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where="trailer lamps",
        says=f"The rig lists {lists}; {plural(wanted, coloured)} "
        f"{'is' if wanted == 1 else 'are'} asked for ({law.citation}).",
        why=law.statement,
        fix=f"Fit {plural(wanted - has, word)}, or add to the rig what is there.",
        source=law.row.source,
        value=float(has),
        limit=float(wanted),
        unit="lamps",
        station="load",
        standing=law.row.standing,
    )


RULE = Rule(CODE, "Lamp missing that the law asks for", SOURCE, lamps_missing)
