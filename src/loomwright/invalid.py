"""Unusable input, told so that a person can mend it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence


class InvalidInput(ValueError):
    """One value that cannot be used: the field, what stood there, and what to do.

    Parameters
    ----------
    field : str
        Path of the field as the user wrote it, e.g. ``trailer.loads[2].lamp``.
    value : object
        What stood there.
    fix : str
        What to enter instead, as an instruction.
    file : str, optional
        Name of the file the value stands in.
    line : int, optional
        Line of that file, counted from 1.
    """

    def __init__(
        self,
        field: str,
        value: object,
        fix: str,
        *,
        file: str | None = None,
        line: int | None = None,
    ) -> None:
        super().__init__(field, value, fix)
        self.field = field
        self.value = value
        self.fix = fix
        self.file = file
        self.line = line

    def __str__(self) -> str:
        """Return ``file:line: field is value: fix`` with the parts that are known."""
        place = ":".join(str(part) for part in (self.file, self.line) if part is not None)
        said = f"{self.field} is {self.value!r}: {self.fix}"
        return f"{place}: {said}" if place else said

    def at(self, field: str, *, file: str | None = None, line: int | None = None) -> InvalidInput:
        """Return the same complaint with its place in a larger document."""
        moved = self.__class__.__new__(self.__class__)
        moved.__dict__.update(self.__dict__)
        ValueError.__init__(moved, field, self.value, self.fix)
        moved.field, moved.file, moved.line = field, file, line
        return moved


def raise_all(problems: Sequence[InvalidInput], what: str) -> None:
    """Raise every problem at once, if there is any.

    Raises
    ------
    ExceptionGroup
        Holding each `InvalidInput`; its message names `what`.
    """
    if problems:
        count = f"{len(problems)} value" + ("" if len(problems) == 1 else "s")
        raise ExceptionGroup(f"{what}: {count} to mend", list(problems))


def complaints_in(problem: InvalidInput | ExceptionGroup) -> tuple[InvalidInput, ...]:
    """Return every `InvalidInput` of a problem, in the order of the lines they stand on.

    Raises
    ------
    ExceptionGroup
        The group itself, if it holds anything else: that is a bug, not bad input.
    """
    if isinstance(problem, InvalidInput):
        return (problem,)
    ours, other = problem.split(InvalidInput)
    if other is not None or ours is None:
        raise problem
    return tuple(sorted(_leaves(ours), key=lambda one: (one.file or "", one.line or 0)))


def _leaves(group: ExceptionGroup) -> Iterator[InvalidInput]:
    for each in group.exceptions:
        if isinstance(each, ExceptionGroup):
            yield from _leaves(each)
        elif isinstance(each, InvalidInput):
            yield each
