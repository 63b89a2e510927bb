"""The numbers of one case, branch by branch, as the solver takes them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from loomwright.circuit.elements import (
    ConstantPower,
    Element,
    Fuse,
    Load,
    Resistor,
    Source,
    Switch,
    Transformed,
)
from loomwright.circuit.laws import Law, Ohmic

SHUNT_S: Final = 1e-9
"""From every node to the reference: part of the model, so that no node is ever undefined. [S]"""

OPEN_OHM: Final = 1e17
"""An open switch, fuse or wire; far above the shunts. [ohm]"""


@dataclass(slots=True)
class Values:
    """Per branch: conductance [S] and EMF [V] of a linear one, or the law of a load."""

    conductance_s: list[float]
    emf_v: list[float]
    laws: list[Law | None]


def branch_values(elements: Iterable[Element]) -> Values:
    """Numbers of each branch; loads of constant power and converters are off at first."""
    values = Values([], [], [])
    for element in elements:
        match element:
            case Load(law=law):
                _add(values, 0.0, 0.0, law)
            case ConstantPower(off_resistance_ohm=off_ohm):
                _add(values, 0.0, 0.0, Ohmic(off_ohm))
            case Transformed(off_resistance_ohm=off_ohm):
                _add(values, 0.0, 0.0, Ohmic(off_ohm))
                _add(values, 0.0, 0.0, Ohmic(off_ohm))
            case Source(emf_v=emf_v):
                _add(values, _conductance_s(element), emf_v, None)
            case _:
                _add(values, _conductance_s(element), 0.0, None)
    return values


def _add(values: Values, conductance_s: float, emf_v: float, law: Law | None) -> None:
    values.conductance_s.append(conductance_s)
    values.emf_v.append(emf_v)
    values.laws.append(law)


def _conductance_s(element: Resistor | Switch | Fuse | Source) -> float:
    is_open = (isinstance(element, Switch) and not element.closed) or (
        isinstance(element, Fuse) and element.open
    )
    return 1.0 / (OPEN_OHM if is_open else min(element.resistance_ohm, OPEN_OHM))
