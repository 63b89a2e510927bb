"""The balance of the few cases that full steps do not settle.

The laws increase strictly, so the answer is the minimum of a convex function, the co-content. Its
derivative along the step needs the laws alone: the sum, over the loads, of (current by the law -
current the network carries) times the change of voltage. A full step is taken unless that
derivative shows that it went past the minimum; then the step is cut back to near the minimum. This
settles from any start.
"""

from __future__ import annotations

import numpy as np

from loomwright.circuit.balance import (
    CURRENT_TOLERANCE_A,
    STANDSTILL,
    VOLTAGE_TOLERANCE_V,
    Balance,
    ties_of,
)
from loomwright.circuit.batch import Floats
from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import Laws
from loomwright.circuit.room import Room
from loomwright.circuit.tangents import TangentNetwork


def find_balance_carefully(
    shape: Shape, laws: Laws, values: Floats, start_v: Floats, rounds: int
) -> Balance:
    """Balance of every case from any start, by steps cut back along the co-content.

    Parameters
    ----------
    shape : Shape
        The program, and its rows.
    laws : Laws
        Of the loads in these cases.
    values : float array, shape (row, case)
        The numbers.
    start_v : float array, shape (load, case)
        Voltages across the loads to start from. [V]
    rounds : int
        At most so many.
    """
    network = TangentNetwork(shape, values, Room())
    factor = network.factor
    here, carried_here = start_v, None
    current, slope, _ = laws.evaluate(here, factor)
    for done in range(1, rounds + 1):
        there = network.answer(current, slope, here)
        carried = current + slope * (there - here)
        current_there, slope_there, _ = laws.evaluate(there, factor)
        miss = np.abs(current_there - carried)
        fine = miss <= np.minimum(CURRENT_TOLERANCE_A, VOLTAGE_TOLERANCE_V * slope)
        fine |= np.abs(there - here) <= STANDSTILL * (1.0 + np.abs(there))
        settled = np.asarray(fine.all(axis=0))
        if settled.all() or done == rounds:
            break
        share = np.ones(there.shape[1])
        if carried_here is not None:
            share = _share(laws, factor, (here, there), (carried_here, carried))
        carried_here = carried if carried_here is None else carried_here
        carried_here = carried_here + share * (carried - carried_here)
        here = here + share * (there - here)
        current, slope, _ = laws.evaluate(here, factor)
    return Balance(
        network.voltages(),
        there,
        miss.max(axis=0, initial=0.0),
        settled,
        done,
        ties_of(there, current_there, slope_there),
    )


def _share(
    laws: Laws,
    factor: Floats | None,
    ends_v: tuple[Floats, Floats],
    carried_a: tuple[Floats, Floats],
) -> Floats:
    """Share of the step to take in each case: 1, or near where the co-content stops falling."""
    here, there = ends_v
    step, change = there - here, carried_a[1] - carried_a[0]

    def rise(t: Floats) -> Floats:
        current = laws.evaluate(here + t * step, factor)[0]
        total: Floats = ((current - carried_a[0] - t * change) * step).sum(axis=0)
        return total

    low, high = np.zeros(here.shape[1]), np.ones(here.shape[1])
    start = low_rise = rise(low)
    high_rise = rise(high)
    share = np.ones(here.shape[1])
    searching = (start < 0.0) & (high_rise > -0.5 * start)
    for _ in range(30):
        if not searching.any():
            return share
        span = np.where(searching, high_rise - low_rise, 1.0)
        t = (low * high_rise - high * low_rise) / span
        t = np.clip(t, low + 0.1 * (high - low), high - 0.1 * (high - low))
        at = rise(np.where(searching, t, 0.0))
        share = np.where(searching, t, share)
        searching &= np.abs(at) > -0.2 * start
        below = at < 0.0
        low, low_rise = np.where(below, t, low), np.where(below, at, low_rise)
        high, high_rise = np.where(below, high, t), np.where(below, high_rise, at)
    return np.where(searching, np.where(low > 0.0, low, high), share)
