"""What a wiggle test tells: something is moved by hand while somebody watches what it feeds.

What comes and goes shows when the place it is at is moved, and now and then when its neighbour
is. A poor joint may show as well; a clean break, a burnt-out lamp, a blown fuse do not. All of
it only under a command that the fault disturbs. The figures are opinion (common practice).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.observations.observation import Observation
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import RigFault
from loomwright.trace.simulate import Floats

ZONES: Final[Mapping[str, tuple[str, ...]]] = {
    "plug and cord": (
        "coupling",
        "adapter",
        "vehicle.socket.terminal",
        "trailer.plug.terminal",
        "trailer.cord",
    ),
    "junction box": ("trailer.junction_box", "trailer.ground.main"),
    "lamp and its wires": (
        "trailer.lamp.bulb",
        "trailer.lamp.led",
        "trailer.lamp.socket",
        "trailer.lamp.wiring",
        "trailer.ground.lamp",
    ),
    "wires along the frame": ("trailer.harness", "trailer.ground.frame"),
    "wires at the axles": ("trailer.brake.wire", "trailer.brake.joint", "trailer.brake.ground"),
    "wires behind the bumper": (
        "vehicle.harness",
        "vehicle.splice",
        "vehicle.ground",
        "vehicle.converter",
    ),
}
"""What is taken in the hand, and the kinds of place that move with it."""

CHANGES: Final = {
    ("loose", True): 0.85,
    ("loose", False): 0.12,
    ("poor", True): 0.35,
    ("poor", False): 0.05,
}
"""Chance that what is watched changes, by the kind of fault and whether it is moved."""

NEVER: Final = 0.02
SHOWS: Final = 0.1
"""Change of light, as a share of rated, that somebody who watches sees."""

POOR: Final = frozenset({"high_resistance", "leakage"})
CHANGED: Final = (Word.COMES_AND_GOES, Word.FLICKER, Word.WRONG)
MOVED: Final = " moved"


def moved_place(zone: str) -> Place:
    """Return where an observation of something moved belongs."""
    return Place(PlaceKind.HISTORY, zone + MOVED)


def zone_of(place: Place) -> str:
    """Return what was moved; empty if the place tells of nothing moved."""
    zone = place.name.removesuffix(MOVED)
    return zone if place.name.endswith(MOVED) and zone in ZONES else ""


def chance_of_moving(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis explains what moving something changed, or did not.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        At a `moved_place`; "comes and goes" if something changed, any other word if nothing did.
    """
    zone, bench = zone_of(observation.place), hypotheses.field.bench
    if not zone or (observation.command and not bench.has(observation.command)):
        return None
    each = [changes_when_moved(fault, zone) for fault in hypotheses.faults]
    found = np.asarray(hypotheses.of_fault(each, NEVER).max(axis=0))
    if observation.command:
        shows = shown_under(hypotheses, bench.number(observation.command))
        found = np.where(shows, found, NEVER)
    return found if observation.word in CHANGED else 1.0 - found


def changes_when_moved(fault: RigFault, zone: str) -> float:
    """Return the chance that what a fault disturbs changes when a zone is moved."""
    kind = "loose" if fault.comes_and_goes else "poor" if fault.form in POOR else ""
    return CHANGES.get((kind, fault.place in ZONES[zone]), NEVER)


def shown_under(hypotheses: Hypotheses, command: int) -> NDArray[np.bool_]:
    """Return which hypotheses disturb a lamp or a brake under a command.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    command : int
        Its number.
    """
    key = "shown", command
    known = hypotheses.memory.get(key)
    if not isinstance(known, np.ndarray):
        solved = hypotheses.field
        lights = [solved.lit(command, load) for load in range(solved.volts.shape[2])]
        moved = np.stack([np.abs(light - light[0]) for light in lights]).max(axis=0)
        known = moved[hypotheses.variant] > SHOWS
        hypotheses.memory[key] = known
    return known
