"""What can hurt, by stage and kind of work."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

Stage = Literal["before", "during", "after"]
STAGES = ("before", "during", "after")
ANY_TASK = "any"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution; `task` is the kind of work it belongs to, or ``any``."""

    key: str
    stage: Stage
    task: str
    says: str
    note: str | None
    source: str
    standing: Standing


def cautions(stage: str | None = None, task: str | None = None) -> tuple[Caution, ...]:
    """Return the cautions of a stage and of a kind of work.

    Parameters
    ----------
    stage : "before", "during" or "after", optional
        Every stage if not given.
    task : str, optional
        Kind of work, such as ``drilling`` or ``battery``; the cautions for any work are
        included. Every kind if not given.

    Raises
    ------
    InvalidInput
        If the stage or the kind of work is not known.
    """
    rows = read_rows(PACKAGE, "cautions", Caution)
    if stage is not None and stage not in STAGES:
        raise InvalidInput("stage", stage, nearest_known(stage, STAGES))
    tasks = caution_tasks()
    if task is not None and task not in tasks:
        raise InvalidInput("task", task, nearest_known(task, tasks))
    return tuple(row for row in rows if stage in (None, row.stage) and _belongs(row.task, task))


def caution_tasks() -> tuple[str, ...]:
    """Kinds of work that cautions are sorted by."""
    return tuple(dict.fromkeys(row.task for row in read_rows(PACKAGE, "cautions", Caution)))


def _belongs(of_caution: str, asked: str | None) -> bool:
    return asked is None or of_caution in (ANY_TASK, asked)
