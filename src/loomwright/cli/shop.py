"""The shop's store from the command line: opening it, and finding a rig by what a person types."""

from __future__ import annotations

import getpass
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from cyclopts import Parameter

from loomwright.cli.files import read_text
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.store.rig_values import RigEntry
    from loomwright.store.store import Store

SHORT = 8

T = TypeVar("T")


@Parameter(name="*")
@dataclass(frozen=True, slots=True)
class Shop:
    """Where the shop's rigs and records are kept.

    Parameters
    ----------
    data
        Folder of the shop's data; else this user's own.
    database
        Address of the PostgreSQL database, if the rigs are kept in one.
    """

    data: Path | None = None
    database: str | None = None


OWN = Shop()
"""This user's own shop."""


@contextmanager
def opened(shop: Shop) -> Iterator[Store]:
    """Open the shop's store."""
    from loomwright.store.opening import open_store
    from loomwright.web.machine import place_of

    with open_store(place_of(shop.data, shop.database).store) as store:
        yield store


def user() -> str:
    """Return what the machine calls the person who types."""
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "command line"


def rig_called(store: Store, said: str) -> RigEntry:
    """Return the rig of an id or its start, of a name or a part of it, or of its job file.

    Raises
    ------
    InvalidInput
        If there is none, or more than one.
    """
    found = rigs_called(store, said)
    every = () if found else store.rigs.search(archived=None)
    return the_one("rig", said, found, every, lambda rig: f"{rig.id[:SHORT]} {rig.name}")


def the_one(
    what: str, said: str, found: Sequence[T], every: Sequence[T], named: Callable[[T], str]
) -> T:
    """Return the one that was found.

    Parameters
    ----------
    what : str
        What kind of thing it is, as the command line calls it.
    said : str
        What a person typed.
    found, every : sequence
        Those it may mean, and all there are.
    named : callable
        Says what one goes by.

    Raises
    ------
    InvalidInput
        If there is none, or more than one; names those there are.
    """
    if len(found) != 1:
        known = "; ".join(map(named, found or every)) or "none yet"
        which = "name one of" if found else f"there is no such {what}; there are"
        raise InvalidInput(what, said, f"{which}: {known}")
    return found[0]


def rig_brought(store: Store, said: str, who: str) -> RigEntry:
    """Return the rig a person names; a job file that is not there yet is taken in.

    Raises
    ------
    InvalidInput
        If there is none, or more than one, or the file cannot be read.
    """
    file = Path(said)
    if file.is_file() and not rigs_called(store, said):
        return store.rigs.import_text(read_text(file), who, file.name)
    return rig_called(store, said)


def rigs_called(store: Store, said: str) -> list[RigEntry]:
    """Return the rigs that are meant: by job file, by name or id, by a part of either."""
    rigs, file, low = store.rigs.search(archived=None), Path(said), said.strip().casefold()
    if file.is_file():
        text = read_text(file)
        return [rig for rig in rigs if store.rigs.newest(rig.id).text == text][:1]
    found = [rig for rig in rigs if rig.name.casefold() == low or rig.id == low]
    found = found or [rig for rig in rigs if low and rig.id.startswith(low)]
    return found or [rig for rig in rigs if low and low in rig.name.casefold()]
