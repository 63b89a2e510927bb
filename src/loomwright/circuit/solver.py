"""Solving a network for one case, or for many."""

from __future__ import annotations

from collections.abc import Iterable

from loomwright.circuit.balance import find_balance
from loomwright.circuit.network import Case, Network, elements_in
from loomwright.circuit.solution import Solution, read_solution
from loomwright.circuit.values import branch_values

NOMINAL = Case()


def solve(network: Network, case: Case = NOMINAL) -> Solution:
    """Solve a network in one case."""
    elements = elements_in(network, case)
    values = branch_values(elements)
    balance = find_balance(network.topology, values)
    return read_solution(
        network,
        elements,
        values,
        balance.voltages_v,
        opened=(),
        off=frozenset(),
        iterations=balance.rounds,
    )


def solve_many(network: Network, cases: Iterable[Case]) -> tuple[Solution, ...]:
    """Solve a network in each case, in their order."""
    return tuple(solve(network, case) for case in cases)
