"""What a solved network shows: voltages, currents, and how well they add up."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from loomwright.circuit.elements import Source, ends
from loomwright.circuit.network import SHUNT_S
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.circuit.batch import Cases, Floats, Whole
    from loomwright.circuit.plan import Plan
    from loomwright.circuit.settled import Settled


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
        Fuses, breakers and drivers that opened, in that order.
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


def read_solutions(plan: Plan, cases: Cases, settled: Settled) -> tuple[Solution, ...]:
    """Read voltages and currents of networks at rest, every node of which was asked for.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    cases : Cases
        The cases as they came to rest.
    settled : Settled
        What came of them; pair n is node n against the reference.
    """
    import numpy as np

    network, shape = plan.layout.network, plan.shapes[0]
    values = cases.values(plan.values)
    count = values.shape[1]
    voltages = np.concatenate([settled.swept.voltages_v, np.zeros((1, count))])
    branches = _Branches(plan, values, voltages, cases.base)
    currents = _currents_a(plan, branches)
    outputs = _outputs_a(plan, branches)
    out = SHUNT_S * voltages
    for edge, current in zip((*shape.linear, *shape.loads), branches.current_a, strict=True):
        out[edge.a] += current
        out[edge.b] -= current
    nodes = (*network.nodes, network.reference)
    pairs = {element.name: ends(element)[0] for element in network.elements}
    residuals = np.abs(out[:-1]).max(axis=0, initial=0.0).tolist()
    return tuple(
        Solution(
            voltages_v=dict(zip(nodes, at, strict=True)),
            currents_a=dict(zip(currents, through, strict=True)),
            outputs_a=dict(zip(outputs, given, strict=True)),
            floating=frozenset(name for name, loose in zip(nodes, floats, strict=False) if loose),
            opened=_in_order(settled.fuses, opened),
            off=frozenset(
                name for name, is_off in zip(settled.devices, off, strict=True) if is_off
            ),
            kirchhoff_residual_a=residual,
            power_residual_w=math.fsum(taken),
            iterations=rounds,
            _ends=pairs,
        )
        for at, through, given, floats, opened, off, residual, taken, rounds in zip(
            voltages.T.tolist(),
            np.array(list(currents.values())).reshape(-1, count).T.tolist(),
            np.array(list(outputs.values())).reshape(-1, count).T.tolist(),
            settled.swept.floating.T.tolist(),
            settled.opened.T.tolist(),
            settled.off.T.tolist(),
            residuals,
            branches.power_w(voltages).T.tolist(),
            settled.swept.rounds.tolist(),
            strict=True,
        )
    )


def _in_order(names: Sequence[str], opened: Sequence[int]) -> tuple[str, ...]:
    return tuple(name for n, name in sorted(zip(opened, names, strict=True)) if n)


class _Branches:
    """Every branch of a batch: voltage, EMF and current, each of shape (branch, case)."""

    def __init__(self, plan: Plan, values: Floats, voltages: Floats, base: Whole) -> None:
        import numpy as np

        shape = plan.shapes[0]
        edges = (*shape.linear, *shape.loads)
        self.place = {edge.row: n for n, edge in enumerate(edges)}
        self.across_v = voltages[[e.a for e in edges]] - voltages[[e.b for e in edges]]
        self.emf_v = np.zeros_like(self.across_v)
        first = len(shape.linear)
        for n, edge in enumerate(shape.linear):
            if edge.emf_row >= 0:
                self.emf_v[n] = values[edge.emf_row]
        conductance = values[[edge.row for edge in shape.linear]]
        linear = conductance * (self.across_v[:first] - self.emf_v[:first])
        factor = values[[load.row for load in shape.loads]]
        bent = plan.laws.of(base).evaluate(self.across_v[first:], factor)[0]
        self.current_a = np.concatenate([linear, bent])

    def power_w(self, voltages: Floats) -> Floats:
        """What every branch and shunt gives, less what it takes."""
        import numpy as np

        given = -self.emf_v * self.current_a
        taken = (self.across_v - self.emf_v) * self.current_a
        return np.concatenate([given, -taken, -SHUNT_S * voltages * voltages])


def _currents_a(plan: Plan, branches: _Branches) -> dict[str, Floats]:
    """Current of every element, by name."""
    layout = plan.layout
    rows = {**layout.factor, **layout.conductance}
    return {
        element.name: branches.current_a[branches.place[rows[element.name]]]
        * (-1.0 if isinstance(element, Source) else 1.0)
        for element in layout.network.elements
    }


def _outputs_a(plan: Plan, branches: _Branches) -> dict[str, Floats]:
    """Current of every converter out of its plus, by name."""
    current, place, factor = branches.current_a, branches.place, plan.layout.factor
    return {
        name: -current[place[row]] - current[place[factor[name]]]
        for name, row in plan.layout.output.items()
    }
