"""A network, and the cases it is solved for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from loomwright.circuit.elements import (
    ConstantPower,
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
from loomwright.circuit.program import Branch, Topology
from loomwright.invalid import InvalidInput, raise_all


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
    topology : Topology
        The shape, with one branch per element (two for a converter, input first).

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if names repeat or no element reaches the reference.
    """

    elements: tuple[Element, ...]
    reference: str = "0"
    nodes: tuple[str, ...] = field(init=False, repr=False, compare=False)
    topology: Topology = field(init=False, repr=False, compare=False)
    _by_name: Mapping[str, Element] = field(init=False, repr=False, compare=False)
    _first_branch: Mapping[str, int] = field(init=False, repr=False, compare=False)

    def __init__(self, elements: Iterable[Element], reference: str = "0") -> None:
        taken = tuple(elements)
        raise_all(list(_problems(taken, reference)), "the network")
        pairs = [pair for element in taken for pair in ends(element)]
        names = dict.fromkeys(node for pair in pairs for node in pair)
        names.pop(reference)
        number = {node: n for n, node in enumerate(names)}
        number[reference] = len(names)
        loads = [
            isinstance(element, Load | ConstantPower | Transformed)
            for element in taken
            for _ in ends(element)
        ]
        branches = tuple(
            Branch(number[a], number[b], is_load)
            for (a, b), is_load in zip(pairs, loads, strict=True)
        )
        first: dict[str, int] = {}
        count = 0
        for element in taken:
            first[element.name] = count
            count += len(ends(element))
        for name, value in (
            ("elements", taken),
            ("reference", reference),
            ("nodes", tuple(names)),
            ("topology", Topology(len(names), branches)),
            ("_by_name", {element.name: element for element in taken}),
            ("_first_branch", first),
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

    def branch(self, name: str) -> int:
        """Number of the (first) branch of an element."""
        self.element(name)
        return self._first_branch[name]


@dataclass(frozen=True, slots=True)
class Case:
    """Other numbers for some elements of a network, by name: a command, a fault, a sample.

    Parameters
    ----------
    resistance_ohm : mapping of str to float
        For resistors, switches, fuses, sources and converters; infinite is open. [ohm]
    closed : mapping of str to bool
        For switches, and for fuses (False is pulled).
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


_TAKES: Mapping[str, tuple[type, ...]] = {
    "resistance_ohm": (Resistor, Switch, Fuse, Source, Transformed),
    "closed": (Switch, Fuse),
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
