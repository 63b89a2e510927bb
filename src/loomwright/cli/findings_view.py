"""Findings, readings and assumptions on a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rich.console import Console, Group
from rich.padding import Padding
from rich.rule import Rule as Line
from rich.table import Table
from rich.text import Text

from loomwright.checks.rule import Finding, Severity, Work
from loomwright.cli.paint import console
from loomwright.electrics.answers import LoadAnswer
from loomwright.quantities import show_current, show_share, show_voltage
from loomwright.rig.model import Assumption

STYLES = {
    Severity.DANGER: "danger",
    Severity.MUST: "must",
    Severity.SHOULD: "should",
    Severity.NOTE: "note",
}


def show_check(work: Work, findings: Sequence[Finding], *, with_assumptions: bool) -> None:
    """Print one rig: its findings, then what each load gets with everything on."""
    out = console()
    out.print(Line(Text(work.rig.name, style="head"), align="left", characters="─"))
    out.print(Text(_summary(findings)))
    for finding in findings:
        out.print(_finding(finding))
    _show_readings(out, work)
    _show_assumptions(out, work.rig.assumptions, whole=with_assumptions)
    out.print()


def _summary(findings: Sequence[Finding]) -> str:
    if not findings:
        return "Nothing to mend."
    counts = Counter(finding.severity for finding in findings)
    said = [
        f"{counts[level]} {_plural(level, counts[level])}" for level in Severity if counts[level]
    ]
    return ", ".join(said) + "."


def _plural(level: Severity, count: int) -> str:
    if level in (Severity.DANGER, Severity.NOTE):
        return level.value if count == 1 else f"{level.value}s"
    return level.value


def _finding(finding: Finding) -> Padding:
    word = f" {finding.severity.value.upper()} "
    mark = f"[{word.strip()}]" if finding.severity is Severity.SHOULD else word
    if finding.severity is Severity.NOTE:
        mark = finding.severity.value
    head = Text.assemble(
        (mark, STYLES[finding.severity]), "  ", (finding.where, "place"), f"  {finding.rule}"
    )
    lines = [Text(finding.says), Text(finding.why, style="quiet"), Text(f"→ {finding.fix}")]
    lines.append(Text(_basis(finding), style="quiet"))
    return Padding(Group(head, Padding(Group(*lines), (0, 0, 0, 2))), (1, 0, 0, 0))


def _basis(finding: Finding) -> str:
    parts = []
    if finding.value is not None and finding.limit is not None:
        parts.append(f"{finding.value:.3g} against {finding.limit:.3g} {finding.unit}".strip())
    if finding.command:
        parts.append(f"command {finding.command}")
    parts.append(f"{finding.source} ({finding.standing})")
    return "; ".join(parts)


def _show_readings(out: Console, work: Work) -> None:
    key = "all" if "all" in work.answers.commands else work.answers.commands[-1]
    answer = work.answers.at(key)
    table = Table(box=None, pad_edge=False, title_justify="left", title_style="head")
    table.title = "What each load gets with everything on, engine running"
    table.add_column("load", ratio=1)
    for name in ("volts", "amps", "light", "lost out", "lost home"):
        table.add_column(name, justify="right", no_wrap=True)
    for load in answer.loads:
        if load.kind != "trigger":
            table.add_row(*_reading(load))
    out.print(Padding(table, (1, 0, 0, 0)))


def _reading(load: LoadAnswer) -> tuple[str, ...]:
    if load.floating:
        return (load.name, "floating", "", "", "", "")
    light = "" if load.light_share is None else f"{show_share(load.light_share)} {load.word}"
    return (
        load.name,
        show_voltage(load.voltage_v),
        show_current(load.current_a),
        light,
        show_voltage(load.supply_drop_v),
        show_voltage(load.return_drop_v),
    )


def _show_assumptions(out: Console, assumptions: Sequence[Assumption], *, whole: bool) -> None:
    if not assumptions:
        return
    if not whole:
        text = f"{len(assumptions)} values were assumed; --assumptions lists them with sources."
        out.print(Padding(Text(text, style="quiet"), (1, 0, 0, 0)))
        return
    table = Table(box=None, pad_edge=False, title_justify="left", title_style="head")
    table.title = "Assumed, because the job file does not say"
    for name in ("field", "value", "source"):
        table.add_column(name, overflow="fold")
    for row in assumptions:
        table.add_row(row.field, row.value, f"{row.source} ({row.standing})")
    out.print(Padding(table, (1, 0, 0, 0)))
