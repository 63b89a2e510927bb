"""Which version undoing and redoing lead to, in a line of versions that only grows."""

from __future__ import annotations

from collections.abc import Sequence


def undo_target(stands: Sequence[int]) -> int | None:
    """Return the version that stands before the newest change; None if it is the first.

    Parameters
    ----------
    stands : sequence of int
        For each version from the first on, the version whose text it brought back, or its own
        number.
    """
    place = stands[-1]
    return None if place == 1 else stands[place - 2]


def redo_target(stands: Sequence[int]) -> int | None:
    """Return the version that was undone last; None if nothing was since the last change.

    Parameters
    ----------
    stands : sequence of int
        As in `undo_target`.
    """
    place = stands[-1]
    for number in range(len(stands), 0, -1):
        there = stands[number - 1]
        if there == number:
            return None
        if there == place and there < stands[number - 2]:
            return stands[number - 2]
    return None
