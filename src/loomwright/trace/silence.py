"""Which fault does nothing beside another: then both together read as the other alone.

Take the circuit with one fault in it, as solved. A bridge between two nodes that stand at the
same voltage there, or more resistance where nothing flows, leaves every voltage where it is: the
old answer still obeys each law, and only one answer does. So nothing has to be solved. What a
bridge changes is no more than the volts it finds between its nodes; what more resistance
changes is no more than what the current there would drop over it.

Breaks and swaps are solved always: they may let a node float that was tied. So is every pair of
which the first fault opens a fuse or puts a device off, for then the order of things matters:
the second may have kept that fuse whole.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit import Driver, Element, Fuse, Network, Resistor, Switch
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Bridged, Fault, Resisted, Shorted, Swapped
from loomwright.circuit.readings import Readings

SILENT_V: Final = 1e-6
"""Change of a voltage that is none: answers are kept in steps of that size at 12 V. [V]"""

Points = tuple[str, str]


def points_of_faults(network: Network, faults: Sequence[Fault]) -> tuple[Points, ...]:
    """Return for each fault the two nodes between which volts tell whether it does anything.

    Parameters
    ----------
    network : Network
        The circuit.
    faults : sequence of Fault
        The faults.
    """
    return tuple(_points(network, fault) for fault in faults)


def silent_beside(
    elements: Iterable[Element], faults: Sequence[Fault], volts: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Return which faults do nothing beside which others, shape (there, added).

    Parameters
    ----------
    elements : iterable of Element
        As the command has them.
    faults : sequence of Fault
        The faults.
    volts : float array, shape (there, added)
        Between the points of each fault with each fault there. [V]
    """
    stands = {element.name: element for element in elements}
    change = np.array([_change_v(fault, stands) for fault in faults])
    may = np.isfinite(change)
    return np.asarray(may & (np.abs(volts) * np.where(may, change, 0.0) < SILENT_V))


def is_plain(readings: Readings, healthy: Readings) -> NDArray[np.bool_]:
    """Return in which cases nothing opened and no device is off that is on without a fault.

    Parameters
    ----------
    readings : Readings
        With faults, base by base.
    healthy : Readings
        Of each base without a fault.
    """
    opened = (readings.opened > 0).any(axis=1)
    each = len(readings.off) // max(len(healthy.off), 1)
    dropped = (readings.off != np.repeat(healthy.off, each, axis=0)).any(axis=1)
    cycling = readings.cycling.any(axis=1) | readings.reopening.any(axis=1)
    return np.asarray(readings.settled & ~opened & ~dropped & ~cycling)


def _points(network: Network, fault: Fault) -> Points:
    match fault:
        case Bridged(a=a, b=b):
            return a, b
        case Swapped(first=name):
            return ends(network.element(name))[0]
        case _:
            return ends(network.element(fault.element))[0]


def _change_v(fault: Fault, stands: Mapping[str, Element]) -> float:
    """Return how far a voltage may move for each volt between a fault's points; inf: any way."""
    match fault:
        case Bridged() | Shorted():
            return 1.0
        case Resisted(element=name, added_ohm=more):
            return more * _conductance_s(stands[name])
        case _:
            return math.inf


def _conductance_s(element: Element) -> float:
    """Conductance of a conductor as it stands. [S]"""
    match element:
        case Switch(closed=False) | Driver(closed=False) | Fuse(open=True):
            return 0.0
        case Resistor() | Switch() | Fuse() | Driver():
            return 1.0 / element.resistance_ohm
        case _:
            return math.inf
