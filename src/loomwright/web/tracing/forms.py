"""Reads what the trace screen sends: an answer, choices put together, a walk round, a phrase."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from loomwright.invalid import InvalidInput, raise_all
from loomwright.observations.observation import Observation, Quantity, from_plain, to_plain
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.web.tracing.places import place_of

MOST_AT_ONCE = 200


@dataclass(frozen=True, slots=True)
class Chosen:
    """What was put together from choices, as it was sent."""

    command: str = ""
    place: str = ""
    word: str = ""
    value: str = ""
    unit: str = ""


def value_of_observations(observations: Sequence[Observation]) -> str:
    """Return observations as one value of a form."""
    return json.dumps([to_plain(each) for each in observations], sort_keys=True)


def read_answer(given: str) -> tuple[Observation, ...]:
    """Return the observations of an answer that a button stands for.

    Parameters
    ----------
    given : str
        As `value_of_observations` makes it.

    Raises
    ------
    InvalidInput, ExceptionGroup
        If it cannot be used.
    """
    refused = InvalidInput("observation", given, "send it as it was given")
    try:
        found: Any = json.loads(given)
    except ValueError as unknown:
        raise refused from unknown
    plain = [found] if isinstance(found, dict) else found
    if not isinstance(plain, list) or not 0 < len(plain) <= MOST_AT_ONCE:
        raise refused
    if not all(isinstance(each, dict) for each in plain):
        raise refused
    return tuple(from_plain(each) for each in plain)


def read_said(said: str, rig: Rig) -> tuple[Observation, ...]:
    """Return what a phrase says.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every part that is not understood.
    """
    from loomwright.trace.phrases import read_phrase

    return read_phrase(said, rig)


def read_chosen(chosen: Chosen) -> Observation:
    """Return what was put together from choices.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for everything that is missing or cannot be read.
    """
    problems: list[InvalidInput] = []
    if not chosen.place:
        problems.append(InvalidInput("place", "", "choose where you looked"))
    elif chosen.word and chosen.word not in list(Word):
        problems.append(InvalidInput("word", chosen.word, "choose one of the words"))
    if not chosen.word and not chosen.value.strip():
        problems.append(InvalidInput("word", "", "choose what you saw, or type what you read"))
    number = math.nan
    if chosen.value.strip() and not chosen.word:
        number = _number(chosen.value, problems)
    raise_all(problems, "what was seen")
    at = place_of(chosen.place)
    if chosen.word:
        return Observation(chosen.command, at, Quantity.SEEN, word=Word(chosen.word))
    quantity = Quantity(chosen.unit) if chosen.unit in list(Quantity) else Quantity.VOLTS
    plugged = quantity is not Quantity.OHMS
    under = chosen.command if plugged else ""
    return Observation(under, at, quantity, value=number, tester="meter", plugged=plugged)


def read_round(
    command: str, places: Sequence[str], words: Sequence[str]
) -> tuple[Observation, ...]:
    """Return what every lamp did on one walk round; what was not looked at says nothing.

    Parameters
    ----------
    command : str
        Key of the command that was held.
    places, words : sequence of str
        Each place with its word, as values of a form; an empty word was not looked at.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if nothing was said, or something that is no word.
    """
    problems: list[InvalidInput] = []
    found: list[Observation] = []
    for place, word in zip(places, words, strict=False):
        if not word:
            continue
        try:
            found.append(read_chosen(Chosen(command, place, word)))
        except* InvalidInput as group:
            problems += [p for p in group.exceptions if isinstance(p, InvalidInput)]
    if not found and not problems:
        problems.append(InvalidInput("looked", "", "choose a word for one lamp at least"))
    raise_all(problems, "what was seen")
    return tuple(found)


def _number(said: str, problems: list[InvalidInput]) -> float:
    try:
        number = float(said.strip().replace(",", "."))
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        problems.append(InvalidInput("value", said, "type a number, such as 11.4"))
    return number
