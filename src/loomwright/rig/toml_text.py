"""TOML text to plain values, or one clear problem with its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from loomwright.invalid import InvalidInput, raise_all

AT_LINE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
BYTE_ORDER_MARK = "\ufeff"
NAMELESS = "job file"
LONGEST_SHOWN = 80
MOST_KEPT = 16
"""Texts whose values are kept: one is read to change it, to judge the change, and to use it."""

MENDS = (
    (r"Illegal character '\\n'|Unterminated string", 'close the text with a second " here'),
    ("Expected '=' after a key", 'write it as key = value, such as length = "19 ft"'),
    (
        "Cannot overwrite a value",
        "keep one of the two entries of this name, and take out the other",
    ),
    (
        "Cannot declare .* twice|Cannot overwrite|Cannot mutate",
        "keep one table of this name; a list of tables has [[ ]] around it",
    ),
    ("Expected newline", 'put text in quotes, such as "19 ft", and one entry on a line'),
    (
        "Expected '\\]+' at the end of a table",
        "close the name of the table with as many ] as it has [",
    ),
    ("Unclosed array", "close the list with ]"),
    ("Unclosed inline table", "close the table with }"),
    ("Unescaped '\\\\'", "write the backslash twice"),
    ("Invalid value", 'write a value here; text stands in quotes, such as "19 ft"'),
)
"""What the reader of TOML says, as a pattern, and what a person does about it."""


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


def toml_values(text: str, file: str = "") -> Mapping[str, Any]:
    """Return the tables of a TOML text to look at, not to change: whoever asks next gets the same.

    Raises
    ------
    ExceptionGroup
        As from `read_toml`.
    """
    return _kept_values(text, file)


@lru_cache(maxsize=MOST_KEPT)
def _kept_values(text: str, file: str) -> Mapping[str, Any]:
    return read_toml(text, file)


def _problem(text: str, file: str, said: str) -> InvalidInput:
    rows = text.split("\n")
    found = AT_LINE.search(said)
    line = min(int(found["line"]) if found and found["line"] else len(rows), len(rows))
    reason = said[: found.start()] if found else said
    shown = rows[line - 1].strip()[:LONGEST_SHOWN]
    return InvalidInput(f"line {line}", shown, _fix(reason), file=file or None, line=line)


def _fix(reason: str) -> str:
    """Return what to do about what the reader of TOML said."""
    known = next((do for pattern, do in MENDS if re.search(pattern, reason)), "")
    if known:
        return f"{known} (it is not TOML as it stands)"
    return f"mend this line, it is not TOML: {reason[:1].lower()}{reason[1:LONGEST_SHOWN]}"
