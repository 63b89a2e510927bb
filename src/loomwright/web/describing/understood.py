"""How a text was understood, and what it may have meant: said beside the field while it is typed.

The readers are those of the job file; nothing is guessed here. What can be tapped is only ever
what the reader of the field takes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from loomwright.colours import AmbiguousColour, Colour, read_colour
from loomwright.invalid import InvalidInput
from loomwright.quantities import (
    Units,
    read_capacity_ah,
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_resistance_ohm,
    read_share,
    read_voltage_v,
    read_wire_size,
    show_capacity,
    show_current,
    show_diameter,
    show_length,
    show_mass,
    show_power,
    show_resistance,
    show_share,
    show_voltage,
)
from loomwright.reference.lamps import Lamp, lamps
from loomwright.web.describing.questions import Kind, Option

MOST_OFFERED = 6
NUMBER = re.compile(r"[\d.,/ -]*\d")

UNITS_OF: dict[Kind, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "length": (("ft", "in"), ("m", "cm")),
    "diameter": (("in",), ("mm",)),
    "size": (("AWG", "SAE"), ("mm2",)),
    "mass": (("lb",), ("kg",)),
    "current": (("A", "mA"), ("A", "mA")),
    "voltage": (("V",), ("V",)),
    "resistance": (("mohm", "ohm"), ("mohm", "ohm")),
    "power": (("W",), ("W",)),
    "capacity": (("Ah",), ("Ah",)),
    "share": (("%",), ("%",)),
    "fuse": (("A",), ("A",)),
}
"""Units that may have been left out, US and metric."""

SHOWS: dict[Kind, Callable[[str, Units], str]] = {
    "length": lambda text, units: show_length(read_length_m(text), units),
    "diameter": lambda text, units: show_diameter(read_diameter_mm(text), units),
    "mass": lambda text, units: show_mass(read_mass_kg(text), units),
    "current": lambda text, _: show_current(read_current_a(text)),
    "voltage": lambda text, _: show_voltage(read_voltage_v(text)),
    "resistance": lambda text, _: show_resistance(read_resistance_ohm(text)),
    "power": lambda text, _: show_power(read_power_w(text)),
    "capacity": lambda text, _: show_capacity(read_capacity_ah(text)),
    "share": lambda text, _: show_share(read_share(text)),
    "size": lambda text, _: str(read_wire_size(text)),
}


def understood(kind: Kind, text: str, units: Units) -> str:
    """Return a quantity as this person reads it, if that differs from what stands there; or ""."""
    show = SHOWS.get(kind)
    if show is None or not text:
        return ""
    try:
        said = show(text, units)
    except InvalidInput:
        return ""
    return "" if _plain(said) == _plain(text) else said


def colour_of(text: str, legend: str | None) -> Colour | None:
    """Return the colour a text means, or None if it means none that is clear."""
    try:
        return read_colour(text, legend=legend) if text else None
    except InvalidInput:
        return None


def read_swatch(words: str) -> Colour | None:
    """Return the colour that is offered in words."""
    return colour_of(words, None)


def candidates(kind: Kind, text: str, units: Units, legend: str | None) -> tuple[Option, ...]:
    """Return what a text that cannot be used may have meant, each to be tapped."""
    if kind == "colour":
        return _colours(text, legend)
    if kind == "lamp":
        return tuple(lamp_options(text))[:MOST_OFFERED]
    if kind == "lamps":
        return _last_lamps(text)
    if kind in UNITS_OF and NUMBER.fullmatch(text.strip()):
        of_us, metric = UNITS_OF[kind]
        order = (*metric, *of_us) if units is Units.METRIC else (*of_us, *metric)
        offered = [f"{text.strip()} {unit}" for unit in dict.fromkeys(order)]
        if kind == "size":
            offered = [each for each in offered if _is_size(each)]
        return tuple(Option(each, each) for each in offered)
    return ()


def lamp_options(text: str) -> Iterator[Option]:
    """Yield the lamps of the table whose number has a text, those that begin with it first."""
    wanted = text.strip().casefold()
    found = [lamp for lamp in _lamps_once() if wanted in lamp.key.casefold()]
    found.sort(key=lambda lamp: not lamp.key.casefold().startswith(wanted))
    for lamp in found:
        for name, point in lamp.filaments.items():
            value = lamp.key if name == "single" else f"{lamp.key} {name}"
            words = f"{show_current(point.rated_a)} at {show_voltage(point.rated_v)}"
            yield Option(value, value, words)
    if "led".startswith(wanted):
        yield Option("LED", "LED", "usual current for what lights it")


def _last_lamps(text: str) -> tuple[Option, ...]:
    """Return what the last lamp of a list may have meant, each with those before it."""
    before, _, last = text.rpartition(",")
    found = tuple(lamp_options(last))[:MOST_OFFERED] if last.strip() else ()
    head = f"{before.strip()}, " if before.strip() else ""
    return tuple(Option(f"{head}{one.value}", one.title, one.words) for one in found)


def _lamps_once() -> tuple[Lamp, ...]:
    return tuple({lamp.key: lamp for lamp in reversed(lamps())}.values())[::-1]


def _colours(text: str, legend: str | None) -> tuple[Option, ...]:
    try:
        read_colour(text, legend=legend)
    except AmbiguousColour as unclear:
        return tuple(Option(one.words, one.words, said) for one, said in unclear.candidates)
    except InvalidInput:
        return ()
    return ()


def _is_size(text: str) -> bool:
    try:
        read_wire_size(text)
    except InvalidInput:
        return False
    return True


def _plain(text: str) -> str:
    return text.replace("\u00a0", "").replace(" ", "").replace("²", "2").casefold()
