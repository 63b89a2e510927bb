"""The one balance of a network of sources, resistances and loads: Newton's method, batched.

In each round every load is replaced by its tangent, the linear network is solved, and the
loads move to the voltages found. The linear equations hold exactly after each solve, so the
only residual is how far each law is from its tangent there; the bend of the law bounds that.
A case is done when for every load the step was short and that bound is below 1e-10 A and,
divided by the slope, below 1e-9 V; or when the voltages no longer move.

Two stops keep the steps from ringing: a filament that would change its sign stops at 0 V on
the way, and a string that falls below its threshold in the first rounds is tried dark.

The few cases that still do not settle are left to `careful`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Floats
from loomwright.circuit.elimination import Row
from loomwright.circuit.forms import REACH_V
from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import STOP, THRESHOLD, Laws
from loomwright.circuit.room import Room
from loomwright.circuit.tangents import TangentNetwork

CURRENT_TOLERANCE_A: Final = 1e-10
VOLTAGE_TOLERANCE_V: Final = 1e-9
STANDSTILL: Final = 1e-12
DARK_ROUNDS: Final = 4
"""Rounds in which a string that falls below its threshold is tried dark."""


@dataclass(frozen=True, slots=True)
class Balance:
    """Balance of a batch, for the cases that settled.

    Attributes
    ----------
    voltages_v : list of Row
        Of every node, the reference last. [V]
    load_v : float array, shape (load, case)
        Across every load. [V]
    residual_a : float array, shape (case,)
        No law is farther than this from the current the network carries. [A]
    settled : bool array, shape (case,)
        Whether the case is done; if not, `load_v` is where to go on from.
    rounds : int
        Newton rounds.
    tie_s : float array, shape (load, case)
        How strongly each load ties its ends: its slope or, if that is more, its current over
        its voltage. A lamp at its current limit still ties its ends together. [S]
    """

    voltages_v: list[Row]
    load_v: Floats
    residual_a: Floats
    settled: NDArray[np.bool_]
    rounds: int
    tie_s: Floats


def find_balance(
    shape: Shape,
    laws: Laws,
    values: Floats,
    start_v: Floats,
    *,
    rounds: int,
    leave: float = 0.0,
    room: Room | None = None,
) -> Balance:
    """Balance of every case, by full steps with stops.

    Parameters
    ----------
    shape : Shape
        The program, and its rows.
    laws : Laws
        Of the loads in these cases.
    values : float array, shape (row, case)
        The numbers.
    start_v : float array, shape (load, case)
        Voltages across the loads to start from; they change the time, not the answer. [V]
    rounds : int
        At most so many.
    leave : float
        Share of the cases that may be left unsettled.
    room : Room, optional
        Memory to use.
    """
    network = TangentNetwork(shape, values, room or Room())
    factor = network.factor
    here = start_v
    for done in range(1, rounds + 1):
        current, slope, bend = laws.evaluate(here, factor)
        there = network.answer(current, slope, here)
        step = there - here
        moved = np.abs(step)
        miss = bend * moved * moved
        fine = (miss <= np.minimum(CURRENT_TOLERANCE_A, VOLTAGE_TOLERANCE_V * slope)) & (
            moved <= REACH_V
        )
        fine |= moved <= STANDSTILL * (1.0 + np.abs(there))
        settled = np.asarray(fine.all(axis=0))
        left = len(settled) - int(np.count_nonzero(settled))
        if left <= leave * len(settled) or done == rounds:
            break
        here = _stopped(laws, here, there, done)
    return Balance(
        network.voltages(),
        there if left == 0 else np.where(settled, there, _stopped(laws, here, there, done)),
        miss.max(axis=0, initial=0.0),
        settled,
        done,
        ties_of(there, current + slope * step, slope),
    )


def _stopped(laws: Laws, here: Floats, there: Floats, done: int) -> Floats:
    """Where to go: there, or 0 V for a load that stops over."""
    stop = (np.abs(here) > laws.parameters[STOP]) & (here * there < 0.0)
    if done <= DARK_ROUNDS:
        threshold = laws.parameters[THRESHOLD]
        stop |= (here > threshold) & (there < threshold)
    return np.where(stop, 0.0, there)


def ties_of(across_v: Floats, current: Floats, slope: Floats) -> Floats:
    """How strongly loads tie their ends: slope or, if more, current over voltage. [S]"""
    chord = np.divide(current, across_v, out=np.zeros_like(current), where=across_v != 0.0)
    return np.maximum(slope, np.abs(chord))
