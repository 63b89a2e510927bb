"""The run across a page: battery to last lamp, with the numbers of the heaviest command."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.checks.rule import Finding, Work
from loomwright.drawing.run import run_drawing
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import command_title

TELLING = ("all", "park+brake_pedal", "brake_pedal", "park")
"""Commands by how much they tell, the heaviest first."""


def run_page(work: Work, findings: Sequence[Finding]) -> Content:
    """Return the drawing of the run under the most telling command, findings marked on it."""
    key = next((key for key in TELLING if key in work.answers.commands), work.answers.commands[0])
    title = command_title(key)
    marks = [
        (finding.station, "", finding.rule, finding.severity.value)
        for finding in findings
        if finding.station and finding.severity.to_mend
    ]
    return {
        "svg": run_drawing(work.rig, work.answers.at(key), marks, title),
        "alt": f"The run of {work.rig.name} from the battery to the last lamp: {title}, "
        f"engine running, {len(marks)} findings marked",
        "command": title,
    }
