"""Newton's method on the cases of a block at once, compiled: see `circuit.balance`."""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numba import njit
from numba.extending import register_jitable

from loomwright.circuit import forms
from loomwright.circuit.balance import (
    CURRENT_TOLERANCE_A,
    DARK_ROUNDS,
    STANDSTILL,
    VOLTAGE_TOLERANCE_V,
)
from loomwright.circuit.fast.functions import let_numpy_take_lanes
from loomwright.circuit.fast.job import Floats
from loomwright.circuit.fast.lanes import (
    WIDTH,
    add,
    all_equal,
    bits,
    load,
    number,
    store,
    take,
)
from loomwright.circuit.fast.packing import Packed
from loomwright.circuit.fast.stars import compiled, eliminate, substitute_back
from loomwright.circuit.forms import REACH_V
from loomwright.circuit.plan import STOP, THRESHOLD

_FILAMENT, _STRING, _REGULATED, _CONVERTER = range(len(forms.FAMILIES))

let_numpy_take_lanes()
for _law in (*forms.FAMILIES, forms.above, forms.turn):
    register_jitable(inline="always")(_law)

ALL: Final = (1 << WIDTH) - 1
"""All cases of a block."""

LOAD: Final = 5
"""Numbers that describe a load in `Packed.loads`."""


@compiled
def balance(work: Floats, packed: Packed, rounds: int) -> tuple[int, int]:
    """Newton's method by full steps with stops; returns the rounds it took, and what settled."""
    rows, fine = packed.rows, 0
    for done in range(1, rounds + 1):
        for n in range(rows.core_drives - rows.core):
            store(work, rows.core + n, load(work, rows.kept + n))
        for at in range(len(packed.driven)):
            n = number(packed.driven, at)
            store(work, rows.core_drives + n, load(work, rows.kept_drives + n))
        lay_tangents(work, packed)
        eliminate(work, packed.core)
        substitute_back(work, packed.core_back)
        fine = settled(work, packed)
        if fine == ALL or done == rounds:
            return done, fine
        move(work, packed, done)
    return rounds, fine


@compiled
def lay_tangents(work: Floats, packed: Packed) -> None:
    """Put every load on its tangent."""
    for run in range(0, len(packed.families), 3):
        family = number(packed.families, run)
        first, last = number(packed.families, run + 1), number(packed.families, run + 2)
        if family == _FILAMENT:
            for n in range(first, last):
                lay(work, packed, n, forms.filament(across(work, packed, n), law(work, packed, n)))
        elif family == _STRING:
            for n in range(first, last):
                lay(work, packed, n, forms.string(across(work, packed, n), law(work, packed, n)))
        elif family == _REGULATED:
            for n in range(first, last):
                lay(work, packed, n, forms.regulated(across(work, packed, n), law(work, packed, n)))
        elif family == _CONVERTER:
            for n in range(first, last):
                lay(work, packed, n, forms.converter(across(work, packed, n), law(work, packed, n)))


@njit(inline="always")
def across(work: Floats, packed: Packed, n: int) -> Any:
    """Voltage across a load."""
    return load(work, packed.rows.across + n)


@njit(inline="always")
def law(work: Floats, packed: Packed, n: int) -> Any:
    """Parameters of the law of a load."""
    at, loads = packed.rows.parameters + n, len(packed.loads) // LOAD
    return (
        load(work, at),
        load(work, at + loads),
        load(work, at + 2 * loads),
        load(work, at + 3 * loads),
        load(work, at + 4 * loads),
        load(work, at + 5 * loads),
        load(work, at + 6 * loads),
        load(work, at + 7 * loads),
        load(work, at + 8 * loads),
        load(work, at + 9 * loads),
    )


@njit(inline="always")
def lay(work: Floats, packed: Packed, n: int, tangent: Any) -> None:
    """Put a load on its tangent: current, slope and bend of its law."""
    current, slope, bend = tangent
    edge = number(packed.loads, LOAD * n)
    factor = load(work, number(packed.loads, LOAD * n + 4))
    current, slope, bend = current * factor, slope * factor, bend * factor
    add(work, edge, slope)
    drive = edge + packed.rows.core_drives - packed.rows.core
    driven = slope * across(work, packed, n) - current
    if number(packed.loads, LOAD * n + 1) > 0:
        add(work, drive, driven)
    else:
        take(work, drive, driven)
    at = packed.rows.tangents + 4 * n
    store(work, at, current)
    store(work, at + 1, slope)
    store(work, at + 2, bend)


@compiled
def settled(work: Floats, packed: Packed) -> int:
    """Cases that are done, a bit for each; notes the voltages found and the largest miss."""
    fine, worst = all_equal(0.0) <= 0.0, all_equal(0.0)
    for n in range(len(packed.loads) // LOAD):
        a, b = number(packed.loads, LOAD * n + 2), number(packed.loads, LOAD * n + 3)
        at = packed.rows.tangents + 4 * n
        there = load(work, a) - load(work, b)
        store(work, at + 3, there)
        moved = np.abs(there - across(work, packed, n))
        slope = load(work, at + 1)
        miss = load(work, at + 2) * moved * moved
        worst = np.maximum(worst, miss)
        near = (miss <= np.minimum(VOLTAGE_TOLERANCE_V * slope, CURRENT_TOLERANCE_A)) & (
            moved <= REACH_V
        )
        fine = fine & (near | (moved <= STANDSTILL * (1.0 + np.abs(there))))
    store(work, packed.rows.worst, worst)
    return bits(fine)


@compiled
def move(work: Floats, packed: Packed, done: int) -> None:
    """Let the loads go to the voltages found, or stop over at 0 V."""
    loads = len(packed.loads) // LOAD
    for n in range(loads):
        here = across(work, packed, n)
        there = load(work, packed.rows.tangents + 4 * n + 3)
        at = packed.rows.parameters + n
        stop = (np.abs(here) > load(work, at + STOP * loads)) & (here * there < 0.0)
        if done <= DARK_ROUNDS:
            threshold = load(work, at + THRESHOLD * loads)
            stop = stop | ((here > threshold) & (there < threshold))
        store(work, packed.rows.across + n, np.where(stop, 0.0, there))
