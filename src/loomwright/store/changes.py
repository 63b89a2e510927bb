"""What changed between two texts of a job file, in words."""

from __future__ import annotations

import tomllib
from collections import Counter
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
    old, new = _values(before), _values(after)
    if old is None or new is None:
        return _lines_in_words(before, after)
    said = list(_said(old, new))
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


def _values(text: str) -> dict[Place, Any] | None:
    """Return every single value of a file with its place; None if it is no TOML."""
    try:
        return dict(_leaves((), tomllib.loads(without_mark(text))))
    except (tomllib.TOMLDecodeError, RecursionError):
        return None


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
    said = f'"{value}"' if isinstance(value, str) else _listed(value)
    return _short(" ".join(said.split()))


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
