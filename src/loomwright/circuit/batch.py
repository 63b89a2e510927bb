"""Cases by the thousand as plain arrays: which base each starts from, and what it changes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int32]
Columns = NDArray[np.int64]
"""Numbers of some cases."""


@lru_cache(maxsize=16)
def numbered(count: int) -> Columns:
    """Return 0, 1, 2 ... in an array that is shared; nobody writes to it."""
    return np.arange(count)


@dataclass(frozen=True, slots=True)
class Cases:
    """Cases of one network, each a base case with some numbers changed.

    The numbers of a case are those of its base; then what is given for all cases in some rows;
    then its edits, the last of a row winning.

    Attributes
    ----------
    base : int array, shape (case,)
        Number of the base case.
    near : int array, shape (case, 3)
        Known solutions i, j, k the case is near to: it starts from v_i v_j / v_k, or where
        there is hardly a v_k from v_i + v_j - v_k.
    edit_rows : int array, shape (case, edit)
        Rows that change, -1 for none.
    edits : float array, shape (case, edit)
        Their numbers.
    given_rows : int array, shape (given,)
        Rows that are given for every case.
    given : float array, shape (given, case)
        Their numbers.
    """

    base: Whole
    near: Whole
    edit_rows: Whole
    edits: Floats
    given_rows: Whole
    given: Floats

    def __len__(self) -> int:
        return len(self.base)

    def take(self, which: NDArray[np.intp] | slice) -> Cases:
        """Some of the cases, in the order of `which`."""
        return replace(
            self,
            base=self.base[which],
            near=self.near[which],
            edit_rows=self.edit_rows[which],
            edits=self.edits[which],
            given=self.given[:, which],
        )

    def edited(self, rows: Whole, numbers: Floats) -> Cases:
        """Return the cases with more edits, each of shape (case, more)."""
        return replace(
            self,
            edit_rows=np.concatenate([self.edit_rows, rows], axis=1, dtype=np.int32),
            edits=np.concatenate([self.edits, numbers], axis=1),
        )

    def values(self, base_values: Floats) -> Floats:
        """Every number of every case, shape (row, case), from those of the bases (row, base)."""
        if len(self.base) and (self.base == self.base[0]).all():
            values = np.empty((len(base_values), len(self)))
            values[:] = base_values[:, self.base[0], None]
        else:
            values = base_values[:, self.base]
        values[self.given_rows] = self.given
        for rows, numbers in zip(self.edit_rows.T, self.edits.T, strict=True):
            at = np.flatnonzero(rows >= 0)
            values[rows[at], at] = numbers[at]
        return values

    def rows_of(self, which: NDArray[np.intp], rows: Whole, base_values: Floats) -> Floats:
        """Numbers of some rows in some cases, shape (one of `rows`, one of `which`).

        Parameters
        ----------
        which : int array
            The cases.
        rows : int array
            The rows.
        base_values : float array, shape (one of `rows`, base)
            What stands there in the bases.
        """
        values = base_values[:, self.base[which]]
        if not len(rows) or not (len(self.given_rows) or self.edit_rows.shape[1]):
            return values
        most = max(table.max(initial=0) for table in (rows, self.given_rows, self.edit_rows))
        place = np.full(most + 2, -1)  # one more for -1, which is no edit
        place[rows] = numbered(len(rows))
        for n, row in enumerate(self.given_rows):
            if place[row] >= 0:
                values[place[row]] = self.given[n, which]
        edit_rows, edits = self.edit_rows[which], self.edits[which]
        for edited, numbers in zip(edit_rows.T, edits.T, strict=True):
            to = place[edited]
            at = np.flatnonzero(to >= 0)
            values[to[at], at] = numbers[at]
        return values


def base_cases(base: NDArray[np.integer], near: NDArray[np.integer] | None = None) -> Cases:
    """Cases that change nothing."""
    count = len(base)
    if near is None:
        near = np.repeat(base[:, None], 3, axis=1)
    return Cases(
        np.asarray(base, dtype=np.int32),
        np.asarray(near, dtype=np.int32),
        np.empty((count, 0), dtype=np.int32),
        np.empty((count, 0)),
        np.empty(0, dtype=np.int32),
        np.empty((0, count)),
    )
