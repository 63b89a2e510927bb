"""Small wording for the templates: counts, times, and the verdict of a rig in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

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
        return f"today {clock}"
    if here.date() == today - timedelta(days=1):
        return f"yesterday {clock}"
    return f"{here.day}\u00a0{here:%b}\u00a0{here.year}"


def moment(at: datetime) -> str:
    """Return a time in full: ``24 Nov 2026, 14:05``."""
    here = at.astimezone()
    return f"{here.day}\u00a0{here:%b}\u00a0{here.year}, {here:%H:%M}"
