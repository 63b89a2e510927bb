"""TOML text to plain values, or one clear problem with its line."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from loomwright.invalid import InvalidInput, raise_all

AT_LINE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
BYTE_ORDER_MARK = "\ufeff"
NAMELESS = "job file"
LONGEST_SHOWN = 80


def without_mark(text: str) -> str:
    """Return the text without the mark some editors put before it."""
    return text.removeprefix(BYTE_ORDER_MARK)


def read_toml(text: str, file: str = "") -> dict[str, Any]:
    """Return the tables of a TOML text.

    Raises
    ------
    ExceptionGroup
        Of one `InvalidInput` with the line that cannot be read.
    """
    try:
        return tomllib.loads(text)
    except RecursionError:
        said = "lists and tables nest too deep"
    except ValueError as refused:
        said = str(refused)
    raise_all([_problem(text, file, said)], file or NAMELESS)
    raise AssertionError("a problem was not raised")


def _problem(text: str, file: str, said: str) -> InvalidInput:
    rows = text.split("\n")
    found = AT_LINE.search(said)
    line = min(int(found["line"]) if found and found["line"] else len(rows), len(rows))
    reason = said[: found.start()] if found else said
    fix = f"mend this line, it is not TOML: {reason[:1].lower()}{reason[1:LONGEST_SHOWN]}"
    shown = rows[line - 1].strip()[:LONGEST_SHOWN]
    return InvalidInput(file or NAMELESS, shown, fix, file=file or None, line=line)
