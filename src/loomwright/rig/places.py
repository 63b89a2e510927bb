"""Places in a job file: a path such as ``trailer.lamp[2].lights.tail``, and its line.

Entries of a list are counted from 1, as a person counts. The line of each key is found by one
walk over the text, which `tomllib` has already found sound.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from loomwright.invalid import InvalidInput

Step = str | int
Place = tuple[Step, ...]

BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
PATH_STEP = re.compile(
    r"""(?:^|\.)(?:"(?P<quoted>(?:\\.|[^"\\])*)"|(?P<bare>[^.\[\]"]+))|\[(?P<number>[1-9]\d{0,6})\]""",
    re.DOTALL,
)
ESCAPED = re.compile(r"\\(.)", re.DOTALL)


def path_text(place: Sequence[Step]) -> str:
    """Return a place as a path: keys joined by dots, entries counted from 1."""
    said = ""
    for step in place:
        if isinstance(step, int):
            said += f"[{step + 1}]"
        else:
            said += f".{_said_key(step)}" if said else _said_key(step)
    return said


def read_path(path: str) -> Place:
    """Return the place a path means.

    Raises
    ------
    InvalidInput
        If it is no path.
    """
    steps: list[Step] = []
    at = 0
    while at < len(path) or not steps:
        found = PATH_STEP.match(path, at)
        if found is None or (at == 0 and found["number"]):
            raise InvalidInput("path", path, "give a path such as trailer.lamp[2].lights.tail")
        if found["number"]:
            steps.append(int(found["number"]) - 1)
        else:
            quoted = found["quoted"]
            steps.append(found["bare"] if quoted is None else ESCAPED.sub(r"\1", quoted))
        at = found.end()
    return tuple(steps)


def line_of(place: Sequence[Step], lines: Mapping[Place, int]) -> int | None:
    """Return the line of a place, or of the nearest place around it that the file has."""
    for end in range(len(place), 0, -1):
        if (line := lines.get(tuple(place[:end]))) is not None:
            return line
    return None


def _said_key(key: str) -> str:
    """Return a key as it stands in a path: in quotes if it has more than letters and digits."""
    if BARE_KEY.fullmatch(key):
        return key
    return '"' + key.replace("\\", "\\\\").replace('"', '\\"') + '"'
