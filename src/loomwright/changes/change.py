"""A change to a job file: values to write, and what that means on the rig."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loomwright.rig.edit import Value, write_value


@dataclass(frozen=True, slots=True)
class Edit:
    """One value of a job file to write; None takes the entry out."""

    path: str
    value: Value | None


@dataclass(frozen=True, slots=True)
class Change:
    """A plain change of the rig.

    Parameters
    ----------
    says : str
        What to do on the rig, as an instruction.
    edits : tuple of Edit
        What then stands in the job file.
    """

    says: str
    edits: tuple[Edit, ...]


def changed(text: str, edits: Sequence[Edit]) -> str:
    """Return a job file with some values changed, comments and order kept.

    Raises
    ------
    InvalidInput
        If a path leads nowhere, or the change cannot be made without rewriting the file.
    ExceptionGroup
        Of `InvalidInput`, if the text is no TOML.
    """
    for edit in edits:
        text = write_value(text, edit.path, edit.value)
    return text
