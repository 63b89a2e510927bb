"""Read a file of diagnostic cases met in practice: schema ``trailer-diagnostic-cases/1``.

Reading is generous: an observation whose command, place or state is not known is left out and
reported, and so is a measurement that says nothing. Only a file that is no such file is refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from loomwright.invalid import InvalidInput, raise_all
from loomwright.trace.cases_measured import measured
from loomwright.trace.cases_words import Spot, read_command, read_spot, read_state

SCHEMA = "trailer-diagnostic-cases/1"

CONDUCTS = "brake_lever"
"""What resistance tells of a brake is what the lever would show: that it conducts, or not."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One observation of a case: under which command, where, in which word."""

    command: str
    spot: Spot
    word: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Case:
    """One case: what is known of the rig, what was seen, and what it was.

    `expected` are the catalogue keys that count as right, `accepted` those near neighbours that
    count as well. `place`, `form` and `circuit` are of the true cause. `skipped` says what could
    not be read.
    """

    key: str
    title: str
    detail: str
    rig: Mapping[str, str]
    seen: tuple[Seen, ...]
    place: str
    form: str
    circuit: str
    expected: tuple[str, ...]
    accepted: tuple[str, ...]
    skipped: tuple[str, ...] = field(default=())


def read_cases(given: Mapping[str, Any], source: str = "cases") -> tuple[Case, ...]:
    """Return the cases that the values of a file hold.

    Parameters
    ----------
    given : mapping
        The parsed TOML.
    source : str
        Name of the file, for messages.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if it is no file of cases: another schema, or nothing in it.
    """
    problems = []
    if given.get("schema") != SCHEMA:
        fix = f'give a file with schema = "{SCHEMA}"'
        problems.append(InvalidInput(f"{source}.schema", given.get("schema"), fix))
    rows = given.get("case")
    tables = [row for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []
    if not tables:
        fix = "give at least one [[case]] with observations"
        problems.append(InvalidInput(f"{source}.case", rows, fix))
    raise_all(problems, source)
    return tuple(_case(row, number) for number, row in enumerate(tables, start=1))


def _case(row: Mapping[str, Any], number: int) -> Case:
    skipped: list[str] = []
    seen = [*_observations(row, skipped), *_measurements(row, skipped)]
    cause = _table(row.get("cause"))
    rig = {key: str(value) for key, value in _table(row.get("rig")).items()}
    return Case(
        key=str(row.get("id", number)),
        title=str(row.get("title", "")),
        detail=str(row.get("detail", "")),
        rig=rig,
        seen=tuple(dict.fromkeys(seen)),
        place=str(cause.get("place", "")),
        form=str(cause.get("form", "")),
        circuit=str(cause.get("circuit", "")),
        expected=_texts(row.get("expected_faults")),
        accepted=_texts(row.get("also_accept")),
        skipped=tuple(skipped),
    )


def _observations(row: Mapping[str, Any], skipped: list[str]) -> Iterator[Seen]:
    for given in _tables(row.get("observations")):
        cmd, at, state = (str(given.get(key, "")) for key in ("cmd", "at", "state"))
        command, spot, word = read_command(cmd), read_spot(at), read_state(state)
        if command is None:
            skipped.append(f"command {cmd!r} is not known")
        elif spot is None:
            skipped.append(f"place {at!r} is not known")
        elif word is None:
            skipped.append(f"state {state!r} is not known")
        else:
            yield Seen(command, spot, word, str(given.get("note", "")))


def _measurements(row: Mapping[str, Any], skipped: list[str]) -> Iterator[Seen]:
    for given in _tables(row.get("measurements")):
        where, cmd = str(given.get("where", "")), str(given.get("cmd", "any"))
        value, unit = given.get("value"), str(given.get("unit", ""))
        number = isinstance(value, int | float) and not isinstance(value, bool)
        found = measured(where, float(value), unit) if number and value is not None else None
        if found is None:
            skipped.append(f"measurement at {where!r} says nothing that can be used")
        else:
            spot, word = found
            ohms = spot.part == "brakes"
            command = CONDUCTS if ohms else read_command(cmd) or "any"
            yield Seen(command, spot, word, f"measured {value:g} {unit}")


def _table(given: object) -> Mapping[str, Any]:
    return given if isinstance(given, Mapping) else {}


def _tables(given: object) -> list[Mapping[str, Any]]:
    return [row for row in given if isinstance(row, Mapping)] if isinstance(given, list) else []


def _texts(given: object) -> tuple[str, ...]:
    return tuple(str(each) for each in given) if isinstance(given, list | tuple) else ()
