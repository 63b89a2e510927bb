"""A network, and the cases it is solved for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import zip_longest
from typing import Any, Final

from loomwright.circuit.elements import (
    ConstantPower,
    Driver,
    Element,
    Fuse,
    Load,
    Resistor,
    Source,
    Switch,
    Transformed,
    ends,
)
from loomwright.circuit.laws import Law
from loomwright.invalid import InvalidInput, raise_all

SHUNT_S: Final = 1e-9
"""From every node to the reference: part of the model, so that no node is ever undefined. [S]"""

OPEN_OHM: Final = 1e17
"""An open switch, fuse or wire; far above the shunts. [ohm]"""


@dataclass(frozen=True, slots=True, init=False)
class Network:
    """Elements between named nodes. Every node has a shunt of 1e-9 S to the reference.

    Parameters
    ----------
    elements : sequence of Element
        Each with a name of its own.
    reference : str
        The node whose voltage is 0.

    Attributes
    ----------
    nodes : tuple of str
        Every node but the reference, in the order the elements name them.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if names repeat or no element reaches the reference.
    """

    elements: tuple[Element, ...]
    reference: str = "0"
    nodes: tuple[str, ...] = field(init=False, repr=False, compare=False)
    _by_name: Mapping[str, Element] = field(init=False, repr=False, compare=False)

    def __init__(self, elements: Iterable[Element], reference: str = "0") -> None:
        taken = tuple(elements)
        raise_all(list(_problems(taken, reference)), "the network")
        names = dict.fromkeys(node for e in taken for pair in ends(e) for node in pair)
        names.pop(reference)
        for name, value in (
            ("elements", taken),
            ("reference", reference),
            ("nodes", tuple(names)),
            ("_by_name", {element.name: element for element in taken}),
        ):
            object.__setattr__(self, name, value)

    def element(self, name: str) -> Element:
        """Return the element of that name.

        Raises
        ------
        InvalidInput
            If there is none.
        """
        if name not in self._by_name:
            raise InvalidInput("element", name, "name an element of the network")
        return self._by_name[name]


@dataclass(frozen=True, slots=True)
class Case:
    """Other numbers for some elements of a network, by name: a command, a fault, a sample.

    Parameters
    ----------
    resistance_ohm : mapping of str to float
        For resistors, switches, fuses, drivers, sources and converters; infinite is open. [ohm]
    closed : mapping of str to bool
        For switches and drivers, and for fuses (False is pulled).
    emf_v : mapping of str to float
        For sources and converters. [V]
    law : mapping of str to Law
        For loads.
    power_w : mapping of str to float
        For loads of constant power. [W]
    """

    resistance_ohm: Mapping[str, float] = field(default_factory=dict)
    closed: Mapping[str, bool] = field(default_factory=dict)
    emf_v: Mapping[str, float] = field(default_factory=dict)
    law: Mapping[str, Law] = field(default_factory=dict)
    power_w: Mapping[str, float] = field(default_factory=dict)


def need_alike(network: Network, other: Network) -> None:
    """Refuse two networks that differ in more than resistances, EMFs, laws and powers.

    Raises
    ------
    InvalidInput
        Naming the first element that is another.
    """
    if other is network:
        return
    for one, two in zip_longest(network.elements, other.elements):
        if one is None or two is None or _fixed(one) != _fixed(two):
            name = (one or two).name
            raise InvalidInput("element", name, "give networks of the same elements and nodes")


def _fixed(element: Element) -> tuple[object, ...]:
    """What no case changes of an element."""
    kept: tuple[object, ...] = (type(element), element.name, ends(element))
    match element:
        case Fuse():
            return (*kept, element.rating_a, element.opens_at, element.resets)
        case Driver():
            return (*kept, element.limit_a, element.least_a, element.latches)
        case ConstantPower():
            limits = (element.off_below_v, element.on_above_v, element.max_current_a)
            return (*kept, *limits, element.off_resistance_ohm)
        case Transformed():
            limits = (element.off_below_v, element.on_above_v or 0.0, element.efficiency)
            return (*kept, *limits, element.off_resistance_ohm)
        case _:
            return kept


_TAKES: Mapping[str, tuple[type, ...]] = {
    "resistance_ohm": (Resistor, Switch, Fuse, Driver, Source, Transformed),
    "closed": (Switch, Fuse, Driver),
    "emf_v": (Source, Transformed),
    "law": (Load,),
    "power_w": (ConstantPower,),
}


def elements_in(network: Network, case: Case) -> tuple[Element, ...]:
    """Return the elements as the case has them.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`: an unknown name, a quantity the element does not have, a value it
        cannot take.
    """
    changes: dict[str, dict[str, object]] = {}
    problems = []
    for quantity, kinds in _TAKES.items():
        for name, value in getattr(case, quantity).items():
            field_name = f"case.{quantity}[{name}]"
            if name not in network._by_name:
                problems.append(InvalidInput(field_name, value, "name an element of the network"))
            elif not isinstance(network._by_name[name], kinds):
                wanted = " or ".join(kind.__name__ for kind in kinds)
                problems.append(InvalidInput(field_name, value, f"name a {wanted}"))
            else:
                changes.setdefault(name, {})[quantity] = value
    changed: dict[str, Element] = {}
    for name, values in changes.items():
        try:
            changed[name] = _changed(network._by_name[name], values)
        except InvalidInput as problem:
            problems.append(problem)
    raise_all(problems, "the case")
    return tuple(changed.get(element.name, element) for element in network.elements)


def _changed(element: Element, values: Mapping[str, Any]) -> Element:
    law = values.get("law")
    if law is not None and not isinstance(law, Law):
        raise InvalidInput(f"{element.name}.law", law, "give a law")
    if isinstance(element, Fuse) and "closed" in values:
        rest = {key: value for key, value in values.items() if key != "closed"}
        return replace(element, open=not values["closed"], **rest)
    return replace(element, **values)


def _problems(elements: Iterable[Element], reference: str) -> Iterator[InvalidInput]:
    seen: set[str] = set()
    reached = False
    for element in elements:
        if element.name in seen:
            yield InvalidInput("element name", element.name, "use each name once")
        seen.add(element.name)
        reached = reached or any(reference in pair for pair in ends(element))
    if not reached:
        yield InvalidInput("reference", reference, "join at least one element to it")
