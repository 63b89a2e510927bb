"""The numbers of eight cases put into their rows, compiled."""

from __future__ import annotations

from loomwright.circuit.fast.job import Floats, Job, Wholes
from loomwright.circuit.fast.lanes import WIDTH, add, all_equal, load, number, store, take
from loomwright.circuit.fast.packing import Packed
from loomwright.circuit.fast.stars import compiled
from loomwright.circuit.network import SHUNT_S


@compiled
def fill(work: Floats, job: Job, lanes: Wholes, set_bases: Wholes) -> None:
    """Put the numbers of eight cases into their rows, and where they start from."""
    rows, bases, batch = job.packed.rows, job.bases, job.batch
    first = batch.base[lanes[0]]
    alike = True
    for lane in range(WIDTH):
        alike = alike and batch.base[lanes[lane]] == first
    count = bases.values.shape[1]
    if alike:
        for row in range(count):
            store(work, rows.values + row, all_equal(bases.values[first, row]))
    else:
        for lane in range(WIDTH):
            base = batch.base[lanes[lane]]
            for row in range(count):
                work[(rows.values + row) * WIDTH + lane] = bases.values[base, row]
    fill_laws(work, job, lanes, set_bases)
    for n in range(len(batch.given_rows)):
        row = (rows.values + batch.given_rows[n]) * WIDTH
        for lane in range(WIDTH):
            work[row + lane] = batch.given[n, lanes[lane]]
    for lane in range(WIDTH):
        case = lanes[lane]
        for n in range(batch.edits.shape[1]):
            edited = batch.edit_rows[case, n]
            if edited >= 0:
                work[(rows.values + edited) * WIDTH + lane] = batch.edits[case, n]
        start(work, job, case, lane)


@compiled
def fill_laws(work: Floats, job: Job, lanes: Wholes, set_bases: Wholes) -> None:
    """Put the parameters of the laws into their rows, where the base is not the last one's."""
    first, bases, batch = job.packed.rows.parameters, job.bases, job.batch
    for lane in range(WIDTH):
        base = batch.base[lanes[lane]]
        if set_bases[lane] != base:
            set_bases[lane] = base
            base = min(base, len(bases.parameters) - 1)
            for n in range(bases.parameters.shape[1]):
                work[(first + n) * WIDTH + lane] = bases.parameters[base, n]


@compiled
def start(work: Floats, job: Job, case: int, lane: int) -> None:
    """Let the loads of a case start from the known solutions it is near to."""
    first, batch = job.packed.rows.across, job.batch
    i, j, k = batch.near[case, 0], batch.near[case, 1], batch.near[case, 2]
    for n in range(batch.start_v.shape[1]):
        one, other, both = batch.start_v[i, n], batch.start_v[j, n], batch.start_v[k, n]
        low, high = min(one, other, both), max(one, other, both)
        v = min(max(one + other - both, low), high)
        work[(first + n) * WIDTH + lane] = v


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
