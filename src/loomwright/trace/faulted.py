"""A network with faults in it, as a network: for drawing, for SPICE, for a second opinion."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from loomwright.circuit import Driver, Element, Fuse, Load, Network, Ohmic, Resistor, Switch
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import (
    Bridged,
    Fault,
    Opened,
    Resisted,
    Shorted,
    Swapped,
    swapped_joins,
)

OPEN_OHM = 1e17


def faulted(network: Network, changes: Iterable[Fault]) -> Network:
    """Return a network with faults in it.

    Parameters
    ----------
    network : Network
        The sound circuit.
    changes : iterable of Fault
        The faults.

    Notes
    -----
    Switches keep what commands do to them: where a switch or driver is open, or has more
    resistance, that stands in its resistance.
    """
    elements = {element.name: element for element in network.elements}
    added: list[Element] = []
    for number, fault in enumerate(changes, start=1):
        name = f"fault_{number}"
        match fault:
            case Opened(element=which):
                elements[which] = _opened(elements[which])
            case Resisted(element=which, added_ohm=more):
                elements[which] = _more(elements[which], more)
            case Shorted(element=which, resistance_ohm=ohm):
                added.append(Resistor(name, *ends(network.element(which))[0], ohm))
            case Bridged(a=a, b=b, resistance_ohm=ohm):
                added.append(Resistor(name, a, b, ohm))
            case Swapped():
                for place, (join, which) in enumerate(swapped_joins(network, fault)):
                    ohm = _resistance(elements[which])
                    added.append(Resistor(f"{name}_{place}", *join, ohm))
                for which in (fault.first, fault.second):
                    elements[which] = _opened(elements[which])
    return Network((*elements.values(), *added), network.reference)


def _resistance(element: Element) -> float:
    if isinstance(element, Resistor | Switch | Fuse | Driver):
        return element.resistance_ohm
    raise TypeError(f"{element.name} is no conductor")


def _opened(element: Element) -> Element:
    if isinstance(element, Load):
        return replace(element, law=Ohmic(OPEN_OHM))
    if isinstance(element, Resistor | Switch | Fuse | Driver):
        return replace(element, resistance_ohm=math.inf)
    raise TypeError(f"{element.name} cannot be opened")


def _more(element: Element, more_ohm: float) -> Element:
    if isinstance(element, Resistor | Switch | Fuse | Driver):
        return replace(element, resistance_ohm=element.resistance_ohm + more_ohm)
    raise TypeError(f"{element.name} is no conductor")
