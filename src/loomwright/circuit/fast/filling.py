"""The numbers of the cases of a block put into their rows, compiled."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.fast.job import Batch, Floats, Job, Wholes
from loomwright.circuit.fast.lanes import (
    WIDTH,
    add,
    all_equal,
    load,
    load_at,
    number,
    store,
    take,
)
from loomwright.circuit.fast.packing import Packed
from loomwright.circuit.fast.rows import Rows
from loomwright.circuit.fast.stars import compiled
from loomwright.circuit.network import SHUNT_S
from loomwright.circuit.plan import SCALED_ABOVE_V


@compiled
def fill(work: Floats, rows: Rows, job: Job, lanes: Wholes, before: Wholes) -> None:
    """Put the numbers of some cases into their rows, and where they start from.

    `before` are the cases whose numbers are there now. Of a case with the same base only what
    it changed is put back.
    """
    batch = job.batch
    stays = True
    for lane in range(WIDTH):
        stays = stays and before[lane] >= 0
        stays = stays and batch.base[before[lane]] == batch.base[lanes[lane]]
    if stays:
        put_back(work, rows, job, before)
    else:
        fill_bases(work, rows, job, lanes, before[0] < 0)
    for n in range(len(batch.given_rows)):
        row = (rows.values + batch.given_rows[n]) * WIDTH
        for lane in range(WIDTH):
            work[row + lane] = batch.given[n, lanes[lane]]
    for lane in range(WIDTH):
        case = lanes[lane]
        before[lane] = case
        for n in range(batch.edits.shape[1]):
            edited = batch.edit_rows[case, n]
            if edited >= 0:
                work[(rows.values + edited) * WIDTH + lane] = batch.edits[case, n]
    start(work, rows, batch, lanes)


@compiled
def put_back(work: Floats, rows: Rows, job: Job, before: Wholes) -> None:
    """Put back what cases changed."""
    batch, values = job.batch, job.bases.values
    for lane in range(WIDTH):
        case = before[lane]
        base = batch.base[case]
        for n in range(batch.edits.shape[1]):
            edited = batch.edit_rows[case, n]
            if edited >= 0:
                work[(rows.values + edited) * WIDTH + lane] = values[edited, base]


@compiled
def fill_bases(work: Floats, rows: Rows, job: Job, lanes: Wholes, is_first: bool) -> None:
    """Put the numbers of the bases into their rows, and the parameters of their laws.

    The parameters are put there once if all bases share them.
    """
    bases, base = job.bases, job.batch.base
    first, last = base[lanes[0]], bases.values.shape[1] - WIDTH
    alike, in_line = True, True
    for lane in range(WIDTH):
        alike = alike and base[lanes[lane]] == first
        in_line = in_line and base[lanes[lane]] == min(first + lane, last)
    put(work, rows.values, bases.values, base, lanes, alike, in_line)
    if not bases.is_of_one_law:
        put(work, rows.parameters, bases.parameters, base, lanes, alike, in_line)
    elif is_first:
        for n in range(len(bases.parameters)):
            store(work, rows.parameters + n, all_equal(bases.parameters[n, 0]))


@compiled
def put(
    work: Floats,
    at: int,
    table: Floats,
    base: NDArray[np.int32],
    lanes: Wholes,
    alike: bool,
    in_line: bool,
) -> None:
    """Put the numbers of the base of each case into its lane."""
    first = base[lanes[0]]
    if alike:
        for n in range(len(table)):
            store(work, at + n, all_equal(table[n, first]))
    elif in_line:
        for n in range(len(table)):
            store(work, at + n, load_at(table, n, np.int64(first)))
    else:
        for n in range(len(table)):
            for lane in range(WIDTH):
                work[(at + n) * WIDTH + lane] = table[n, base[lanes[lane]]]


@compiled
def start(work: Floats, rows: Rows, batch: Batch, lanes: Wholes) -> None:
    """Let the loads start from the known solutions their cases are near to.

    These stand for a while where the tangents will be.
    """
    loads, first = batch.start_v.shape[1], rows.tangents
    for column in range(3):
        put_known(work, first + column * loads, batch, lanes, column)
    for n in range(loads):
        one, other = load(work, first + n), load(work, first + loads + n)
        both = load(work, first + 2 * loads + n)
        most = np.maximum(np.maximum(np.abs(one), np.abs(other)), np.abs(both))
        is_scaled = np.abs(both) > SCALED_ABOVE_V
        scaled = one * other / np.where(is_scaled, both, 1.0)
        v = np.where(is_scaled, scaled, one + other - both)
        store(work, rows.across + n, np.minimum(np.maximum(v, -most), most))


@compiled
def put_known(work: Floats, row: int, batch: Batch, lanes: Wholes, column: int) -> None:
    """Put the first, second or third solution that each case is near to into its lane."""
    near, known_v = batch.near, batch.start_v
    first, alike = near[lanes[0], column], True
    for lane in range(1, WIDTH):
        alike = alike and near[lanes[lane], column] == first
    if alike:
        for n in range(known_v.shape[1]):
            store(work, row + n, all_equal(known_v[first, n]))
    else:
        for lane in range(WIDTH):
            known = near[lanes[lane], column]
            for n in range(known_v.shape[1]):
                work[(row + n) * WIDTH + lane] = known_v[known, n]


@compiled
def assemble(work: Floats, packed: Packed) -> None:
    """Put conductances and drives on their edges."""
    nothing = all_equal(0.0)
    for n in range(len(packed.empty)):
        store(work, number(packed.empty, n), nothing)
    shunt = all_equal(SHUNT_S)
    for n in range(len(packed.shunts)):
        store(work, number(packed.shunts, n), shunt)
    for n in range(0, len(packed.alone), 2):
        store(work, number(packed.alone, n), load(work, number(packed.alone, n + 1)))
    for n in range(0, len(packed.joined), 2):
        add(work, number(packed.joined, n), load(work, number(packed.joined, n + 1)))
    for n in range(0, len(packed.sources), 4):
        drive = number(packed.sources, n)
        driven = load(work, number(packed.sources, n + 1))
        driven = driven * load(work, number(packed.sources, n + 2))
        if number(packed.sources, n + 3) > 0:
            add(work, drive, driven)
        else:
            take(work, drive, driven)
