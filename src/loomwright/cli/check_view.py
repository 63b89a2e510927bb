"""One checked rig on a terminal: its findings, its readings, what was assumed."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.checks.rule import Finding, Work
from loomwright.cli.findings_view import show_findings, summary
from loomwright.cli.paint import Page
from loomwright.cli.readings_view import show_readings
from loomwright.rig.model import Assumption


def show_check(
    work: Work, findings: Sequence[Finding], named: str = "", *, with_assumptions: bool = False
) -> None:
    """Print one rig: what to put right, what each load gets, what was assumed.

    Parameters
    ----------
    work : Work
        The surveyed rig.
    findings : sequence of Finding
        As `check` gives them, gravest first.
    named : str
        Name of its file, where several are shown one after the other.
    with_assumptions : bool
        Whether to list every assumption, or only to count them.
    """
    page = Page()
    if named:
        page.line()
    page.head(work.rig.name)
    if named:
        page.line(named, "quiet")
    page.line(summary(findings))
    show_findings(page, findings, work.rig.units)
    show_readings(page, work)
    _show_assumptions(page, work.rig.assumptions, whole=with_assumptions)


def _show_assumptions(page: Page, assumptions: Sequence[Assumption], *, whole: bool) -> None:
    if not assumptions:
        return
    page.line()
    if not whole:
        count = len(assumptions)
        said = "1 value was" if count == 1 else f"{count} values were"
        page.line(f"{said} assumed; --assumptions lists them with sources.", "quiet")
        return
    page.head("Assumed, because the job file does not say")
    for row in assumptions:
        page.ends(row.field, row.value)
        page.line(f"{row.says} · {row.source} ({row.standing})", "quiet", indent=2)
