"""Light sources from what was written, and the lamps of the lamp rules a housing stands for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loomwright.invalid import InvalidInput
from loomwright.quantities import read_current_a, read_voltage_v
from loomwright.reference.defaults import default, default_for
from loomwright.reference.lamps import Lamp as BulbRow
from loomwright.reference.lamps import lamp
from loomwright.rig.fill import Fill
from loomwright.rig.light_text import BulbText, Filament, LedText, read_light_text
from loomwright.rig.model import Bulb, Led, Light

TAIL = frozenset({"tail", "tail_left", "tail_right", "clearance"})
COUNTS_AT_THE_REAR: Mapping[str, tuple[str, ...]] = {
    "tail": ("tail_lamp",),
    "tail_left": ("tail_lamp",),
    "tail_right": ("tail_lamp",),
    "clearance": ("clearance_rear",),
    "stop": ("stop_lamp",),
    "left_turn": ("turn_signal_rear",),
    "right_turn": ("turn_signal_rear",),
    "left_stop_turn": ("stop_lamp", "turn_signal_rear"),
    "right_stop_turn": ("stop_lamp", "turn_signal_rear"),
    "reverse": ("reversing_lamp",),
    "fog": ("rear_fog_lamp",),
}
"""Lamps of the lamp rules by what lights them, at the rear. Source: the rules' own kinds."""

FRONT_SHARE, REAR_SHARE = 1 / 3, 0.9
AMBER_KINDS = frozenset({"clearance_front", "side_marker_front", "side_marker_mid"})
WHITE_KINDS = frozenset(
    {"plate_lamp", "reversing_lamp", "front_position_lamp", "end_outline_front"}
)
AMBER_FUNCTIONS = frozenset({"left_turn", "right_turn"})


def light_from(fill: Fill, path: str, function: str, text: str, system_v: float) -> Light:
    """Return a light source; one that is not made for the system's voltage is refused."""
    written = read_light_text(text)
    if isinstance(written, LedText):
        return Light(function, _led(fill, path, function, written, system_v))
    return Light(function, _bulb(fill, path, function, written, system_v))


def _led(fill: Fill, path: str, function: str, written: LedText, system_v: float) -> Led:
    usual_a = default_for("led", function, "current")
    usual_form = default_for("led", function, "form")
    at_v = default("led.24.at_v") if system_v > 18 else default("led.other.at_v")
    said_a = None if written.current_a is None else f"{written.current_a} A"
    return Led(
        form=fill.text(f"{path}.form", written.form, usual_form),
        current_a=read_current_a(fill.text(f"{path}.current", said_a, usual_a)),
        at_v=read_voltage_v(at_v.value_text),
    )


def _bulb(fill: Fill, path: str, function: str, written: BulbText, system_v: float) -> Bulb:
    try:
        found = lamp(written.key, round(system_v))
    except InvalidInput as other_voltage:
        fill.problems.append(other_voltage.at(path))
        found = lamp(written.key)
    return Bulb(found.key, written.filament or _filament(fill, path, function, found))


def _filament(fill: Fill, path: str, function: str, found: BulbRow) -> Filament:
    if "single" in found.filaments:
        return "single"
    filament: Filament = "minor" if function in TAIL else "major"
    if filament not in found.filaments:
        filament = "major" if filament == "minor" else "minor"
    says = "the minor filament for tail lamps, the major one for signals"
    fill.assume(f"{path}.filament", filament, says, "trade", "common practice")
    return filament


def lamp_kinds_of(functions: Sequence[str], back_share: float) -> tuple[str, ...]:
    """Return the lamps of the lamp rules a housing counts as.

    Parameters
    ----------
    functions : sequence of str
        What lights it.
    back_share : float
        Its place as a share of the way back to the farthest lamp, 0 to 1.
    """
    if back_share >= REAR_SHARE or not TAIL.issuperset(functions):
        found = (kind for function in functions for kind in COUNTS_AT_THE_REAR.get(function, ()))
        return tuple(dict.fromkeys(found))
    return ("side_marker_front",) if back_share <= FRONT_SHARE else ("side_marker_mid",)


def light_colour_of(functions: Sequence[str], counts_as: Sequence[str]) -> str:
    """Return the usual colour of a lamp."""
    if counts_as and set(counts_as) <= WHITE_KINDS:
        return "white"
    if counts_as and set(counts_as) <= AMBER_KINDS:
        return "amber"
    return "amber" if AMBER_FUNCTIONS.issuperset(functions) else "red"
