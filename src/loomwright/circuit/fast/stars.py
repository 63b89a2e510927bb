"""Star to mesh and back, compiled: the steps of a program on the cases of a block.

The functions do what those of the same names do in `circuit.elimination`. Stars with one, two
and three neighbours, nearly all there are, have lines of their own, in which nothing is
counted and every number stays in a register.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numba import njit
from numpy.typing import NDArray

from loomwright.circuit.fast.lanes import add, all_equal, load, number, store, take

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]
Register = Any
"""A number for each case of a block."""

HEAD: Final = 2
"""A step begins with the row of its first share and that of its base."""

compiled = njit(nogil=True, error_model="numpy")


@compiled
def eliminate(work: Floats, steps: Wholes) -> None:
    """Turn the star of each step into its mesh.

    Parameters
    ----------
    work : float array
        The workspace, a number for each case in a row.
    steps : int array
        As `packing` writes them.
    """
    at = 0
    while at < len(steps):
        size, driven = number(steps, at), number(steps, at + 1)
        added, taken, count = number(steps, at + 2), number(steps, at + 3), number(steps, at + 4)
        at += 5
        for _ in range(count):
            if size == 1:
                of_one = mesh_of_one(work, steps, at)
            elif size == 2:
                of_one = mesh_of_two(work, steps, at)
            elif size == 3:
                of_one = mesh_of_three(work, steps, at)
            else:
                of_one = mesh_of_many(work, steps, at, size)
            head, at = at, at + HEAD + size + 1 + (size + 1) * size // 2
            if driven:
                ground = load(work, number(steps, head + HEAD + size))
                store(work, number(steps, head) + size, ground * of_one)
                at = drive(work, steps, at, driven, of_one, number(steps, head + 1))
                for _ in range(added):
                    product = load(work, number(steps, at + 1)) * load(work, number(steps, at + 2))
                    add(work, number(steps, at), product)
                    at += 3
                for _ in range(taken):
                    product = load(work, number(steps, at + 1)) * load(work, number(steps, at + 2))
                    take(work, number(steps, at), product)
                    at += 3


@compiled
def substitute_back(work: Floats, steps: Wholes) -> None:
    """Fill in the voltage of each node, the last eliminated first."""
    at, nothing = 0, all_equal(0.0)
    while at < len(steps):
        size, driven, count = number(steps, at), number(steps, at + 1), number(steps, at + 2)
        at += 3
        for _ in range(count):
            share = number(steps, at + 1)
            voltage = nothing
            if driven:
                voltage = load(work, number(steps, at + 2))
            for n in range(size):
                voltage = voltage + load(work, share + n) * load(work, number(steps, at + 3 + n))
            store(work, number(steps, at), voltage)
            at += 3 + size


@compiled
def mesh_of_one(work: Floats, steps: Wholes, at: int) -> Register:
    """Mesh of a star with a neighbour and the reference; 1 over the sum of the star."""
    share = number(steps, at)
    near, ground = load(work, number(steps, at + 2)), load(work, number(steps, at + 3))
    of_one = 1.0 / (near + ground)
    m = near * of_one
    store(work, share, m)
    add(work, number(steps, at + 4), m * ground)
    return of_one


@compiled
def mesh_of_two(work: Floats, steps: Wholes, at: int) -> Register:
    """Mesh of a star with two neighbours and the reference; 1 over the sum of the star."""
    share = number(steps, at)
    g0, g1 = load(work, number(steps, at + 2)), load(work, number(steps, at + 3))
    g2 = load(work, number(steps, at + 4))
    of_one = 1.0 / (g0 + g1 + g2)
    m0, m1 = g0 * of_one, g1 * of_one
    store(work, share, m0)
    store(work, share + 1, m1)
    add(work, number(steps, at + 5), m0 * g1)
    add(work, number(steps, at + 6), m0 * g2)
    add(work, number(steps, at + 7), m1 * g2)
    return of_one


@compiled
def mesh_of_three(work: Floats, steps: Wholes, at: int) -> Register:
    """Mesh of a star with three neighbours and the reference; 1 over the sum of the star."""
    share = number(steps, at)
    g0, g1 = load(work, number(steps, at + 2)), load(work, number(steps, at + 3))
    g2, g3 = load(work, number(steps, at + 4)), load(work, number(steps, at + 5))
    of_one = 1.0 / ((g0 + g1) + (g2 + g3))
    m0, m1, m2 = g0 * of_one, g1 * of_one, g2 * of_one
    store(work, share, m0)
    store(work, share + 1, m1)
    store(work, share + 2, m2)
    add(work, number(steps, at + 6), m0 * g1)
    add(work, number(steps, at + 7), m0 * g2)
    add(work, number(steps, at + 8), m0 * g3)
    add(work, number(steps, at + 9), m1 * g2)
    add(work, number(steps, at + 10), m1 * g3)
    add(work, number(steps, at + 11), m2 * g3)
    return of_one


@compiled
def mesh_of_many(work: Floats, steps: Wholes, at: int, size: int) -> Register:
    """Mesh of a star with any number of neighbours; 1 over the sum of the star."""
    share, star = number(steps, at), at + HEAD
    total = load(work, number(steps, star))
    for n in range(1, size + 1):
        total = total + load(work, number(steps, star + n))
    of_one = 1.0 / total
    target = star + size + 1
    for i in range(size):
        m = load(work, number(steps, star + i)) * of_one
        store(work, share + i, m)
        for j in range(i + 1, size + 1):
            add(work, number(steps, target), m * load(work, number(steps, star + j)))
            target += 1
    return of_one


@compiled
def drive(work: Floats, steps: Wholes, at: int, drives: int, of_one: Register, base: int) -> int:
    """Base of a star with drives; where the step goes on."""
    total = load(work, number(steps, at))
    for n in range(1, drives):
        total = total + load(work, number(steps, at + n))
    store(work, base, total * of_one)
    return at + drives
