"""Where the numbers of a network stand: a row for each, the same in every case.

A case is a column of such numbers: conductances, EMFs, and for each load a factor on its
current, 1 unless it is burnt out or off. Commands, faults, tolerances and gauges are other
numbers in the same rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, MutableSequence, Sequence
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from loomwright.circuit.converter import ConverterOutput
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
)
from loomwright.circuit.forms import OHMIC, form_of
from loomwright.circuit.laws import Law
from loomwright.circuit.network import OPEN_OHM, Network
from loomwright.circuit.program import Branch, Program, Topology, compile_program

OPEN_S: Final = 1.0 / OPEN_OHM
"""An open switch, fuse or wire; far below the shunts. [S]"""

Signature = tuple[int, ...]
"""Family of the law of each element that has one, in the order of the elements."""


class Edge(NamedTuple):
    """A branch: a conductance in a row, with an EMF if `emf_row` is not -1.

    With a `family` it is a load, its law bends, and the row has the factor on its current.
    """

    a: int
    b: int
    row: int
    emf_row: int = -1
    family: int = OHMIC
    name: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """Rows of a network whose loads have laws of certain families.

    Attributes
    ----------
    conductance, emf, factor : mapping of str to int
        Row of an element's conductance [S], EMF [V], factor on the current of its law. A
        converter has the conductance of its input, and the factor of its output.
    output : mapping of str to int
        Row of the conductance that stands for a converter's output while it is off. [S]
    linear : tuple of Edge
        The branches of the network that do not bend.
    extras : tuple of Edge
        Edges that are open unless a fault closes them, their rows last.
    loads : tuple of Edge
        The branches that bend, each family together.
    node : mapping of str to int
        Number of every node, the reference last.
    fuses, devices : tuple of int
        Which elements open by their current, and which are devices of constant power.
    rows : int
        How many there are.
    """

    network: Network
    signature: Signature
    conductance: Mapping[str, int]
    emf: Mapping[str, int]
    factor: Mapping[str, int]
    output: Mapping[str, int]
    linear: tuple[Edge, ...]
    extras: tuple[Edge, ...]
    loads: tuple[Edge, ...]
    node: Mapping[str, int]
    fuses: tuple[int, ...]
    devices: tuple[int, ...]
    rows: int


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A program, and the rows its branches take their numbers from.

    `linear` are its first branches, `loads` the rest.
    """

    program: Program
    linear: tuple[Edge, ...]
    loads: tuple[Edge, ...]


def signature_of(elements: Iterable[Element]) -> Signature:
    """Families of the laws of the loads and of the outputs of converters."""
    laws = (law_of(element) for element in elements if isinstance(element, Load | Transformed))
    return tuple(form_of(law)[0] for law in laws if law is not None)


def law_of(element: Element) -> Law | None:
    """Law of a load or of the output of a converter; none of anything else."""
    match element:
        case Load(law=law):
            return law
        case Transformed():
            output = (element.emf_v, element.resistance_ohm, element.max_current_a)
            return ConverterOutput(*output)
        case _:
            return None


def lay_out(
    network: Network, signature: Signature, extras: Sequence[tuple[str, str]] = ()
) -> Layout:
    """Give every number of a network its row.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    signature : tuple of int
        Families of the laws; a plain conductance is no load that bends.
    extras : sequence of (str, str)
        Node pairs of edges that a fault may close.
    """
    bench = _Bench({name: n for n, name in enumerate(network.nodes)})
    bench.node[network.reference] = len(network.nodes)
    families = iter(signature)
    for element in network.elements:
        bench.add(element, families)
    first_extra = len(bench.linear)
    for a, b in extras:
        bench.edge(a, b)
    return Layout(
        network,
        signature,
        bench.conductance,
        bench.emf,
        bench.factor,
        bench.output,
        tuple(bench.linear[:first_extra]),
        tuple(bench.linear[first_extra:]),
        tuple(sorted(bench.loads, key=lambda load: load.family)),
        bench.node,
        _which(network, (Fuse, Driver)),
        _which(network, (ConstantPower, Transformed)),
        bench.rows,
    )


