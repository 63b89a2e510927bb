"""Findings on a terminal, gravest first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import groupby

from loomwright.checks.rule import Finding, Severity
from loomwright.cli.paint import Page
from loomwright.quantities import (
    Units,
    show_current,
    show_length,
    show_mass,
    show_power,
    show_voltage,
)

MARKS = {
    Severity.DANGER: " DANGER ",
    Severity.MUST: " MUST BE MENDED ",
    Severity.SHOULD: "[should be mended]",
    Severity.NOTE: "Notes",
}
STYLES = {
    Severity.DANGER: "danger",
    Severity.MUST: "must",
    Severity.SHOULD: "should",
    Severity.NOTE: "note",
}
SAYERS: dict[str, Callable[[float, Units], str]] = {
    "V": lambda value, _: show_voltage(value),
    "A": lambda value, _: show_current(value),
    "W": lambda value, _: show_power(value),
    "m": show_length,
    "kg": show_mass,
}


def summary(findings: Sequence[Finding]) -> str:
    """Return how many findings of each kind there are, in words."""
    if not findings:
        return "Nothing to mend."
    counts = Counter(finding.severity for finding in findings)
    said = [_counted(level, counts[level]) for level in Severity if counts[level]]
    nothing = "" if any(level.to_mend for level in counts) else "Nothing to mend; "
    return f"{nothing}{', '.join(said)}."


def show_findings(page: Page, findings: Sequence[Finding], units: Units) -> None:
    """Print the findings under a heading for each severity."""
    for severity, group in groupby(findings, key=lambda finding: finding.severity):
        page.line()
        heavy = severity in (Severity.DANGER, Severity.MUST)
        page.head(MARKS[severity], heavy=heavy, style=STYLES[severity])
        for number, finding in enumerate(group):
            if number:
                page.line()
            _show(page, finding, units)


def against(finding: Finding, units: Units) -> str:
    """Return the value and its limit in the user's units, or nothing where there is none."""
    if finding.value is None or finding.limit is None:
        return ""
    value, limit = (_amount(each, finding.unit, units) for each in (finding.value, finding.limit))
    return "" if value == limit else f"{value} against {limit}"


def _amount(value: float, unit: str, units: Units) -> str:
    say = SAYERS.get(unit)
    if say is not None:
        return say(value, units)
    return f"{value:.3g}\u00a0{unit}".rstrip("\u00a0")


def _show(page: Page, finding: Finding, units: Units) -> None:
    page.ends(finding.where, finding.rule, indent=2)
    page.line(finding.says, indent=2)
    if finding.severity.to_mend:
        page.line(finding.why, "quiet", indent=2)
    page.bullet("→", finding.fix, indent=2)
    basis = [against(finding, units), f"{finding.source} ({finding.standing})"]
    page.line(" · ".join(part for part in basis if part), "quiet", indent=4)


def _counted(level: Severity, count: int) -> str:
    if level in (Severity.DANGER, Severity.NOTE):
        return f"{count} {level.value}{'' if count == 1 else 's'}"
    return f"{count} {level.value}"
