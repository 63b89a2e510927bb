"""The run across a page: battery to last lamp, with the numbers of the heaviest command."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.checks.rule import Finding, Severity, Work
from loomwright.drawing.run import FindingMark, run_drawing
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import command_title

TELLING = ("all", "park+brake_pedal", "brake_pedal", "park")
"""Commands by how much they tell, the heaviest first."""

MOST_MARKS = 10


def run_page(work: Work, findings: Sequence[Finding]) -> Content:
    """Return the drawing of the run under the most telling command, findings marked on it."""
    key = next((key for key in TELLING if key in work.answers.commands), work.answers.commands[0])
    title = command_title(key)
    marks, says = _marks(findings)
    return {
        "svg": run_drawing(work.rig, work.answers.at(key), marks, title),
        "alt": f"The run of {work.rig.name} from the battery to the last lamp: {title}, "
        f"engine running, {len(marks)} findings marked",
        "says": says,
    }


def _marks(findings: Sequence[Finding]) -> tuple[list[FindingMark], str]:
    """Return the marks of the drawing and what they are: the graver ones alone if they crowd."""
    mend = [each for each in findings if each.station and each.severity.to_mend]
    spots = {(each.station, each.rule) for each in mend}
    crowded = len(spots) > MOST_MARKS
    shown = [each for each in mend if not crowded or each.severity is not Severity.SHOULD]
    marks = [(each.station, "", each.rule, each.severity.value) for each in shown]
    which = "solid must be mended" if crowded else "solid must be mended, an outline should be"
    return (
        marks,
        f"Blocks on the drawing are findings by their code, in full in section 9: {which}.",
    )
