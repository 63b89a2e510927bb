"""Two people's changes of one job file, put together where they touch different lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher

Hunk = tuple[int, int, list[str]]
"""Lines of the base from, up to but not with, and what stands there instead."""


def merged(base: str, yours: str, theirs: str) -> str | None:
    """Return the text with both changes, or None if they touch or meet in the same lines.

    Parameters
    ----------
    base : str
        What both started from.
    yours, theirs : str
        What each made of it.

    Notes
    -----
    Lines that stand side by side count as the same place: a person decides there. That both
    changes fit on paper does not make them right together, so nobody saves the result unseen.
    """
    lines = base.splitlines(keepends=True)
    mine = list(_hunks(lines, yours.splitlines(keepends=True)))
    other = [hunk for hunk in _hunks(lines, theirs.splitlines(keepends=True)) if hunk not in mine]
    if any(_meet(one, two) for one in mine for two in other):
        return None
    for start, end, instead in sorted([*mine, *other], key=lambda hunk: hunk[:2], reverse=True):
        lines[start:end] = instead
    return "".join(lines)


def _hunks(base: Sequence[str], changed: Sequence[str]) -> Iterator[Hunk]:
    for kind, start, end, first, last in SequenceMatcher(
        a=base, b=changed, autojunk=False
    ).get_opcodes():
        if kind != "equal":
            yield start, end, list(changed[first:last])


def _meet(one: Hunk, two: Hunk) -> bool:
    return one[0] <= two[1] and two[0] <= one[1]
