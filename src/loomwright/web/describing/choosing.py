"""What the chooser of sockets shows: their faces, by the regions where they are usual."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from loomwright.drawing.faces import socket_face
from loomwright.drawing.folded_face import bare_face, folded_face
from loomwright.drawing.function_words import function_words
from loomwright.reference.connectors import Connector, connector, connector_keys
from loomwright.web.describing.choices import REGION_WORDS


@dataclass(frozen=True, slots=True)
class Face:
    """A socket to choose: its key, its title, its standard, its face and its pins in words."""

    key: str
    title: str
    standard: str
    face: Markup
    pins: str


@dataclass(frozen=True, slots=True)
class Pictured:
    """The face of a socket that was chosen: with labels, bare for a phone, its pins in words."""

    labelled: Markup
    bare: Markup
    pins: str


@dataclass(frozen=True, slots=True)
class Region:
    """The sockets that are usual in a region, and whether they are looked at first."""

    title: str
    faces: tuple[Face, ...]
    is_first: bool


def regions(now: str, used: Collection[object]) -> tuple[Region, ...]:
    """Return the sockets by the regions where they are usual.

    Parameters
    ----------
    now : str
        Key of the socket that stands there; "" if none does.
    used : collection
        Keys of the other sockets of the rig: their region comes next.
    """
    found = _by_region()
    for wanted in ({now}, set(used), set(connector_keys())):
        first = [title for title, faces in found.items() if wanted & {one.key for one in faces}]
        if first:
            break
    return tuple(Region(title, faces, title in first[:1]) for title, faces in found.items())


def _by_region() -> dict[str, tuple[Face, ...]]:
    rows = [connector(key).row for key in connector_keys()]
    found = []
    for regions, group in groupby(rows, key=lambda row: row.regions[:1]):
        title = ", ".join(REGION_WORDS.get(one, one) for one in regions)
        title = title[:1].upper() + title[1:]
        found.append((title, tuple(_face(row.key) for row in group)))
    merged: dict[str, tuple[Face, ...]] = {}
    for title, each in found:
        merged[title] = merged.get(title, ()) + each
    return merged


def face_of(key: object) -> Pictured | None:
    """Return the face of a socket, or None if the tables do not have it."""
    if not isinstance(key, str) or key not in connector_keys():
        return None
    shown = connector(key)
    return Pictured(
        Markup(socket_face(shown)),  # noqa: S704 the drawing escapes its text
        Markup(folded_face(shown)),  # noqa: S704 the drawing escapes its text
        pin_words(shown),
    )


def small_face(key: str) -> Markup:
    """Return the shape of a socket with its numbers, cut close: for a row of a list."""
    return Markup(bare_face(connector(key)))  # noqa: S704 the drawing escapes its text


def _face(key: str) -> Face:
    shown = connector(key)
    return Face(key, shown.row.title, shown.row.standard, small_face(key), pin_words(shown))


def pin_words(shown: Connector) -> str:
    """Return what each pin is for: ``1 ground, 2 brake``."""
    words = (f"{pin.number} {function_words(pin.function)}" for pin in shown.pins)
    return ", ".join(each.replace(" ", "\u00a0") for each in words)
