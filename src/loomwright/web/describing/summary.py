"""What is said of each part of a rig, in a line or two, for the list of its parts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from loomwright.colours import Colour
from loomwright.web.describing import choices
from loomwright.web.describing.answers import Facts
from loomwright.web.describing.listing import rows
from loomwright.web.describing.parts import Part, place_of
from loomwright.web.describing.questions import Option
from loomwright.web.describing.writing import value_at
from loomwright.web.words import counted

Data = Mapping[str, Any]


def summary(part: Part, facts: Facts) -> tuple[str, tuple[Colour | None, ...], int]:
    """Return what a part is in words, its wires, and how many of its entries are to mend."""
    listed = rows(part, facts)
    colours = tuple(row.colour for row in listed if row.has_wire)
    here = [place_of(one.field, facts.data) for one in facts.problems]
    wrong = sum(place is not None and place.part == part for place in here)
    return "; ".join(_said(part, facts, len(listed))), colours, wrong


def _said(part: Part, facts: Facts, count: int) -> Iterator[str]:
    words = WORDS.get(part.key)
    found = [one for one in words(facts.data) if one] if words else []
    yield from found
    if part.listed and (count or not found):
        yield counted(count, part.one, "axles with brakes" if part.key == "brakes" else "")


def _job(data: Data) -> tuple[str, ...]:
    return (_text(data, "rig.name"), _text(data, "rig.customer"))


def _vehicle(data: Data) -> tuple[str, ...]:
    signals = _title(choices.SIGNALS, data, "vehicle.signals")
    return (_text(data, "vehicle.name"), _text(data, "vehicle.voltage"), signals)


def _converter(data: Data) -> tuple[str, ...]:
    if value_at(data, "converter") is None:
        return ("none",)
    return (_title(choices.CONVERTERS, data, "converter.kind"), _text(data, "converter.name"))


def _trailer(data: Data) -> tuple[str, ...]:
    return (
        _text(data, "trailer.name"),
        _text(data, "trailer.length"),
        _title(choices.SIGNALS, data, "trailer.signals"),
    )


def _brakes(data: Data) -> tuple[str, ...]:
    return (_title(choices.BRAKINGS, data, "trailer.brakes"),)


def _supplies(data: Data) -> tuple[str, ...]:
    if value_at(data, "trailer.battery") is None:
        return ("no battery of its own",)
    kind = _text(data, "trailer.battery.chemistry")
    return (" ".join(filter(None, (kind, _text(data, "trailer.battery.capacity")))) or "battery",)


WORDS: Mapping[str, Callable[[Data], tuple[str, ...]]] = {
    "job": _job,
    "vehicle": _vehicle,
    "converter": _converter,
    "trailer": _trailer,
    "brakes": _brakes,
    "supplies": _supplies,
}


def _text(data: Data, path: str) -> str:
    value = value_at(data, path)
    return "" if value is None else str(value)


def _title(options: tuple[Option, ...], data: Data, path: str) -> str:
    value = value_at(data, path)
    found = next((option.title for option in options if option.value == value), "")
    return found[:1].lower() + found[1:]
