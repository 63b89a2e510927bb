"""Solving a rig with a bar on a terminal that shows how far it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn

from loomwright import survey
from loomwright.cli.paint import console

if TYPE_CHECKING:
    from loomwright.checks.rule import Work
    from loomwright.rig.model import Rig


def survey_with_bar(rig: Rig) -> Work:
    """Pair and solve a rig; a bar shows on a terminal and vanishes when done."""
    out = console(to_errors=True)
    columns = (TextColumn("{task.description}"), BarColumn(), TaskProgressColumn())
    with Progress(*columns, console=out, transient=True, disable=not out.is_terminal) as bar:
        task = bar.add_task(f"Solving {rig.name}", total=None)

        def show(done: int, total: int) -> None:
            bar.update(task, completed=done, total=total)

        return survey(rig, show)
