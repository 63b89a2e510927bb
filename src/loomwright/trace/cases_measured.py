"""What a measurement of a case says, in a word: where it was taken decides what is usual.

The places of measurements are free text, so that only the plainest are used: resistance of brake
magnets, voltage of a battery, current into it, voltage at a pin, drop on a ground.
"""

from __future__ import annotations

from loomwright.trace.cases_words import SIDES, Spot

OVER_RANGE_OHM = 1000.0
"""A circuit that should conduct and reads more is open. Common practice."""

LEAST_MAGNET_OHM = 1.0
"""A magnet, or several in parallel, never reads less over its cable. Common practice."""

FLAT_V, LOW_V = 11.8, 12.1
"""A lead-acid battery at rest below these is flat, or nearly (BCI open-circuit voltages)."""

CHARGES_A = 5.0
"""A charge line that is worth its name gives more into a battery in need. Common practice."""

DEAD_V, WEAK_V = 1.0, 10.5
"""A commanded pin below these is dead, or weak, on a 12 V vehicle. Common practice."""

POOR_GROUND_V, POOR_GROUND_OHM = 0.5, 1.0
"""More drop or resistance on a ground than this is too much. Common practice."""

Said = tuple[Spot, str]


def measured(where: str, value: float, unit: str) -> Said | None:
    """Return the place and the word that a measurement comes to, or None if it says nothing.

    Parameters
    ----------
    where : str
        Where it was taken, in free words.
    value : float
        What was read.
    unit : str
        ``ohm``, ``V`` or ``A``.
    """
    words = set(where.lower().replace("-", " ").replace(",", " ").replace(".", " ").split())
    side = next((SIDES[word] for word in words if word in SIDES), "")
    match unit.lower():
        case "ohm" | "ohms":
            return _ohms(words, side, value)
        case "v" | "volt" | "volts":
            return _volts(words, side, value)
        case "a" | "amp" | "amps":
            return _amps(words, value)
        case _:
            return None


def _ohms(words: set[str], side: str, value: float) -> Said | None:
    if words & {"magnet", "magnets", "brake", "brakes"}:
        spot = Spot("brakes", "one" if side else "all", side)
        if value >= OVER_RANGE_OHM:
            return spot, "off"
        return (
            (Spot("controller"), "overload") if value < LEAST_MAGNET_OHM / 2 else (spot, "normal")
        )
    if words & {"ground", "earth", "white", "frame"}:
        spot = Spot(
            "socket" if "socket" in words else "lamp", "ground" if "socket" in words else "all"
        )
        return (
            (spot, "off" if value >= OVER_RANGE_OHM else "dim") if value > POOR_GROUND_OHM else None
        )
    return None


def _volts(words: set[str], side: str, value: float) -> Said | None:
    if "battery" in words and not words & {"vehicle", "truck"}:
        spot = Spot("trailer part", "battery")
        return (spot, "flat") if value < FLAT_V else (spot, "normal") if value > LOW_V else None
    if words & {"ground", "earth", "drop"}:
        return (Spot("lamp", "all"), "dim") if value > POOR_GROUND_V else None
    if not words & {"socket", "pin", "contact", "plug", "connector", "receptacle"}:
        return None
    spot = Spot("socket", _circuit(words), side)
    if value < DEAD_V:
        return spot, "off"
    return spot, "weak" if value < WEAK_V else "normal"


def _amps(words: set[str], value: float) -> Said | None:
    if words & {"battery", "charge", "charging"}:
        return Spot("charge"), "weak" if value < CHARGES_A else "normal"
    return None


def _circuit(words: set[str]) -> str:
    names = {"brake": "brake", "charge": "charge", "tail": "tail", "running": "tail"}
    names |= {"left": "signal", "right": "signal", "12v": "charge", "reverse": "reverse"}
    return next((name for word, name in names.items() if word in words), "all")
