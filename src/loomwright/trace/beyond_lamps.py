"""What lamps show with a fault, from its form and its circuit alone."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.trace.beyond_forms import GROUND_LIT, LIT
from loomwright.trace.beyond_ways import Way
from loomwright.trace.beyond_words import Belief, mixed
from loomwright.trace.cases_words import Spot

Lamp = tuple[str, str]
"""A lamp by what it does and the side it is on."""

KINDS = ("tail", "marker", "plate", "signal", "stop", "reverse", "fog")
SHOW_ALL = frozenset({"any", "rolling", "bump", "rain", "tap"})
LIT_BY: dict[str, tuple[str, ...]] = {
    "park": ("tail", "marker", "plate"),
    "brake_pedal": ("signal", "stop"),
    "hazard": ("signal",),
    "reverse": ("reverse",),
    "fog": ("fog",),
}
OF_CIRCUIT: dict[str, tuple[str, ...]] = {
    "tail": ("tail", "marker", "plate"),
    "left": ("signal",),
    "right": ("signal",),
    "stop": ("stop",),
    "ground": KINDS,
    "reverse": ("reverse",),
    "fog": ("fog",),
}
DARK: Belief = {"off": 0.97, "glow": 0.03}
NORMAL: Belief = {"normal": 1.0}
FLASHES: Belief = {"flashing": 0.75, "normal": 0.25}
CROSSED = frozenset({"swapped"})
FINE = frozenset({"normal", "flashing", "on", "bright"})
"""Words of a lamp that does what it should."""


def lit_by(command: str) -> frozenset[Lamp]:
    """Return the lamps a command lights; of a circumstance, all that may be on."""
    found: set[Lamp] = set()
    for act in command.split("+"):
        if act in ("left", "right"):
            found.add(("signal", "L" if act == "left" else "R"))
        names = KINDS if act in SHOW_ALL else LIT_BY.get(act, ())
        found |= {(name, side) for name in names for side in ("L", "R")}
    return frozenset(found)


def lamps_at(spot: Spot) -> Iterator[Lamp]:
    """Yield the lamps that a place of a case names."""
    for name in KINDS if spot.name == "all" else (spot.name,):
        for side in (spot.side,) if spot.side else ("L", "R"):
            yield name, side


def healthy_lamp(command: str, lamp: Lamp) -> Belief:
    """Return what a good lamp shows."""
    if lamp not in lit_by(command):
        return DARK
    flashing = lamp[0] == "signal" and {"left", "right", "hazard"} & set(command.split("+"))
    return FLASHES if flashing else NORMAL


def is_touched(way: Way, command: str, lamp: Lamp) -> bool:
    """Whether a lamp hangs on the circuit a fault is on."""
    name, side = lamp
    if way.circuit not in OF_CIRCUIT:
        return False
    named = OF_CIRCUIT[way.circuit]
    if way.circuit == "stop" and "brake_pedal" in command.split("+"):
        named = ("stop", "signal")
    if name not in named:
        return False
    return not way.side or side == way.side


def lamp_by_form(way: Way, command: str, lamp: Lamp) -> Belief:
    """Return what a lamp shows with a fault there."""
    fine = healthy_lamp(command, lamp)
    if way.form in CROSSED and way.circuit in ("left", "right"):
        return _crossed(command, lamp)
    if not is_touched(way, command, lamp):
        return fine
    if fine is DARK:
        return {"off": 0.9, "glow": 0.07, "wrong": 0.03}
    table = GROUND_LIT if way.circuit == "ground" and way.reach == "all" else LIT
    return table.get(way.form, fine)


def _crossed(command: str, lamp: Lamp) -> Belief:
    """Left and right exchanged: the other side answers."""
    other = (lamp[0], "R" if lamp[1] == "L" else "L")
    return healthy_lamp(command, other)


def together(beliefs: list[Belief]) -> Belief:
    """Return what is said of several lamps in one word.

    All are normal only if each is. Where they differ, some word for the bad ones is said in so
    far as many are bad; else that something is wrong.
    """
    first = beliefs[0]
    if all(each == first for each in beliefs):
        return first
    fine = min(_fine(each) for each in beliefs)
    bad = [each for each in beliefs if _fine(each) <= fine + 0.2]
    share = 0.7 * len(bad) / len(beliefs)
    told = mixed((share, mixed(*((1.0, each) for each in bad))), (1.0 - share, {"wrong": 1.0}))
    rest = {word: part for word, part in told.items() if word not in FINE}
    return mixed((max(fine, 1e-6), NORMAL), (1.0 - fine, rest or {"wrong": 1.0}))


def _fine(belief: Belief) -> float:
    return sum(share for word, share in belief.items() if word in FINE)
