"""From a fault of a rig to its kinds in the catalogue: the exact one, else the nearest."""

from __future__ import annotations

from functools import lru_cache

from loomwright.reference.fault_kinds import FaultKind, fault_kinds
from loomwright.trace.homes import SIGNALS, circuit_fits
from loomwright.trace.model import RigFault

SAME_PLACE = {"coupling": ("trailer.plug.contact",), "trailer.plug.contact": ("coupling",)}
"""Places that are the two halves of one contact."""

NEAR_PLACES = (
    ("coupling", "trailer.plug.contact", "trailer.plug.terminal", "adapter"),
    ("coupling", "vehicle.socket.terminal"),
    ("trailer.harness", "trailer.lamp.wiring"),
    ("trailer.lamp.bulb", "trailer.lamp.led", "trailer.lamp.socket", "trailer.lamp.wiring"),
    ("trailer.ground.main", "trailer.ground.frame", "trailer.ground.lamp"),
    ("vehicle.fuse", "vehicle.relay", "vehicle.module", "vehicle.stop_switch"),
    ("vehicle.harness", "vehicle.splice", "vehicle.socket.terminal"),
    ("vehicle.ground", "vehicle.socket.terminal"),
    ("vehicle.converter", "vehicle.splice"),
    ("trailer.brake.wire", "trailer.brake.joint", "trailer.brake.ground", "trailer.brake.magnet"),
    ("trailer.junction_box", "trailer.cord", "trailer.plug.terminal"),
    ("trailer.charge", "trailer.breakaway"),
    ("vehicle.controller", "vehicle.harness"),
)
"""Places that a technician would name one for the other, or look at in one go."""

NEAR_FORMS = (
    ("open", "missing", "intermittent_open", "high_resistance", "latched_off"),
    ("high_resistance", "undersized"),
    ("short_to_ground", "intermittent_short", "low_resistance"),
    ("short_to_circuit", "leakage", "bulb_internal", "wrong_bulb"),
    ("short_to_ground", "short_to_circuit"),
    ("swapped", "wrong_function", "reversed"),
)
"""Forms that shade into each other."""

LAMPS = SIGNALS | {"tail", "reverse", "fog"}
FAR = 9.0


def kinds_of(fault: RigFault, lacks: frozenset[str] = frozenset()) -> tuple[FaultKind, ...]:
    """Return the kinds of fault in the catalogue that a fault of a rig is, the nearest alone.

    Parameters
    ----------
    fault : RigFault
        A fault of a rig.
    lacks : frozenset of str
        What the rig has not, in the words of `FaultKind.needs`: kinds that need it are left out.

    Returns
    -------
    tuple of FaultKind
        All that are equally near: place, form and circuit agree, or as much of them as can.
        Empty if nothing in the catalogue is like it.
    """
    return _nearest(fault.place, fault.form, fault.circuit, lacks)


def is_exact(fault: RigFault, kind: FaultKind) -> bool:
    """Whether place and form of a fault are those of a kind."""
    return fault.place == kind.place and fault.form == kind.form


@lru_cache(maxsize=2048)
def _nearest(place: str, form: str, circuit: str, lacks: frozenset[str]) -> tuple[FaultKind, ...]:
    there = [kind for kind in fault_kinds() if not lacks & set(kind.needs)]
    apart = [(_apart(kind, place, form, circuit), kind) for kind in there]
    least = min(distance for distance, _ in apart)
    return () if least >= FAR else tuple(kind for distance, kind in apart if distance == least)


def _apart(kind: FaultKind, place: str, form: str, circuit: str) -> float:
    return _place(kind.place, place) + _form(kind.form, form) + _circuit(kind, circuit)


def _place(one: str, other: str) -> float:
    if one == other or other in SAME_PLACE.get(one, ()):
        return 0.0
    return 2.0 if any(one in near and other in near for near in NEAR_PLACES) else FAR


def _form(one: str, other: str) -> float:
    if one == other:
        return 0.0
    return 1.0 if any(one in near and other in near for near in NEAR_FORMS) else FAR


def _circuit(kind: FaultKind, circuit: str) -> float:
    """How far a circuit is from those of a kind: lamps are near lamps, heavy currents are not."""
    if circuit in kind.circuits or "any" in kind.circuits or circuit == "all":
        return 0.0
    if circuit_fits(circuit, kind.circuits):
        return 0.5
    if circuit in LAMPS and LAMPS & set(kind.circuits):
        return 1.0
    return 4.0
