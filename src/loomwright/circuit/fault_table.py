"""Faults as numbers in rows, for every base case."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Cases, Floats, Whole
from loomwright.circuit.elements import Driver, Fuse, Resistor, Switch
from loomwright.circuit.faults import (
    Bridged,
    Fault,
    Join,
    Opened,
    Resisted,
    Shorted,
    Swapped,
    short_across,
    swapped_joins,
)
from loomwright.circuit.layout import OPEN_S
from loomwright.circuit.plan import Plan

Change = tuple[int, float, int]
"""A row, its number, and the row it follows: -1, or that whose element the edge stands for."""


@dataclass(frozen=True, slots=True)
class FaultTable:
    """What each fault changes.

    Attributes
    ----------
    rows, follows : int array, shape (fault, edit)
        Rows that change, and for an edge that stands for an element its row; -1 for none.
    numbers : float array, shape (base, fault, edit)
        Their numbers.
    """

    rows: Whole
    follows: Whole
    numbers: Floats

    def put(self, cases: Cases, fault: NDArray[np.intp]) -> Cases:
        """Return the cases, each with one fault more.

        Where two faults change the same element, the larger resistance holds.
        """
        rows, follows = self.rows[fault], self.follows[fault]
        numbers = self.numbers[cases.base, fault]
        before, edits = cases.edit_rows, cases.edits.copy()
        for old in range(before.shape[1]):
            for new in range(rows.shape[1]):
                same = (before[:, old] == rows[:, new]) & (rows[:, new] >= 0)
                least = np.minimum(edits[:, old], numbers[:, new])
                numbers[:, new] = np.where(same, least, numbers[:, new])
                led = (before[:, old] == follows[:, new]) & (follows[:, new] >= 0)
                numbers[:, new] = np.where(led, least, numbers[:, new])
        return replace(cases, edits=edits).edited(rows, numbers)


def tabulate(
    plan: Plan, faults: Sequence[Fault], joins: Mapping[frozenset[str], int]
) -> FaultTable:
    """Write down the rows and numbers of faults.

    Parameters
    ----------
    plan : Plan
        The network compiled, with an extra edge for every pair of nodes a fault joins.
    faults : sequence of Fault
        The faults.
    joins : mapping of frozenset to int
        Row of the extra edge between two nodes.
    """
    writer = _Writer(plan, joins)
    changes = [
        [list(writer.changes(fault, base)) for fault in faults]
        for base in range(len(plan.elements))
    ]
    most = max((len(each) for each in changes[0]), default=0)
    rows = np.full((len(faults), most), -1, dtype=np.int32)
    follows = rows.copy()
    numbers = np.zeros((len(changes), len(faults), most))
    for base, of_base in enumerate(changes):
        for fault, of_fault in enumerate(of_base):
            for n, (row, number, follow) in enumerate(of_fault):
                rows[fault, n], follows[fault, n] = row, follow
                numbers[base, fault, n] = number
    return FaultTable(rows, follows, numbers)


@dataclass(frozen=True, slots=True)
class _Writer:
    """Changes that faults make."""

    plan: Plan
    joins: Mapping[frozenset[str], int]

    def changes(self, fault: Fault, base: int) -> Iterator[Change]:
        """What a fault changes in one base."""
        layout, network = self.plan.layout, self.plan.layout.network
        match fault:
            case Opened(element=name) if name in layout.factor:
                yield layout.factor[name], 0.0, -1
            case Opened(element=name):
                yield layout.conductance[name], OPEN_S, -1
            case Resisted(element=name, added_ohm=more):
                ohm = 1.0 / self._conductance_s(name, base) + more
                yield layout.conductance[name], max(1.0 / ohm, OPEN_S), -1
            case Shorted(element=name, resistance_ohm=ohm):
                if isinstance(network.element(name), Resistor | Switch | Fuse | Driver):
                    beside = self._conductance_s(name, base) + 1.0 / ohm
                    yield layout.conductance[name], beside, -1
                else:
                    yield self._join(short_across(network, fault)), 1.0 / ohm, -1
            case Bridged(a=a, b=b, resistance_ohm=ohm):
                yield self._join((a, b)), 1.0 / ohm, -1
            case Swapped():
                yield from self._swap(fault, base)

    def _swap(self, fault: Swapped, base: int) -> Iterator[Change]:
        for name in (fault.first, fault.second):
            yield self.plan.layout.conductance[name], OPEN_S, -1
        for join, name in swapped_joins(self.plan.layout.network, fault):
            row = self.plan.layout.conductance[name]
            yield self._join(join), self._conductance_s(name, base), row

    def _conductance_s(self, name: str, base: int) -> float:
        return float(self.plan.values[self.plan.layout.conductance[name], base])

    def _join(self, join: Join | None) -> int:
        return self.joins[frozenset(join or ())]
