"""Telling how far a run has come, and stopping it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

Progress: TypeAlias = Callable[[int, int], None]
"""Told how many of how many cases are done."""

Stop: TypeAlias = Callable[[], bool]
"""Asked now and then whether to stop."""


class Cancelled(Exception):
    """The person stopped a run before its end; nothing of it is left behind."""


@dataclass(slots=True)
class Count:
    """Counts the cases of a run as they are done.

    Raises
    ------
    Cancelled
        When told of progress, if the run is to stop.
    """

    total: int
    progress: Progress | None = None
    cancelled: Stop | None = None
    done: int = 0

    def __call__(self, more: int) -> None:
        """Take note of more cases done."""
        if self.cancelled is not None and self.cancelled():
            raise Cancelled(f"stopped after {self.done} of {self.total} cases")
        self.done += more
        if self.progress is not None and more:
            self.progress(self.done, self.total)
