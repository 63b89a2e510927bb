"""Two people's changes of one rig, field by field: what each made of it, and both together."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from loomwright.rig.edit import write_value
from loomwright.rig.places import Place, path_text
from loomwright.rig.toml_text import without_mark

Side = Literal["theirs", "yours"]
ABSENT = object()


@dataclass(frozen=True, slots=True)
class Field:
    """A value that differs: before, as they have it, as you have it; "" where it is not there."""

    path: str
    before: str
    theirs: str
    yours: str
    is_both: bool

    @property
    def first(self) -> Side | None:
        """Whose change stands if nothing is said: the only one's; None where both changed it."""
        if self.is_both:
            return None
        return "theirs" if self.theirs != self.before else "yours"


def differing(base: str, theirs: str, yours: str) -> tuple[Field, ...]:
    """Return the values that differ between two people's changes of one text.

    A list that anybody lengthened or shortened counts as one value.
    """
    return tuple(_field(*each) for each in _differences(base, theirs, yours))


def settled(base: str, theirs: str, yours: str, chosen: Mapping[str, str]) -> str:
    """Return their text with the values that were chosen from yours.

    Parameters
    ----------
    base, theirs, yours : str
        The text both began with, and what each made of it.
    chosen : mapping
        ``theirs`` or ``yours`` by path; where nothing is said, the only change stands, and
        theirs where both changed.

    Raises
    ------
    InvalidInput
        If a value cannot be written without rewriting the file.
    """
    text = theirs
    for place, _, their, your in _differences(base, theirs, yours):
        field = _field(place, _, their, your)
        if chosen.get(field.path, field.first or "theirs") == "yours" and their != your:
            text = write_value(text, field.path, None if your is ABSENT else your)
    return text


def _differences(base: str, theirs: str, yours: str) -> Iterator[tuple[Place, Any, Any, Any]]:
    tables = [tomllib.loads(without_mark(text)) for text in (base, theirs, yours)]
    yield from _walk((), tables[0], tables[1], tables[2])


def _walk(
    place: Place, base: Any, theirs: Any, yours: Any
) -> Iterator[tuple[Place, Any, Any, Any]]:
    each = (base, theirs, yours)
    if theirs == yours:
        return
    if all(isinstance(one, dict) for one in each):
        keys = dict.fromkeys([*base, *theirs, *yours])
        for key in keys:
            yield from _walk((*place, key), *(one.get(key, ABSENT) for one in each))
    elif all(_is_tables(one) for one in each) and len({len(one) for one in each}) == 1:
        for number, inner in enumerate(zip(*each, strict=True)):
            yield from _walk((*place, number), *inner)
    else:
        yield place, base, theirs, yours


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(one, dict) for one in value)


def _field(place: Place, base: Any, theirs: Any, yours: Any) -> Field:
    is_both = base not in (theirs, yours)
    return Field(path_text(place), _said(base), _said(theirs), _said(yours), is_both)


def _said(value: Any) -> str:
    if value is ABSENT:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return ", ".join(f"{key} {_said(each)}" for key, each in value.items())
    if _is_tables(value):
        return f"{len(value)} entries: " + "; ".join(_name(one) for one in value)
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _name(table: Mapping[str, Any]) -> str:
    return str(table.get("name") or table.get("function") or _said(table))
