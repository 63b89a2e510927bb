"""Small wording for the templates: counts, times, and the verdict of a rig in words."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from markupsafe import Markup, escape

from loomwright import quantities
from loomwright.checks.rule import Finding, Severity

GRAVE = {
    Severity.DANGER: ("danger", "dangers"),
    Severity.MUST: ("must be mended", "must be mended"),
    Severity.SHOULD: ("should be mended", "should be mended"),
    Severity.NOTE: ("note", "notes"),
}
MARKS = {
    Severity.DANGER: "danger",
    Severity.MUST: "must",
    Severity.SHOULD: "should",
    Severity.NOTE: "note",
}
"""Class of a severity in the style sheet."""
STANDING_WORDS = {"found": "seen in the source", "memory": "from memory, not looked up"}
"""How well a value is founded, as a reader says it; what is missing is said as it is kept."""
NO_BREAK = "\u00a0"
COUNTED = re.compile(r"(?<![\w.,:/\u00a0-])(\d+) (?=[a-z])")
NUMBERED = re.compile(r"\b(axle|pin|pins|leg|wire|step|version|check) (?=\d)", re.IGNORECASE)
HYPHENED = re.compile(r"\b\d+-\w+")


@dataclass(frozen=True, slots=True)
class Verdict:
    """How a rig stands: the gravest word first, then the counts."""

    mark: str
    word: str
    counts: tuple[tuple[str, int, str], ...]


def verdict(findings: Sequence[Finding]) -> Verdict:
    """Return how a rig stands by its findings."""
    count = Counter(finding.severity for finding in findings)
    counts = tuple(
        (MARKS[level], count[level], GRAVE[level][count[level] != 1])
        for level in Severity
        if count[level]
    )
    gravest = min(count, key=lambda level: level.rank, default=Severity.NOTE)
    words = {
        Severity.DANGER: "Dangerous as it is",
        Severity.MUST: "Not ready",
        Severity.SHOULD: "Works, can be better",
        Severity.NOTE: "Nothing to mend",
    }
    return Verdict(MARKS[gravest], words[gravest], counts)


def counted(number: int, one: str, many: str = "") -> str:
    """Return a count with its word: ``1 rig``, ``3 rigs``."""
    return f"{number}\u00a0{one if number == 1 else many or one + 's'}"


def when(at: datetime, now: datetime) -> str:
    """Return a time as people say it: ``today 14:05``, ``yesterday 9:30``, ``24 Nov 2026``."""
    here, today = at.astimezone(), now.astimezone().date()
    clock = f"{here:%H:%M}"
    if here.date() == today:
        return f"today\u00a0{clock}"
    if here.date() == today - timedelta(days=1):
        return f"yesterday\u00a0{clock}"
    return f"{here.day}\u00a0{here:%b}\u00a0{here.year}"


def moment(at: datetime) -> str:
    """Return a time in full: ``24 Nov 2026, 14:05``."""
    here = at.astimezone()
    return f"{here.day}\u00a0{here:%b}\u00a0{here.year}, {here:%H:%M}"


def standing(key: str) -> str:
    """Return how well a value is founded: ``seen in the source``, ``common practice``."""
    return STANDING_WORDS.get(key, key)


def unbroken(text: str) -> Markup:
    """Return a text that never parts a number from what it counts or numbers.

    ``14 AWG``, ``9 minutes``, ``axle 2``, ``7-way`` and ``stop + turn`` stay on one line.
    """
    tied = quantities.unbroken(text)
    tied = NUMBERED.sub(rf"\1{NO_BREAK}", tied)
    tied = COUNTED.sub(rf"\1{NO_BREAK}", tied).replace(" + ", f"{NO_BREAK}+{NO_BREAK}")
    safe = str(escape(tied))
    return Markup(HYPHENED.sub(r'<span class="tied">\g<0></span>', safe))  # noqa: S704 (escaped)
