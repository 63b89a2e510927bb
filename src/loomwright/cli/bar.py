"""A bar on a terminal for work that takes a while; it vanishes when the work is done."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TypeVar

T = TypeVar("T")

INK = {
    "bar.back": "dim",
    "bar.complete": "bold",
    "bar.finished": "bold",
    "bar.pulse": "dim",
    "progress.percentage": "default",
}
"""Weight alone: colour belongs to wires and lamps."""


def with_bar(says: str, work: Callable[[Callable[[int, int], None]], T]) -> T:
    """Do some work, which tells how many of how many parts are done."""
    if not sys.stderr.isatty():
        return work(_quiet)
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn
    from rich.theme import Theme

    ink = Console(stderr=True, theme=Theme(INK))
    columns = (TextColumn("{task.description}"), BarColumn(), TaskProgressColumn())
    with Progress(*columns, console=ink, transient=True) as bar:
        task = bar.add_task(says, total=1)
        return work(lambda done, total: bar.update(task, completed=done, total=total))


def _quiet(done: int, total: int) -> None:
    """Nobody is looking."""
