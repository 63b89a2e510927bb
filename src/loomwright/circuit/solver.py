"""Solving a network for one case, or for many."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from loomwright.circuit.network import Case, Network, elements_in
from loomwright.circuit.solution import Solution, read_solution
from loomwright.circuit.states import settle
from loomwright.circuit.unsettled import NoSettledState

NOMINAL: Final = Case()
"""The network as it was made."""


def solve(network: Network, case: Case = NOMINAL) -> Solution:
    """Solve a network in one case.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    case : Case
        Other numbers for some of them.

    Returns
    -------
    Solution
        Within 1e-8 V of exact arithmetic at every node, floating ones included.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if the case does not fit the network.
    NoSettledState
        If a load of constant power or a converter switches on and off for ever; the
        exception holds the solution with it off.
    """
    return _solved(network, case, None)[0]


def solve_many(network: Network, cases: Iterable[Case]) -> tuple[Solution, ...]:
    """Solve a network in each case, in their order; each to the answer of `solve`.

    Each starts from the voltages of the one before, so like cases are best side by side.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if a case does not fit the network.
    NoSettledState
        As from `solve`, at the first case without a settled state.
    """
    solutions = []
    start_v: Sequence[float] | None = None
    for case in cases:
        solution, start_v = _solved(network, case, start_v)
        solutions.append(solution)
    return tuple(solutions)


def _solved(
    network: Network, case: Case, start_v: Sequence[float] | None
) -> tuple[Solution, tuple[float, ...]]:
    """Solution, and the voltages across the loads to start a like case from."""
    elements = elements_in(network, case)
    settled = settle(network, elements, start_v)
    solution = read_solution(network, elements, settled)
    if settled.cycling:
        names = ", ".join(settled.cycling)
        raise NoSettledState(
            f"{names}: drops out under load and comes back without it, over and over; "
            "thicken its wire or take less power",
            settled.cycling,
            solution,
        )
    return solution, settled.load_v
