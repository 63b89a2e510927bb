"""What differs between two texts, line by line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

AROUND = 3
"""Unchanged lines shown before and after a change."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a difference: `sign` is "−" taken out, "+" written, "" the same, "…" left out."""

    sign: str
    number: int | None
    text: str


def difference(before: str, after: str) -> Iterator[Row]:
    """Yield the lines that differ between two texts, with a few around them."""
    old, new = before.splitlines(), after.splitlines()
    groups = SequenceMatcher(a=old, b=new, autojunk=False).get_grouped_opcodes(AROUND)
    for place, group in enumerate(groups):
        if place:
            yield Row("…", None, "")
        for kind, first, last, start, end in group:
            if kind == "equal":
                yield from _rows("", new, start, end)
            else:
                yield from _rows("−", old, first, last)
                yield from _rows("+", new, start, end)


def _rows(sign: str, lines: Sequence[str], first: int, last: int) -> Iterator[Row]:
    for place in range(first, last):
        yield Row(sign, place + 1, lines[place])
