"""What can be wrong with a network: each fault is other numbers, and perhaps an edge more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from loomwright.circuit.elements import (
    ConstantPower,
    Driver,
    Element,
    Fuse,
    Resistor,
    Switch,
    Transformed,
    ends,
)
from loomwright.circuit.network import Network
from loomwright.circuit.refusals import need_positive, need_two_nodes
from loomwright.invalid import InvalidInput

Join: TypeAlias = tuple[str, str]
"""Two nodes that a fault joins."""


@dataclass(frozen=True, slots=True)
class Opened:
    """An element that carries nothing: a broken wire, a lost contact, a burnt-out filament."""

    element: str


@dataclass(frozen=True, slots=True)
class Resisted:
    """An element with more resistance than it should have: corrosion, a bad crimp. [ohm]"""

    element: str
    added_ohm: float

    def __post_init__(self) -> None:
        need_positive(f"{self.element}: added_ohm", self.added_ohm, finite=False)


@dataclass(frozen=True, slots=True)
class Shorted:
    """An element with its two ends joined. [ohm]"""

    element: str
    resistance_ohm: float = 0.005

    def __post_init__(self) -> None:
        need_positive(f"{self.element}: resistance_ohm", self.resistance_ohm)


@dataclass(frozen=True, slots=True)
class Bridged:
    """Two nodes that touch: chafed wires, water in a junction. [ohm]"""

    a: str
    b: str
    resistance_ohm: float = 0.005

    def __post_init__(self) -> None:
        need_two_nodes("a bridge", self.a, self.b)
        need_positive("a bridge: resistance_ohm", self.resistance_ohm)


@dataclass(frozen=True, slots=True)
class Swapped:
    """Two conductors with their second ends exchanged: two pins, two wires of a splice."""

    first: str
    second: str

    def __post_init__(self) -> None:
        if self.first == self.second:
            raise InvalidInput("swapped", self.first, "name two different elements")


Fault: TypeAlias = Opened | Resisted | Shorted | Bridged | Swapped


def check_fault(network: Network, fault: Fault) -> None:
    """Refuse a fault the network cannot have.

    Raises
    ------
    InvalidInput
        If it names an element or a node that is not there, or one of the wrong kind.
    """
    match fault:
        case Opened(element=name):
            if isinstance(network.element(name), ConstantPower | Transformed):
                raise InvalidInput("opened", name, "open the element before or behind it")
        case Resisted(element=name):
            _need_conductor(network, name)
        case Shorted(element=name):
            network.element(name)
        case Bridged(a=a, b=b):
            for node in (a, b):
                if node not in (*network.nodes, network.reference):
                    raise InvalidInput("bridged", node, "name a node of the network")
        case Swapped(first=first, second=second):
            _need_conductor(network, first)
            _need_conductor(network, second)


def short_across(network: Network, fault: Fault) -> Join | None:
    """Return the edge a fault closes across an element, if the element cannot take it itself."""
    if isinstance(fault, Shorted):
        element = network.element(fault.element)
        if not isinstance(element, Resistor | Switch | Fuse | Driver):
            return ends(element)[0]
    return None


def crossings(network: Network, fault: Fault) -> tuple[Join, ...]:
    """Return the edges a fault closes between other nodes, for a swap first to second, and back."""
    match fault:
        case Bridged(a=a, b=b):
            return ((a, b),)
        case Swapped():
            return tuple(join for join, _ in swapped_joins(network, fault))
        case _:
            return ()


def swapped_joins(network: Network, fault: Swapped) -> Iterator[tuple[Join, str]]:
    """Edges that stand for swapped conductors, each with the one whose numbers it has.

    An edge from a node to itself is left out.
    """
    (a, b), (c, d) = ends(network.element(fault.first))[0], ends(network.element(fault.second))[0]
    for join, name in (((a, d), fault.first), ((c, b), fault.second)):
        if join[0] != join[1]:
            yield join, name


def _need_conductor(network: Network, name: str) -> None:
    element: Element = network.element(name)
    if not isinstance(element, Resistor | Switch | Fuse | Driver):
        kind = type(element).__name__
        raise InvalidInput(name, kind, "name a resistor, switch, fuse or driver for this fault")
