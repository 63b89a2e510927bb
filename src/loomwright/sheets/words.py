"""Words of the sheet: functions, ends, sizes, colours and commands as a technician reads them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

from loomwright.colours import Colour
from loomwright.drawing.function_words import function_words
from loomwright.drawing.wires import wire_swatch
from loomwright.electrics.commands import COMMANDS
from loomwright.quantities import Units, WireSize, show_diameter, show_length, unbroken
from loomwright.reference.connectors import connector
from loomwright.rig.model import Feed, Rig

NO_BREAK = "\u00a0"
NEWTON_PER_POUND = 4.4482216
INCHES = re.compile(r"\b(\d+/\d+)[ \u00a0]in\b")
TUBE = re.compile(r"([\d.]+) to ([\d.]+) mm\b")
STANDING_WORDS = {"found": "seen in the source", "memory": "from memory"}
"""How well a value is founded, as a reader says it; what is missing is said as it is kept."""


def capital(text: str) -> str:
    """Return the text with a capital at its start."""
    return text[:1].upper() + text[1:]


def decapital(text: str) -> str:
    """Return the text for the middle of a sentence; a name such as ``12N`` stays as it is."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def function_title(function: str) -> str:
    """Return a function in words, such as ``Left stop + turn``."""
    return capital(function_words(function))


def size_words(size: WireSize | None) -> str:
    """Return a wire size that never breaks, empty where it is not known."""
    return "" if size is None else str(size).replace(" ", NO_BREAK)


def command_title(key: str) -> str:
    """Return what the driver does, such as ``Park lamps and left signal``."""
    return next((capital(each.title) for each in COMMANDS if each.key == key), key)


def connector_title(key: str) -> str:
    """Return the name of a connector without the detail after its comma or colon."""
    title = connector(key).title
    return title.partition(",")[0].partition(":")[0]


def feed_name(rig: Rig, feed: Feed) -> str:
    """Return what a feed is for; the converter's own is called after it."""
    if rig.converter is not None and feed is rig.converter.feed:
        return "converter"
    return function_words(feed.function)


def listed(items: Iterable[str]) -> str:
    """Return ``a, b and c``."""
    shown = list(items)
    return " and ".join(part for part in (", ".join(shown[:-1]), *shown[-1:]) if part)


def swatch(colour: Colour | None) -> dict[str, str]:
    """Return a conductor for the template: drawing, code and words."""
    words = "colour not known" if colour is None else colour.words
    return {"svg": wire_swatch(colour, 13.0, 3.0), "words": words, "alt": f"Conductor, {words}"}


def short_length(length_mm: float, units: Units) -> str:
    """Return a length given in millimetres, whole in millimetres or to a quarter inch. [mm]"""
    if units is Units.METRIC:
        return (
            f"{length_mm:.0f}{NO_BREAK}mm"
            if length_mm < 1000
            else show_length(length_mm / 1000, units)
        )
    quarters = max(1, round(length_mm / 25.4 * 4))
    if quarters >= 36 * 4:
        return show_length(length_mm / 1000, units)
    whole, part = divmod(quarters, 4)
    fraction = {0: "", 1: "1/4", 2: "1/2", 3: "3/4"}[part]
    if whole >= 10:
        return f"{round(quarters / 4)}{NO_BREAK}in"
    return (
        "-".join(each for each in (str(whole) if whole else "", fraction) if each) + f"{NO_BREAK}in"
    )


def pull_words(pull_n: float, units: Units) -> str:
    """Return a pull in both units, those of the sheet first: ``50 lbf (222 N)``."""
    pounds = f"{pull_n / NEWTON_PER_POUND:.0f}{NO_BREAK}lbf"
    newtons = f"{pull_n:.0f}{NO_BREAK}N"
    return f"{newtons} ({pounds})" if units is Units.METRIC else f"{pounds} ({newtons})"


def tube_words(text: str, units: Units) -> str:
    """Return a joint's words with the bores of its tube in the units of the sheet."""
    if units is Units.METRIC:
        return unbroken(text)
    return TUBE.sub(
        lambda bores: " to ".join(show_diameter(float(bore), units) for bore in bores.groups()),
        text,
    )


def part_words(text: str, units: Units) -> str:
    """Return a part to pull; where inches are not read, a size of the trade has its millimetres."""
    if units is Units.METRIC:
        text = INCHES.sub(
            lambda size: f"{size[0]} ({25.4 * float(Fraction(size[1])):.0f}{NO_BREAK}mm)", text
        )
    return tube_words(text, units)


def standing_words(key: str) -> str:
    """Return how well a value is founded: ``seen in the source``, ``common practice``."""
    return STANDING_WORDS.get(key, key)
