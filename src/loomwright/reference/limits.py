"""Limits: every figure a finding compares a reading with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure and how a reading is tested against it.

    Shares are stored in percent, as documents print them; `share` gives them as 0 to 1.
    """

    key: str
    says: str
    test: Literal["at least", "at most", "exactly"]
    value: float
    unit: str
    note: str | None
    source: str
    standing: str

    @property
    def share(self) -> float:
        """The figure as a share, 0.85 for 85 %.

        Raises
        ------
        ValueError
            If the figure is no percentage.
        """
        if self.unit != "%":
            raise ValueError(f"limit {self.key} is in {self.unit}, not a share")
        return self.value / 100

    def is_met_by(self, reading: float) -> bool:
        """Tell whether a reading in the unit of this limit passes; NaN never does."""
        if self.test == "at least":
            return reading >= self.value
        if self.test == "at most":
            return reading <= self.value
        return reading == self.value


def limits() -> tuple[Limit, ...]:
    """Return every limit of the table."""
    return read_rows(PACKAGE, "limits", Limit)


def limit(key: str) -> Limit:
    """Return a limit by its key, such as ``lamp-share-of-design``.

    Raises
    ------
    InvalidInput
        If the table has no such limit; names those it has.
    """
    for row in limits():
        if row.key == key:
            return row
    raise InvalidInput("limit", key, f"use one of {', '.join(row.key for row in limits())}")
