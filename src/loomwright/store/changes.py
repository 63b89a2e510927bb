"""What changed between two texts of a job file, in words."""

from __future__ import annotations

import tomllib
from collections import Counter, deque
from collections.abc import Iterator, Mapping
from difflib import SequenceMatcher
from typing import Any

from loomwright.rig.places import Place, path_text
from loomwright.rig.toml_text import without_mark

MOST_TOLD = 3
LONGEST_VALUE = 40


def change_in_words(before: str, after: str) -> str:
    """Return what changed, place by place, the first few of many.

    Where one of the texts is no TOML, only the lines are counted.
    """
    old, new = _tables(before), _tables(after)
    if old is None or new is None:
        return _lines_in_words(before, after)
    said = list(_moves((), old, new))
    said += _said(dict(_leaves((), old)), dict(_leaves((), new)))
    if not said:
        return "comments or layout"
    rest = len(said) - MOST_TOLD
    told = "; ".join(said[:MOST_TOLD])
    return f"{told}; and {rest} more" if rest > 0 else told


def _said(old: Mapping[Place, Any], new: Mapping[Place, Any]) -> Iterator[str]:
    for place in [*old, *(place for place in new if place not in old)]:
        name = path_text(place)
        if place not in new:
            yield f"{name} taken out (was {_shown(old[place])})"
        elif place not in old:
            yield f"{name} = {_shown(new[place])} added"
        elif old[place] != new[place] or type(old[place]) is not type(new[place]):
            yield f"{name} {_moved(old[place], new[place])}"


def _moved(old: Any, new: Any) -> str:
    """Return how a value changed; of a list of words, only what came and went."""
    if _is_words(old) and _is_words(new):
        come, gone = Counter(new) - Counter(old), Counter(old) - Counter(new)
        parts = [("with", come), ("without", gone)]
        if told := [f"{word} {', '.join(each.elements())}" for word, each in parts if each]:
            return _short(" and ".join(told))
    return f"from {_shown(old)} to {_shown(new)}"


def _is_words(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(each, str) for each in value)


def _tables(text: str) -> dict[str, Any] | None:
    """Return what stands in a file; None if it is no TOML, or too deep to walk through."""
    try:
        found = tomllib.loads(without_mark(text))
        deque(_leaves((), found), maxlen=0)
    except (tomllib.TOMLDecodeError, RecursionError):
        return None
    return found


def _moves(place: Place, old: Any, new: Any) -> Iterator[str]:
    """Tell which entry of a list moved, and put the old list into the new order.

    What is left to tell are the values that changed as well.
    """
    if isinstance(old, dict) and isinstance(new, dict):
        for key in (key for key in old if key in new):
            yield from _moves((*place, key), old[key], new[key])
    elif _is_tables(old) and _is_tables(new):
        move = _one_move(old, new)
        if move is not None:
            at, to = move
            old.insert(to, old.pop(at))
            yield f"{path_text((*place, at))} moved to {path_text((*place, to))}"
        for number, (one, other) in enumerate(zip(old, new, strict=False)):
            yield from _moves((*place, number), one, other)


def _one_move(old: list[Any], new: list[Any]) -> tuple[int, int] | None:
    """Return from where to where one entry went, if that makes one list of the other."""
    if len(old) != len(new) or old == new:
        return None
    differ = [number for number, one in enumerate(old) if one != new[number]]
    first, last = differ[0], differ[-1]
    for at, to in ((first, last), (last, first)):
        tried = [*old]
        tried.insert(to, tried.pop(at))
        if tried == new:
            return at, to
    return None


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(each, dict) for each in value)


def _leaves(place: Place, value: Any) -> Iterator[tuple[Place, Any]]:
    if isinstance(value, dict) and value:
        for key, inner in value.items():
            yield from _leaves((*place, key), inner)
    elif isinstance(value, list) and any(isinstance(inner, dict) for inner in value):
        for number, inner in enumerate(value):
            yield from _leaves((*place, number), inner)
    elif place:
        yield place, value


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    said = _short(" ".join((value if isinstance(value, str) else _listed(value)).split()))
    return f'"{said}"' if isinstance(value, str) else said


def _short(said: str) -> str:
    return said if len(said) <= LONGEST_VALUE else said[: LONGEST_VALUE - 1] + "…"


def _listed(value: Any) -> str:
    """Return a value without quotes, a list with its brackets."""
    return f"[{', '.join(map(_listed, value))}]" if isinstance(value, list) else str(value)


def _lines_in_words(before: str, after: str) -> str:
    old, new = before.splitlines(), after.splitlines()
    blocks = SequenceMatcher(a=old, b=new, autojunk=False).get_opcodes()
    moved = [block for block in blocks if block[0] != "equal"]
    gone = sum(block[2] - block[1] for block in moved)
    come = sum(block[4] - block[3] for block in moved)
    if not moved:
        return "comments or layout"
    return f"{_lines(come)} written, {_lines(gone)} taken out"


def _lines(count: int) -> str:
    return f"{count} line" + ("" if count == 1 else "s")
