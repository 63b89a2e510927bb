"""Unusable input, told field by field."""

from __future__ import annotations

from collections.abc import Sequence

from rich.padding import Padding
from rich.text import Text

from loomwright.cli.paint import console
from loomwright.invalid import InvalidInput


def complaints_in(problem: InvalidInput | ExceptionGroup) -> list[InvalidInput]:
    """Return every `InvalidInput` of a problem, in order of line.

    Raises
    ------
    ExceptionGroup
        The group itself, if it holds anything else: that is a bug, not bad input.
    """
    if isinstance(problem, InvalidInput):
        return [problem]
    ours, other = problem.split(InvalidInput)
    if other is not None or ours is None:
        raise problem
    return sorted(_leaves(ours), key=lambda complaint: (complaint.file or "", complaint.line or 0))


def _leaves(group: ExceptionGroup) -> list[InvalidInput]:
    found: list[InvalidInput] = []
    for item in group.exceptions:
        if isinstance(item, ExceptionGroup):
            found.extend(_leaves(item))
        elif isinstance(item, InvalidInput):
            found.append(item)
    return found


def show_complaints(complaints: Sequence[InvalidInput]) -> None:
    """Print each field, what stands there, and the mend, on the error stream."""
    out = console(to_errors=True)
    count = len(complaints)
    out.print(Text(f"{count} value{'' if count == 1 else 's'} to mend:", style="head"))
    for complaint in complaints:
        parts = (complaint.file, complaint.line)
        place = ":".join(str(part) for part in parts if part is not None)
        head = Text.assemble((complaint.field, "place"), f" is {complaint.value!r}")
        out.print(Padding(Text(f"{place}: ") + head if place else head, (1, 0, 0, 0)))
        out.print(Padding(Text(complaint.fix), (0, 0, 0, 4)))
