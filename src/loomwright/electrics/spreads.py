"""How far the parts of a rig lie from their figures: what is drawn in a sample, and within what.

A part that is made to a limit is taken as spread evenly within it. A joint or contact may be
as made or have weathered: its resistance is log-normal, one in twenty below the new figure of
its kind and one in twenty above the aged one, and never beyond the two by more than the
stated spread of joints. Supply and warmth are the same for the whole rig.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from loomwright.circuit import Element, Fuse, Load, Resistor, Source, Switch
from loomwright.circuit.laws import Law, Ohmic, Pulsed
from loomwright.electrics.conditions import Conditions, conditions_for
from loomwright.electrics.resistances import DRIVER_OHM, joint_ohm
from loomwright.electrics.vehicle_side import SUPPLY
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.quantities import read_share
from loomwright.reference.copper import TEMPERATURE_COEFFICIENT_PER_K
from loomwright.reference.defaults import default
from loomwright.rig.model import Rig

Quantity = Literal["resistance", "current", "emf"]
Joints = Literal["any", "new"]
"""Joints of any age between new and aged, or all as made."""

EMF, WIRE_WARMTH, MAGNET_WARMTH = "supply", "warmth of the wires", "warmth of the magnets"
"""What is one for the whole rig."""

TAIL: Final = 1.6448536269514722
"""One in twenty of a normal distribution lies above its mean and this many deviations."""


@dataclass(frozen=True, slots=True)
class Stated:
    """A stated spread: shares below and above the figure, in words, and on whose word."""

    kind: str
    below: float
    above: float
    says: str
    source: str
    standing: str


STATED: Final = {
    row.kind: row
    for row in (
        Stated("wire", 0.05, 0.05, "copper area and lay of a wire", "assumption", "memory"),
        Stated("lamp", 0.1, 0.1, "current of a lamp, 7 to 10 % by type", "sae-j573d", "found"),
        Stated("magnet", 0.1, 0.1, "resistance of a brake magnet", "assumption", "memory"),
        Stated("driver", 0.67, 1.0, "switch or driver, 5 to 30 milliohm", "assumption", "memory"),
        Stated("supply", 0.5, 1.0, "supply, 5 to 20 milliohm of 10", "assumption", "memory"),
        Stated("frame", 0.5, 1.0, "steel of frame and chassis", "assumption", "memory"),
        Stated("appliance", 0.1, 0.1, "current of an appliance", "assumption", "memory"),
    )
}

LOAD_KINDS: Final = {"lamp": "lamp", "vehicle lamp": "lamp", "brake": "magnet"}


@dataclass(frozen=True, slots=True)
class Varied:
    """One thing that varies: a factor on a number of an element, or what the rig has in common.

    Attributes
    ----------
    name : str
        The element, or `EMF`, `WIRE_WARMTH`, `MAGNET_WARMTH`.
    quantity : {"resistance", "current", "emf"}
        What the factor is on.
    low, high : float
        Factors it never goes beyond; 1 is the nominal rig.
    middle, deviation : float
        Of a log-normal factor, its median and the deviation of its logarithm; a deviation of 0
        means spread evenly from `low` to `high`.
    shared : bool
        Whether it is one for the whole rig.
    """

    name: str
    quantity: Quantity
    low: float
    high: float
    middle: float = 1.0
    deviation: float = 0.0
    shared: bool = False


@dataclass(frozen=True, slots=True)
class Spreads:
    """All that varies on a rig, and which wires and magnets share their warmth."""

    varied: tuple[Varied, ...]
    wires: tuple[str, ...]
    magnets: tuple[str, ...]


def spreads_of(wiring: Wiring, joints: Joints = "any") -> Spreads:
    """Return what varies on a rig.

    Parameters
    ----------
    wiring : Wiring
        The rig under nominal conditions.
    joints : {"any", "new"}
        Whether joints and contacts may have aged.
    """
    rig = wiring.rig
    low, high = _extremes(rig, wiring.conditions)
    fuses = _hot_fuses(rig)
    own = [each for e in wiring.network.elements if (each := _own(wiring, e, joints, fuses))]
    magnets = tuple(load.element for load in wiring.loads if load.kind == "brake")
    wires = tuple(name for name, part in wiring.parts.items() if part.kind == "wire")
    common = list(_common(wiring.conditions, low, high, wires=bool(wires), magnets=bool(magnets)))
    return Spreads((*common, *own), wires, magnets)


def joint_spread() -> float:
    """Return the stated spread of joints and contacts about their figures, as a share."""
    row = default("joint.spread")
    return read_share(row.value_text, row.key)


def _extremes(rig: Rig, nominal: Conditions) -> tuple[Conditions, Conditions]:
    """Conditions with least and most supply, which are also the hot and the cold ones."""
    known = {each.key: each for each in conditions_for(rig)}
    return known.get("dim", nominal), known.get("heavy", nominal)


def _common(
    now: Conditions, dim: Conditions, heavy: Conditions, *, wires: bool, magnets: bool
) -> Iterator[Varied]:
    yield Varied(EMF, "emf", dim.emf_v / now.emf_v, heavy.emf_v / now.emf_v, shared=True)
    warmths = (
        (WIRE_WARMTH, wires, now.wire_c, heavy.wire_c, dim.wire_c),
        (MAGNET_WARMTH, magnets, now.magnet_c, heavy.magnet_c, dim.magnet_c),
    )
    for name, there, mild_c, cold_c, hot_c in warmths:
        if there:
            low, high = _copper(cold_c) / _copper(mild_c), _copper(hot_c) / _copper(mild_c)
            yield Varied(name, "resistance", low, high, shared=True)


def _copper(temperature_c: float) -> float:
    """Resistance of copper against that at 20 °C."""
    return 1.0 + TEMPERATURE_COEFFICIENT_PER_K * (temperature_c - 20.0)


def _hot_fuses(rig: Rig) -> dict[str, float]:
    """Resistance of each fuse when hot. [ohm]"""
    hot = wire_up(rig, "dim").network.elements
    return {each.name: each.resistance_ohm for each in hot if isinstance(each, Fuse)}


def _own(
    wiring: Wiring, element: Element, joints: Joints, hot_fuses: dict[str, float]
) -> Varied | None:
    """What varies of one element by itself."""
    part = wiring.parts[element.name]
    match element:
        case Resistor(name=name) if part.joint_kind is not None:
            return _joint(wiring, name, part.joint_kind, joints)
        case Resistor(name=name):
            varied = _even(name, "resistance", "wire" if part.kind == "wire" else "frame")
        case Switch(name=name, resistance_ohm=ohm) if ohm == DRIVER_OHM:
            varied = _even(name, "resistance", "driver")
        case Source(name=name) if name == SUPPLY:
            varied = _even(name, "resistance", "supply")
        case Fuse(name=name, resistance_ohm=ohm):
            varied = Varied(name, "resistance", 1.0, max(hot_fuses[name] / ohm, 1.0 + 1e-9))
        case Load(name=name, law=law):
            kind = next((each.kind for each in wiring.loads if each.element == name), "")
            quantity: Quantity = "resistance" if is_plain(law) else "current"
            varied = _even(name, quantity, LOAD_KINDS.get(kind, "appliance"))
        case _:
            return None
    return varied


def is_plain(law: Law) -> bool:
    """Whether a law is that of a plain resistance, pulsed or not."""
    while isinstance(law, Pulsed):
        law = law.law
    return isinstance(law, Ohmic)


def _even(name: str, quantity: Quantity, kind: str) -> Varied:
    stated = STATED[kind]
    return Varied(name, quantity, 1.0 - stated.below, 1.0 + stated.above)


def _joint(wiring: Wiring, name: str, kind: str, joints: Joints) -> Varied:
    """From a little below the new figure to a little above the aged one, log-normal between."""
    now = joint_ohm(kind, wiring.conditions.contacts)
    new, aged = joint_ohm(kind, "new") / now, joint_ohm(kind, "aged") / now
    spread = joint_spread()
    if joints == "new":
        return Varied(name, "resistance", new * (1.0 - spread), new * (1.0 + spread))
    middle = math.sqrt(new * aged)
    deviation = math.log(aged / new) / (2.0 * TAIL)
    return Varied(name, "resistance", new * (1 - spread), aged * (1 + spread), middle, deviation)
