"""Example rigs and starter files, all invented, as text."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

from loomwright.invalid import InvalidInput

PACKAGE = "loomwright.examples"
ENDING = ".toml"
STARTERS = "starters"


def names() -> tuple[str, ...]:
    """Names of the example rigs."""
    return tuple(sorted(_stems()))


def text(name: str) -> str:
    """Return the job file of an example; raise `InvalidInput` if there is none."""
    return _text(name, names(), "example")


def kinds() -> tuple[str, ...]:
    """Kinds of job that have a starter file."""
    return tuple(sorted(_stems(STARTERS)))


def starter(kind: str) -> str:
    """Return the job file to begin a kind of job with; raise `InvalidInput` if there is none."""
    return _text(kind, kinds(), "starter", STARTERS)


def _stems(*folder: str) -> Iterator[str]:
    place = files(PACKAGE).joinpath(*folder)
    if place.is_dir():
        for each in place.iterdir():
            if each.name.endswith(ENDING):
                yield each.name.removesuffix(ENDING)


def _text(name: str, known: tuple[str, ...], what: str, *folder: str) -> str:
    if name not in known:
        raise InvalidInput(what, name, f"give one of {', '.join(known)}")
    return files(PACKAGE).joinpath(*folder, f"{name}{ENDING}").read_text("utf-8")
