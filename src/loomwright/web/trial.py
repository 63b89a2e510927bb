"""A trial: values of the job file changed for a while, to see what they would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from loomwright.changes.change import Edit
from loomwright.changes.changeable import Changeable


@dataclass(frozen=True, slots=True)
class Tried:
    """One value under trial: what it is, what it was, what it is to be, and how to let it be."""

    what: Changeable
    value: str
    words: str
    without: str


@dataclass(frozen=True, slots=True)
class Trial:
    """What is tried, and what may be tried.

    `chosen` is the value whose control is shown; `stations` holds all there are.
    """

    stations: tuple[tuple[str, tuple[Changeable, ...]], ...]
    tried: tuple[Tried, ...]
    chosen: Changeable | None

    @property
    def edits(self) -> tuple[Edit, ...]:
        """What is written into the job file."""
        return tuple(Edit(each.what.path, each.value) for each in self.tried)

    @property
    def query(self) -> str:
        """The trial as the end of an address."""
        return as_query([(each.what.path, each.value) for each in self.tried])

    def value_of(self, what: Changeable) -> str:
        """Return what a value is under the trial."""
        return next((each.value for each in self.tried if each.what.path == what.path), what.now)

    @property
    def kept(self) -> tuple[Tried, ...]:
        """What is tried besides the value whose control is shown."""
        path = "" if self.chosen is None else self.chosen.path
        return tuple(each for each in self.tried if each.what.path != path)


def trial_of(
    known: Sequence[Changeable],
    paths: Sequence[str],
    values: Sequence[str],
    *,
    was: str = "",
) -> Trial:
    """Return the trial a form or an address describes.

    Parameters
    ----------
    known : sequence of Changeable
        What may be tried on the rig.
    paths, values : sequence of str
        Paths and what is to stand there. One path more than values chooses what to try next.
    was : str
        The path the last value was given for, where the last path may have been chosen anew.
    """
    by_path = {each.path: each for each in known}
    pairs = list(zip(paths, values, strict=False))
    if pairs and was:
        pairs[-1] = was, pairs[-1][1]
    wanted = {path: value.strip() for path, value in pairs if path in by_path and value.strip()}
    wanted = {path: value for path, value in wanted.items() if value != by_path[path].now}
    tried = tuple(
        Tried(by_path[path], value, _words(by_path[path], value), _without(wanted, path))
        for path, value in wanted.items()
    )
    chosen = by_path.get(paths[-1]) if paths else None
    stations: dict[str, list[Changeable]] = {}
    for each in known:
        stations.setdefault(each.station, []).append(each)
    return Trial(tuple((name, tuple(each)) for name, each in stations.items()), tried, chosen)


def as_query(pairs: Sequence[tuple[str, str]]) -> str:
    """Return paths and values as the end of an address."""
    return urlencode([part for path, value in pairs for part in (("path", path), ("to", value))])


def _words(what: Changeable, value: str) -> str:
    return next((each.words for each in what.options if each.value == value), value)


def _without(wanted: dict[str, str], path: str) -> str:
    return as_query([(other, value) for other, value in wanted.items() if other != path])
