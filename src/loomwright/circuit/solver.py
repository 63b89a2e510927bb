"""Solving a network for one case, or for many."""

from __future__ import annotations

from collections.abc import Iterable
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
    elements = elements_in(network, case)
    settled = settle(network, elements)
    solution = read_solution(network, elements, settled)
    if settled.cycling:
        names = ", ".join(settled.cycling)
        raise NoSettledState(
            f"{names}: drops out under load and comes back without it, over and over; "
            "thicken its wire or take less power",
            settled.cycling,
            solution,
        )
    return solution


def solve_many(network: Network, cases: Iterable[Case]) -> tuple[Solution, ...]:
    """Solve a network in each case, in their order; each as `solve` would."""
    return tuple(solve(network, case) for case in cases)
