"""LAWS03: a reminder of reflectors, which no wire shows."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.law import is_reflector, kind_words, needs
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import listed, plural

CODE = "LAWS03"
SOURCE = "fmvss-108-table"


def reflectors_to_look_for(work: Work) -> Iterator[Finding]:
    """Remind once of the reflectors and markings the law asks for on this trailer.

    A rig describes wires, so reflectors cannot be counted here.
    """
    wanted: dict[str, int] = {}
    sources: dict[str, str] = {}
    for law, need in needs(work.rig, "lamp", "reflector"):
        if is_reflector(need.kind) and need.min_count:
            wanted[need.kind] = max(wanted.get(need.kind, 0), need.min_count)
            sources.update(dict.fromkeys(law.row.source.split("; "), law.row.standing))
    if not wanted:
        return
    said = [plural(count, kind_words(kind)) for kind, count in wanted.items()]
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE,
        where="trailer, outside",
        says=f"Not checked here, asked for on this trailer: {listed(said, most=8)}.",
        why="Reflectors show a parked trailer when every lamp is off.",
        fix="Look for them while walking round, clean them, and replace what is missing.",
        source="; ".join(sources),
        station="load",
        standing="memory" if "memory" in sources.values() else "found",
    )


RULE = Rule(CODE, "Reflectors to look for", SOURCE, reflectors_to_look_for)
