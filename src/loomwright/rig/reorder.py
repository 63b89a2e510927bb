"""Moving an entry of a list within a job file, with its comments and everything below it."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from loomwright.invalid import InvalidInput
from loomwright.rig.lines import key_lines
from loomwright.rig.places import Place, read_path
from loomwright.rig.toml_text import read_toml, without_mark


def move_entry(text: str, path: str, to: int) -> str:
    """Return a job file with one entry of a list at another number; the others close up.

    Parameters
    ----------
    text : str
        What stands in the file.
    path : str
        The entry, such as ``socket[2]`` or ``socket[1].leg[3]``, counted from 1.
    to : int
        The number it has afterwards, counted from 1.

    Raises
    ------
    InvalidInput
        If the list has no such entry or number, or its entries do not stand in one piece each.
    ExceptionGroup
        Of `InvalidInput`, if the text is no TOML.

    Notes
    -----
    An entry moves as the lines it is written in: its header, what belongs to it, and the comment
    right above. What comes of the new order is not judged: read the text to learn that.
    """
    plain = without_mark(text)
    place = read_path(path)
    wanted = read_toml(plain)
    entries = _entries(wanted, place, path)
    at = int(place[-1])
    if not 1 <= to <= len(entries):
        raise InvalidInput("to", to, f"give a number from 1 to {len(entries)}")
    entries.insert(to - 1, entries.pop(at))
    moved = _moved(plain, place, to - 1, len(entries))
    if moved is None or read_toml(moved) != wanted:
        fix = "move this one in the file by hand: its lines stand apart, or share one with others"
        raise InvalidInput("path", path, fix)
    return moved


def _entries(data: dict[str, Any], place: Place, path: str) -> list[Any]:
    node: Any = data
    for step in place[:-1]:
        is_there = (
            step in node
            if isinstance(node, dict)
            else isinstance(node, list) and isinstance(step, int) and step < len(node)
        )
        node = node[step] if is_there else None
    last = place[-1]
    if not isinstance(node, list) or not isinstance(last, int) or last >= len(node):
        raise InvalidInput("path", path, "name an entry of a list that the file has")
    return node


def _moved(text: str, place: Place, to: int, count: int) -> str | None:
    """Return the text with the lines of an entry elsewhere; None if they are not in one piece."""
    listed, at = place[:-1], int(place[-1])
    lines = text.splitlines(keepends=True)
    if lines and not lines[-1].endswith("\n"):
        lines[-1] += "\n"
    starts = _starts(lines, listed, count, key_lines(text))
    if starts is None:
        return None
    blocks = [lines[start:end] for start, end in pairwise(starts)]
    gaps = [_take_gap(block) for block in blocks]
    blocks.insert(to, blocks.pop(at))
    body = [line for block, gap in zip(blocks, gaps, strict=True) for line in (*block, *gap)]
    return "".join([*lines[: starts[0]], *body, *lines[starts[-1] :]])


def _starts(
    lines: list[str], listed: Place, count: int, where: Mapping[Place, int]
) -> list[int] | None:
    """Return the first line of each entry, from 0, and the line after the last."""
    starts = [_above(lines, where[(*listed, number)] - 1) for number in range(count)]
    if sorted(set(starts)) != starts:
        return None
    rest = [
        _above(lines, line - 1)
        for place, line in where.items()
        if line - 1 > starts[-1] and place[: len(listed)] != listed
    ]
    return [*starts, min(rest, default=len(lines))]


def _above(lines: list[str], line: int) -> int:
    """Return the first of the comment lines right above a line, or the line itself."""
    while line > 0 and lines[line - 1].lstrip().startswith("#"):
        line -= 1
    return line


def _take_gap(block: list[str]) -> list[str]:
    """Take the empty lines off the end of a block and return them: they stay where they are."""
    gap: list[str] = []
    while len(block) > 1 and not block[-1].strip():
        gap.insert(0, block.pop())
    return gap
