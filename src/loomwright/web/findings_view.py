"""What the findings' screen shows: each finding with its place, its numbers and its mend."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from loomwright.changes.change import Change
from loomwright.changes.mends import mend_for
from loomwright.checks.finding_keys import finding_key
from loomwright.checks.located import locate
from loomwright.checks.rule import Finding, Severity, Work
from loomwright.checks.words import command_title
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import show_current, show_power, show_voltage
from loomwright.rig.job import Job
from loomwright.web.part_origins import cites

SHOWN = {"V": show_voltage, "A": show_current, "W": show_power}


@dataclass(frozen=True, slots=True)
class FindingView:
    """One finding: its name in addresses, where it leads, and what a plain change would do."""

    finding: Finding
    key: str
    place: str
    value: str
    limit: str
    when: str
    cites: tuple[str, ...]
    change: Change | None


@dataclass(frozen=True, slots=True)
class Grade:
    """The findings of one severity."""

    severity: Severity
    findings: tuple[FindingView, ...]


def graded(work: Work, findings: tuple[Finding, ...], job: Job, base: str) -> tuple[Grade, ...]:
    """Return the findings by severity, the gravest first.

    Parameters
    ----------
    work : Work
        The solved rig.
    findings : tuple of Finding
        What was found on it.
    job : Job
        The job it was read from.
    base : str
        Address of the run's screen.
    """
    parts = wire_up(work.rig).parts
    views = []
    for one in findings:
        element = locate(one, parts).element
        at = urlencode({"do": one.command}) if one.command in work.answers.commands else ""
        place = f"{base}/{element}?{at}" if element else f"{base}?{at}"
        views.append(_view(one, place.rstrip("?"), mend_for(one, work, job)))
    return tuple(
        Grade(level, tuple(each for each in views if each.finding.severity is level))
        for level in Severity
        if any(each.finding.severity is level for each in views)
    )


def _view(one: Finding, place: str, change: Change | None) -> FindingView:
    return FindingView(
        finding=one,
        key=finding_key(one),
        place=place,
        value=_number(one.value, one.unit),
        limit=_number(one.limit, one.unit),
        when=command_title(one.command) if one.command else "",
        cites=cites(one.source),
        change=change,
    )


def _number(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    show = SHOWN.get(unit)
    return f"{value:.3g}\u00a0{unit}".strip() if show is None else show(value)
