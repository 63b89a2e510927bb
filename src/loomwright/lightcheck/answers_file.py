"""What was seen in a light check, as the text of a file: read with every fault told at once."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from loomwright.invalid import InvalidInput, raise_all
from loomwright.observations.observation import Observation, from_plain, to_plain

FORMAT: Final = "loomwright/observations"
VERSION: Final = 1
FIELDS: Final = ("format", "version", "rig", "observations", "usual")


@dataclass(frozen=True, slots=True)
class Noted:
    """What a file of observations holds.

    Attributes
    ----------
    rig : str
        Name of the rig, if it was told.
    observations : tuple of Observation
        What was seen and read.
    usual : tuple of Observation
        What is normal for this vehicle.
    """

    rig: str = ""
    observations: tuple[Observation, ...] = ()
    usual: tuple[Observation, ...] = ()


def write_noted(noted: Noted) -> str:
    """Return what was noted as the text of a file."""
    held = {
        "format": FORMAT,
        "version": VERSION,
        "rig": noted.rig,
        "observations": [to_plain(each) for each in noted.observations],
        "usual": [to_plain(each) for each in noted.usual],
    }
    return json.dumps(held, indent=1, ensure_ascii=False) + "\n"


def read_noted(text: str, file: str = "answers") -> Noted:
    """Return what a file of observations holds.

    Parameters
    ----------
    text : str
        The text: an object as `write_noted` makes it, or a bare list of observations.
    file : str
        Its name, for messages.

    Raises
    ------
    InvalidInput
        If it is no JSON, or of another form.
    ExceptionGroup
        Of `InvalidInput`, one for every value that cannot be used.
    """
    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as problem:
        raise InvalidInput(file, _short(text), f"give JSON: {problem}") from None
    given = {"observations": found} if isinstance(found, list) else found
    if not isinstance(given, dict):
        raise InvalidInput(file, _short(text), "give an object with a list of observations")
    problems = [
        InvalidInput(key, given[key], "leave it out: there is no such field")
        for key in given
        if key not in FIELDS
    ]
    if given.get("format", FORMAT) != FORMAT:
        problems.append(InvalidInput("format", given["format"], f"give a file of {FORMAT}"))
    if given.get("version", VERSION) != VERSION:
        problems.append(InvalidInput("version", given["version"], f"only {VERSION} is known"))
    rig = given.get("rig", "")
    if not isinstance(rig, str):
        problems.append(InvalidInput("rig", rig, "give it as text"))
    lists = {key: _read(given.get(key, []), key, problems) for key in ("observations", "usual")}
    raise_all(problems, file)
    return Noted(str(rig), **lists)


def _read(given: object, field: str, problems: list[InvalidInput]) -> tuple[Observation, ...]:
    if not isinstance(given, list):
        problems.append(InvalidInput(field, given, "give a list"))
        return ()
    found = []
    for number, each in enumerate(given):
        name = f"{field}[{number}]"
        if not isinstance(each, dict):
            problems.append(InvalidInput(name, each, "give an object"))
            continue
        try:
            found.append(from_plain(each, name))
        except ExceptionGroup as several:
            problems += [one for one in several.exceptions if isinstance(one, InvalidInput)]
    return tuple(found)


def with_another(noted: Iterable[Observation], new: Observation) -> tuple[Observation, ...]:
    """Return observations with a new one in place of an older one of the same place."""

    def place(each: Observation) -> tuple[object, ...]:
        return each.command, each.place, each.tester, each.plugged

    kept = (each for each in noted if place(each) != place(new))
    return (*kept, new)


def _short(text: str) -> str:
    return text[:40]
