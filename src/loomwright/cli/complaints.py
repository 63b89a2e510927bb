"""Unusable input, told field by field."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from loomwright.invalid import InvalidInput

LONGEST_VALUE = 200


def show_complaints(complaints: Sequence[InvalidInput]) -> None:
    """Print each field, what stands there, and the mend, on the error stream."""
    from loomwright.cli.paint import Page

    page = Page(to_errors=True)
    count = len(complaints)
    page.line(f"{count} value{'' if count == 1 else 's'} to mend:", "head")
    for complaint in complaints:
        place = ":".join(str(part) for part in (complaint.file, complaint.line) if part is not None)
        said = f"{complaint.field}{_shown(complaint.value)}"
        page.whole(f"{place}: {said}" if place else said)
        page.line(complaint.fix, indent=4)


def show_misuse(said: str) -> None:
    """Print what is wrong with a command line, on the error stream."""
    from loomwright.cli.paint import Page

    page = Page(to_errors=True)
    page.line(said)
    page.line("loomwright --help lists the commands; loomwright COMMAND --help what one takes.")


def _shown(value: object) -> str:
    if value is None:
        return ""
    if value == "":
        return " is empty"
    said = repr(value)
    return f" is {said}" if len(said) <= LONGEST_VALUE else f" is {said[:LONGEST_VALUE]}…"
