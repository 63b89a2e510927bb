"""Example rigs and starter files, all invented, as text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib.resources import files
from itertools import takewhile

from loomwright.invalid import InvalidInput

PACKAGE = "loomwright.examples"
ENDING = ".toml"
STARTERS = "starters"
SCHEMA_NAME = "job.schema.json"

DEMO = "horse-trailer-van"
"""The example that the demo prints."""


def names() -> tuple[str, ...]:
    """Names of the example rigs."""
    return tuple(sorted(_stems()))


def text(name: str) -> str:
    """Return the job file of an example; raise `InvalidInput` if there is none."""
    return _text(name, names(), "example")


def kinds() -> Mapping[str, str]:
    """Kinds of job that have a starter file, each with its title."""
    return {kind: _title(_read(STARTERS, kind)) for kind in sorted(_stems(STARTERS))}


def starter(kind: str) -> str:
    """Return the job file to begin a kind of job with; raise `InvalidInput` if there is none."""
    return _text(kind, tuple(kinds()), "starter", STARTERS)


def schema_text() -> str:
    """Text of the JSON Schema of job files, for editors."""
    return files(PACKAGE).joinpath(SCHEMA_NAME).read_text("utf-8")


def _stems(*folder: str) -> Iterator[str]:
    place = files(PACKAGE).joinpath(*folder)
    if place.is_dir():
        for each in place.iterdir():
            if each.name.endswith(ENDING):
                yield each.name.removesuffix(ENDING)


def _text(name: str, known: tuple[str, ...], what: str, *folder: str) -> str:
    if name not in known:
        raise InvalidInput(what, name, f"give one of {', '.join(known)}")
    return _read(*folder, name)


def _read(*path: str) -> str:
    *folder, name = path
    return files(PACKAGE).joinpath(*folder, f"{name}{ENDING}").read_text("utf-8")


def _title(job_file: str) -> str:
    """Return the first sentence of a starter's own comment, below the schema line."""
    rows = (row.removeprefix("#").strip() for row in job_file.splitlines()[1:])
    return " ".join(takewhile(bool, rows))
