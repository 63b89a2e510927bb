"""What the picker of sockets shows: their faces, by the regions where they are usual."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from loomwright.drawing.faces import socket_face
from loomwright.reference.connectors import connector, connector_keys
from loomwright.web.describing.choices import REGION_WORDS


@dataclass(frozen=True, slots=True)
class Face:
    """A socket to choose: its key, its title, where it is usual, and its face."""

    key: str
    title: str
    standard: str
    face: Markup


def faces() -> tuple[tuple[str, tuple[Face, ...]], ...]:
    """Return the sockets by the regions where they are usual."""
    rows = [connector(key).row for key in connector_keys()]
    found = []
    for regions, group in groupby(rows, key=lambda row: row.regions[:1]):
        title = ", ".join(REGION_WORDS.get(one, one) for one in regions)
        title = title[:1].upper() + title[1:]
        found.append((title, tuple(_face(row.key) for row in group)))
    merged: dict[str, tuple[Face, ...]] = {}
    for title, each in found:
        merged[title] = merged.get(title, ()) + each
    return tuple(merged.items())


def face_of(key: object) -> Markup | None:
    """Return the face of a socket, or None if the tables do not have it."""
    return _face(key).face if isinstance(key, str) and key in connector_keys() else None


def _face(key: str) -> Face:
    shown = connector(key)
    drawing = Markup(socket_face(shown))  # noqa: S704 the drawing escapes its text
    return Face(key, shown.row.title, shown.row.standard, drawing)
