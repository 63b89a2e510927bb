"""Solving a rig with a bar on a terminal that shows how far it is."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from loomwright import survey

if TYPE_CHECKING:
    from loomwright.checks.rule import Work
    from loomwright.rig.model import Rig

INK = {
    "bar.back": "dim",
    "bar.complete": "bold",
    "bar.finished": "bold",
    "bar.pulse": "dim",
    "progress.percentage": "default",
}
"""Weight alone: colour belongs to wires and lamps."""


def survey_with_bar(rig: Rig) -> Work:
    """Pair and solve a rig; a bar shows on a terminal and vanishes when done."""
    if not sys.stderr.isatty():
        return survey(rig)
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn
    from rich.theme import Theme

    ink = Console(stderr=True, theme=Theme(INK))
    columns = (TextColumn("{task.description}"), BarColumn(), TaskProgressColumn())
    with Progress(*columns, console=ink, transient=True) as bar:
        task = bar.add_task(f"Solving {rig.name}", total=1)
        return survey(rig, lambda done, total: bar.update(task, completed=done, total=total))
