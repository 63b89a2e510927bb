"""Signatures: drawn on the screen as strokes, or typed where no screen can be drawn on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from loomwright.invalid import InvalidInput, raise_all
from loomwright.store.entry import checked_name

WIDTH, HEIGHT = 1000, 400
"""The field that strokes lie in; its units are its own."""

MOST_STROKES = 200
MOST_POINTS = 6_000
LEAST_POINTS = 4
TECHNICIAN = "Technician"
ROLES = (TECHNICIAN, "Second person", "Customer")
DRAW = "draw it again, or type the name instead"

Stroke = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Signature:
    """One signature: who in which part, and the strokes; without strokes it is typed."""

    role: str
    name: str
    strokes: tuple[Stroke, ...] = ()

    def to_plain(self, at: datetime) -> dict[str, Any]:
        """Return it as plain values, with the time it was given."""
        return {
            "role": self.role,
            "name": self.name,
            "how": "drawn" if self.strokes else "typed",
            "at": at.isoformat(),
            "strokes": [[[*point] for point in stroke] for stroke in self.strokes],
        }


def checked_signatures(given: Sequence[Signature]) -> tuple[Signature, ...]:
    """Return signatures that can stand under a record: the technician's, and any others.

    Parameters
    ----------
    given : sequence of Signature
        One for each part at most.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    problems: list[InvalidInput] = []
    roles = [each.role for each in given]
    if TECHNICIAN not in roles:
        problems.append(InvalidInput("signature.Technician", "", "sign it, or type the name"))
    found = []
    for each in given:
        field = f"signature.{each.role}"
        if each.role not in ROLES or roles.count(each.role) > 1:
            problems.append(
                InvalidInput(field, each.role, "one signature each: " + ", ".join(ROLES))
            )
            continue
        try:
            name = checked_name(each.name, f"{field}.name")
            found.append(Signature(each.role, name, _checked(each.strokes, field)))
        except InvalidInput as refused:
            problems.append(refused)
    raise_all(problems, "signatures")
    return tuple(sorted(found, key=lambda each: ROLES.index(each.role)))


def strokes_from_plain(given: object, field: str = "signature") -> tuple[Stroke, ...]:
    """Return the strokes that plain values describe: lists of points.

    Parameters
    ----------
    given : object
        As a screen sends it.
    field : str
        Its path in whatever holds it, for messages.

    Raises
    ------
    InvalidInput
        If it is anything else.
    """
    if isinstance(given, list) and all(isinstance(stroke, list) for stroke in given):
        points = [point for stroke in given for point in stroke]
        if all(_is_point(point) for point in points):
            return tuple(
                tuple((round(x), round(y)) for x, y in stroke) for stroke in given if stroke
            )
    raise InvalidInput(field, "strokes", DRAW)


def _is_point(given: object) -> bool:
    return (
        isinstance(given, list)
        and len(given) == 2
        and all(isinstance(each, int | float) and abs(each) < 10 * WIDTH for each in given)
    )


def _checked(strokes: tuple[Stroke, ...], field: str) -> tuple[Stroke, ...]:
    points = [point for stroke in strokes for point in stroke]
    if len(strokes) > MOST_STROKES or len(points) > MOST_POINTS:
        raise InvalidInput(field, f"{len(points)} points", f"it is too long: {DRAW}")
    if any(not (0 <= x <= WIDTH and 0 <= y <= HEIGHT) for x, y in points):
        raise InvalidInput(field, "strokes", f"it leaves its field: {DRAW}")
    if strokes and len(points) < LEAST_POINTS:
        raise InvalidInput(field, f"{len(points)} points", f"it is only a dot: {DRAW}")
    return strokes


def signatures_of(document: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return the signatures a record bears."""
    return list(document.get("signatures", ()))
