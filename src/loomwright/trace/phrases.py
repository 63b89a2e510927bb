"""Reads what a person types: "park+left: left rear dark, right rear normal".

A phrase names a command before a colon, then what was seen, place by place, parted by commas;
semicolons part commands. What needs no command stands by itself: "tail fuse blown", "works on
another vehicle", "worse in rain". Nothing is guessed: a part that is not understood is refused
with what could be said instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from loomwright.electrics.commands import Command, commands_for, find_command
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.invalid import InvalidInput, raise_all
from loomwright.observations.observation import Observation
from loomwright.rig.model import Rig
from loomwright.trace.phrase_reading import READ, reading_said
from loomwright.trace.phrase_seen import seen_said

NUMBER: Final = re.compile(r"\d\s*(mv|v|volts?|ma|a|amps?|[km]?ohms?|[km]?ω)$|\bover range$")
SAY: Final = "say it as in: park+left: left rear dark, right rear normal"


def read_phrase(text: str, rig: Rig) -> tuple[Observation, ...]:
    """Return what a person says was seen or measured, in any order.

    Parameters
    ----------
    text : str
        The phrase.
    rig : Rig
        The rig.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for every part that is not understood.
    """
    return read_seen(text, wire_up(rig), commands_for(rig))


def read_seen(text: str, wiring: Wiring, commands: Sequence[Command]) -> tuple[Observation, ...]:
    """Return what a person says was seen; a part that ends with a number and unit was measured.

    Parameters
    ----------
    text : str
        The phrase.
    wiring : Wiring
        The rig.
    commands : sequence of Command
        Commands this rig has.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for every part that is not understood.
    """
    found: list[Observation] = []
    problems: list[InvalidInput] = []
    for command, said in _parts(text, commands, problems):
        try:
            reader = reading_said if _is_reading(said) else seen_said
            found.append(reader(said, command, wiring))
        except InvalidInput as problem:
            problems.append(problem)
    if not found and not problems:
        problems.append(InvalidInput("seen", text, SAY))
    raise_all(problems, "what was seen")
    return tuple(found)


def read_reading(text: str, wiring: Wiring, commands: Sequence[Command]) -> tuple[Observation, ...]:
    """Return what a person says was measured.

    Parameters
    ----------
    text, wiring, commands
        As for `read_seen`.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for every part that is not understood.
    """
    found: list[Observation] = []
    problems: list[InvalidInput] = []
    for command, said in _parts(text, commands, problems):
        try:
            found.append(reading_said(said, command, wiring))
        except InvalidInput as problem:
            problems.append(problem)
    if not found and not problems:
        problems.append(InvalidInput("read", text, READ))
    raise_all(problems, "what was read")
    return tuple(found)


def _is_reading(said: str) -> bool:
    """Whether a part tells what a meter shows: "pin 2 13.4 V", "pin 2 open"."""
    low = said.rstrip(" .").casefold()
    return bool(NUMBER.search(low)) or (low.endswith(" open") and "fuse" not in low)


def _parts(
    text: str, commands: Sequence[Command], problems: list[InvalidInput]
) -> Iterator[tuple[str, str]]:
    """Yield command and saying; the command is empty where none is named."""
    for phrase in re.split(r"[;\n]", text):
        head, colon, rest = phrase.partition(":")
        command = ""
        if colon:
            try:
                command = find_command(head.strip(), commands).key
            except InvalidInput as problem:
                problems.append(problem)
                continue
        for said in re.split(r",(?!\s*axle)", rest if colon else head):
            if said.strip():
                yield command, said.strip()
