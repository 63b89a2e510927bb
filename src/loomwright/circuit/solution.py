"""What a solved network shows: voltages, currents, and how well they add up."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from loomwright.circuit.elements import Element, Source, Transformed, ends
from loomwright.circuit.network import Network
from loomwright.circuit.states import Settled
from loomwright.circuit.values import SHUNT_S, Values
from loomwright.invalid import InvalidInput

HELD_S: Final = 1e-5
"""A node tied to the reference by less than this floats: a meter on it reads nothing sure. [S]"""


@dataclass(frozen=True, slots=True)
class Solution:
    """State of a network in one case.

    Attributes
    ----------
    voltages_v : mapping of str to float
        Of every node, floating ones included. [V]
    currents_a : mapping of str to float
        Of every element from its first node to its second; of a source out of its plus; of a
        converter into its input. [A]
    outputs_a : mapping of str to float
        Of every converter out of its plus. [A]
    floating : frozenset of str
        Nodes tied to the reference by less than 1e-5 S: their voltage means nothing.
    opened : tuple of str
        Fuses that opened, in that order.
    off : frozenset of str
        Loads of constant power and converters that dropped out.
    kirchhoff_residual_a : float
        The largest sum of currents at any node. [A]
    power_residual_w : float
        Power the sources give less power taken everywhere, at most rounding. [W]
    iterations : int
        Newton rounds in all.
    """

    voltages_v: Mapping[str, float]
    currents_a: Mapping[str, float]
    outputs_a: Mapping[str, float]
    floating: frozenset[str]
    opened: tuple[str, ...]
    off: frozenset[str]
    kirchhoff_residual_a: float
    power_residual_w: float
    iterations: int
    _ends: Mapping[str, tuple[str, str]]

    def voltage_v(self, node: str) -> float:
        """Voltage of a node against the reference. [V]

        Raises
        ------
        InvalidInput
            If there is no such node.
        """
        if node not in self.voltages_v:
            raise InvalidInput("node", node, "name a node of the network")
        return self.voltages_v[node]

    def across_v(self, element: str) -> float:
        """Voltage across an element, first node less second; of a converter at its input. [V]

        Raises
        ------
        InvalidInput
            If there is no such element.
        """
        if element not in self._ends:
            raise InvalidInput("element", element, "name an element of the network")
        a, b = self._ends[element]
        return self.voltages_v[a] - self.voltages_v[b]


def read_solution(network: Network, elements: Sequence[Element], settled: Settled) -> Solution:
    """Read the voltages and currents of a network at rest."""
    values, voltages_v = settled.values, settled.voltages_v
    across = [voltages_v[a] - voltages_v[b] for a, b, _ in network.topology.branches]
    currents = [
        law.current_a(v) if law is not None else g * (v - emf)
        for law, g, emf, v in zip(
            values.laws, values.conductance_s, values.emf_v, across, strict=True
        )
    ]
    first = {element.name: network.branch(element.name) for element in elements}
    return Solution(
        voltages_v=dict(zip((*network.nodes, network.reference), voltages_v, strict=True)),
        currents_a={
            element.name: currents[first[element.name]] * (-1 if isinstance(element, Source) else 1)
            for element in elements
        },
        outputs_a={
            element.name: -currents[first[element.name] + 1]
            for element in elements
            if isinstance(element, Transformed)
        },
        floating=_floating(network, values, across, currents),
        opened=settled.opened,
        off=settled.off,
        kirchhoff_residual_a=_kirchhoff_residual_a(network, currents, voltages_v),
        power_residual_w=_power_residual_w(values, across, currents, voltages_v),
        iterations=settled.rounds,
        _ends={element.name: ends(element)[0] for element in elements},
    )


def _kirchhoff_residual_a(
    network: Network, currents: Sequence[float], voltages_v: Sequence[float]
) -> float:
    out = [SHUNT_S * v for v in voltages_v]
    for (a, b, _), current in zip(network.topology.branches, currents, strict=True):
        out[a] += current
        out[b] -= current
    return max((abs(total) for total in out[:-1]), default=0.0)


def _power_residual_w(
    values: Values,
    across: Sequence[float],
    currents: Sequence[float],
    voltages_v: Sequence[float],
) -> float:
    """EMF times current given, less what every branch and shunt takes."""

    def parts() -> Iterator[float]:
        for emf, v, current in zip(values.emf_v, across, currents, strict=True):
            yield -emf * current
            yield -(v - emf) * current
        for v in voltages_v:
            yield -SHUNT_S * v * v

    return math.fsum(parts())


def _floating(
    network: Network, values: Values, across: Sequence[float], currents: Sequence[float]
) -> frozenset[str]:
    """Nodes out of reach of the reference over 1e-5 S or more.

    A load counts with its slope or, if that is more, with its current over its voltage: a
    lamp at its current limit still ties its ends together.
    """
    reached: dict[int, set[int]] = {n: set() for n in range(len(network.nodes) + 1)}
    for (a, b, _), law, g, v, current in zip(
        network.topology.branches,
        values.laws,
        values.conductance_s,
        across,
        currents,
        strict=True,
    ):
        tie_s = g if law is None else max(law.slope_s(v), abs(current / v) if v else 0.0)
        if tie_s >= HELD_S:
            reached[a].add(b)
            reached[b].add(a)
    held, edge = set(), [len(network.nodes)]
    while edge:
        node = edge.pop()
        if node not in held:
            held.add(node)
            edge.extend(reached[node] - held)
    return frozenset(name for n, name in enumerate(network.nodes) if n not in held)
