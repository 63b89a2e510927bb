"""Who is right where we and ngspice differ: one Newton step in long double decides."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from benchmarks.deck import Deck, State
from loomwright.circuit import Load, Source
from loomwright.circuit.elements import ends
from loomwright.circuit.network import SHUNT_S

Long = np.longdouble
Table = NDArray[np.longdouble]
Numbers = NDArray[np.float64]


def exact_voltages(deck: Deck, state: State, near_v: Numbers) -> Numbers:
    """Voltages at every node after one Newton step in 80-bit numbers.

    Parameters
    ----------
    deck : Deck
        The rig.
    state : dict of str to float
        Resistances and EMFs of the case.
    near_v : float array, shape (node,)
        Voltages the step is taken from. [V]

    Notes
    -----
    Nodal analysis with a dense matrix, Gauss elimination with row pivoting. It shares nothing
    with the engine but the laws of the loads.
    """
    network = deck.network
    place = {name: n for n, name in enumerate(network.nodes)}
    volts = dict(zip(network.nodes, near_v.tolist(), strict=True)) | {network.reference: 0.0}
    table = np.zeros((len(place), len(place) + 1), dtype=Long)
    table[np.diag_indices(len(place))] = Long(SHUNT_S)
    for element in network.elements:
        a, b = ends(element)[0]
        if isinstance(element, Load):
            across = volts[a] - volts[b]
            slope = Long(element.law.slope_s(across))
            driven = Long(element.law.current_a(across)) - slope * Long(across)
            _stamp(table, place, (a, b), slope, driven)
            continue
        conductance = Long(1) / Long(state[f"r{element.name}"])
        is_source = isinstance(element, Source)
        emf_v = Long(state[f"v{element.name}"]) if is_source else Long(0)
        _stamp(table, place, (a, b), conductance, -conductance * emf_v)
    for join, name in deck.bridges.items():
        a, b = sorted(join)
        _stamp(table, place, (a, b), Long(1) / Long(state[name]), Long(0))
    return np.asarray(_solved(table), dtype=float)


def _stamp(
    table: Table,
    place: dict[str, int],
    pair: tuple[str, str],
    conductance: np.longdouble,
    driven: np.longdouble,
) -> None:
    """Add a branch that carries `driven` and conductance times voltage from first to second."""
    known = [(place[node], sign) for node, sign in zip(pair, (1, -1), strict=True) if node in place]
    for row, sign in known:
        table[row, -1] -= sign * driven
        for column, other in known:
            table[row, column] += sign * other * conductance


def _solved(table: Table) -> Table:
    count = len(table)
    for n in range(count):
        best = n + int(np.abs(table[n:, n]).argmax())
        table[[n, best]] = table[[best, n]]
        share = table[n + 1 :, n] / table[n, n]
        table[n + 1 :, n:] -= share[:, None] * table[n, n:]
    answer = np.zeros(count, dtype=Long)
    for n in reversed(range(count)):
        answer[n] = (table[n, -1] - table[n, n + 1 : -1] @ answer[n + 1 :]) / table[n, n]
    return answer