def _which(network: Network, kinds: tuple[type, ...]) -> tuple[int, ...]:
    return tuple(n for n, element in enumerate(network.elements) if isinstance(element, kinds))


def shape_of(layout: Layout, extras: Iterable[Edge] = ()) -> Shape:
    """Program for a layout with some of its extra edges."""
    linear = (*layout.linear, *extras)
    branches = [Branch(one.a, one.b, is_source=one.emf_row >= 0) for one in linear]
    branches += [Branch(load.a, load.b, is_load=True) for load in layout.loads]
    program = compile_program(Topology(len(layout.network.nodes), tuple(branches)))
    return Shape(program, linear, layout.loads)


def write_numbers(layout: Layout, element: Element, column: MutableSequence[float]) -> None:
    """Write the numbers of an element into their rows; a device is off."""
    name = element.name
    if name in layout.factor:
        column[layout.factor[name]] = 1.0
    match element:
        case Load(law=law):
            if name in layout.conductance:
                column[layout.conductance[name]] = form_of(law)[1][0]
        case ConstantPower():
            column[layout.conductance[name]] = 1.0 / element.off_resistance_ohm
        case Transformed():
            off_s = 1.0 / element.off_resistance_ohm
            column[layout.conductance[name]] = column[layout.output[name]] = off_s
            column[layout.factor[name]] = 0.0
        case Source():
            column[layout.conductance[name]] = conductance_s(element)
            column[layout.emf[name]] = element.emf_v
        case _:
            column[layout.conductance[name]] = conductance_s(element)


def conductance_s(element: Resistor | Switch | Fuse | Driver | Source) -> float:
    """Conductance of an element as it stands, open or closed. [S]"""
    is_open = (isinstance(element, Switch | Driver) and not element.closed) or (
        isinstance(element, Fuse) and element.open
    )
    return OPEN_S if is_open else max(1.0 / element.resistance_ohm, OPEN_S)


@dataclass(slots=True)
class _Bench:
    """A layout in the making."""

    node: dict[str, int]
    conductance: dict[str, int] = field(default_factory=dict)
    emf: dict[str, int] = field(default_factory=dict)
    factor: dict[str, int] = field(default_factory=dict)
    output: dict[str, int] = field(default_factory=dict)
    linear: list[Edge] = field(default_factory=list)
    loads: list[Edge] = field(default_factory=list)
    rows: int = 0

    def add(self, element: Element, families: Iterable[int]) -> None:
        """Lay out one element; one with a law takes the next of the families."""
        name = element.name
        match element:
            case Source(plus=plus, minus=minus):
                self.emf[name] = self._row()
                self.conductance[name] = self.edge(plus, minus, self.emf[name])
            case Load(a=a, b=b):
                family = next(iter(families))
                if family == OHMIC:
                    self.conductance[name] = self.edge(a, b)
                else:
                    self._bent(name, a, b, family)
            case Transformed():
                self.conductance[name] = self.edge(element.in_a, element.in_b)
                self.output[name] = self.edge(element.out_plus, element.out_minus)
                self._bent(name, element.out_plus, element.out_minus, next(iter(families)))
            case _:
                self.conductance[name] = self.edge(element.a, element.b)

    def edge(self, a: str, b: str, emf_row: int = -1) -> int:
        """Lay out a branch that does not bend; return its row."""
        row = self._row()
        self.linear.append(Edge(self.node[a], self.node[b], row, emf_row))
        return row

    def _bent(self, name: str, a: str, b: str, family: int) -> None:
        self.factor[name] = self._row()
        a_b = self.node[a], self.node[b]
        self.loads.append(Edge(*a_b, self.factor[name], family=family, name=name))

    def _row(self) -> int:
        self.rows += 1
        return self.rows - 1
