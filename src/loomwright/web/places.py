"""The places of a job, in the order they are gone through: the stations of every rig's header."""

from __future__ import annotations

from dataclasses import dataclass

ORDER = (
    *("job", "describe", "run", "hook-up", "load", "findings", "sheet"),
    *("light-check", "identify", "trace", "record"),
)
"""Keys of the places, from the battery end. A screen that is not there leaves no station."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place of a job that has a screen.

    Parameters
    ----------
    key : str
        One of `ORDER`; templates name where they are by it.
    word : str
        What the station is called.
    path : str
        Its address, with ``{rig_id}``.
    """

    key: str
    word: str
    path: str

    def at(self, rig_id: str) -> str:
        """Return the address for one rig."""
        return self.path.format(rig_id=rig_id)


def in_order(places: list[Place]) -> tuple[Place, ...]:
    """Return places from the battery to the farthest lamp.

    Raises
    ------
    ValueError
        If a key is not one of `ORDER`, or is used twice.
    """
    keys = [place.key for place in places]
    if unknown := [key for key in keys if key not in ORDER or keys.count(key) > 1]:
        raise ValueError(f"places unknown or doubled: {unknown}")
    return tuple(sorted(places, key=lambda place: ORDER.index(place.key)))
