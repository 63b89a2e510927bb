"""The answers of eight cases written down, compiled."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit

from loomwright.circuit.balance import HELD_S
from loomwright.circuit.fast.job import Answers, Floats, Wholes
from loomwright.circuit.fast.lanes import WIDTH, bits, load, number, pick, store_at
from loomwright.circuit.fast.newton import ALL, LOAD, across, move, settled
from loomwright.circuit.fast.packing import Packed
from loomwright.circuit.fast.stars import compiled


@compiled
def write(work: Floats, packed: Packed, answers: Answers, lanes: Wholes, done: int) -> None:
    """Write the answers of eight cases."""
    rows = packed.rows
    fine = settled(work, packed)
    if fine != ALL:
        move(work, packed, done)
    last = WIDTH - 1  # a block that is not full repeats its last case
    in_line = lanes[last] - lanes[0] == last and lanes[last - 1] < lanes[last]
    pairs, voltages_v, load_v = answers.pairs, answers.voltages_v, answers.load_v
    for n in range(len(pairs)):
        a, b = rows.voltages + pairs[n, 0], rows.voltages + pairs[n, 1]
        put(voltages_v, n, load(work, a) - load(work, b), lanes, in_line)
    for n in range(len(packed.loads) // LOAD):
        found = load(work, rows.tangents + 4 * n + 3)
        if fine == ALL:
            put(load_v, n, found, lanes, in_line)
        else:
            for lane in range(WIDTH):
                row = rows.tangents + 4 * n + 3 if fine >> lane & 1 else rows.across + n
                load_v[n, lanes[lane]] = work[row * WIDTH + lane]
    residual_a, rounds, settled_ = answers.residual_a, answers.rounds, answers.settled
    for lane in range(WIDTH):
        residual_a[lanes[lane]] = work[rows.worst * WIDTH + lane]
        rounds[lanes[lane]] = done
        settled_[lanes[lane]] = fine >> lane & 1 == 1


@njit(inline="always")
def put(answers: Floats, row: int, found: Any, lanes: Wholes, in_line: bool) -> None:
    """Write eight numbers to their cases; at once if these lie side by side."""
    if in_line:
        store_at(answers, row, lanes[0], found)
    else:
        for lane in range(WIDTH):
            answers[row, lanes[lane]] = pick(found, lane)


@compiled
def note_ties(work: Floats, packed: Packed, tied: Wholes, shift: int) -> None:
    """Note which edges tie their ends by 1e-5 S or more, a bit for each case."""
    first = len(packed.tie_rows)
    for n in range(first):
        tie = bits(load(work, number(packed.tie_rows, n)) >= HELD_S)
        tied[packed.tie_slots[n]] |= tie << shift
    for n in range(len(packed.loads) // LOAD):
        at = packed.rows.tangents + 4 * n
        there, slope = load(work, at + 3), load(work, at + 1)
        current = load(work, at) + slope * (there - across(work, packed, n))
        ties = slope >= HELD_S
        ties = ties | ((np.abs(current) >= HELD_S * np.abs(there)) & (np.abs(there) > 0.0))
        tied[packed.tie_slots[first + n]] |= bits(ties) << shift


@compiled
def find_held(packed: Packed, tied: Wholes, held: Wholes) -> None:
    """Find which nodes reach the reference over ties, a bit for each of 64 cases."""
    steps = packed.ties
    for at in range(0, len(steps), 3):
        tied[number(steps, at)] |= tied[number(steps, at + 1)] & tied[number(steps, at + 2)]
    steps, at = packed.ties_back, 0
    held[len(held) - 1] = -1
    while at < len(steps):
        node, others = number(steps, at), number(steps, at + 2)
        reached = tied[number(steps, at + 1)]
        at += 3
        for _ in range(others):
            reached |= tied[number(steps, at)] & held[number(steps, at + 1)]
            at += 2
        held[node] = reached


@compiled
def write_floating(answers: Answers, lanes: Wholes, held: Wholes, shift: int) -> None:
    """Write where one of the two nodes of a reading floats."""
    for n in range(len(answers.pairs)):
        both = held[answers.pairs[n, 0]] & held[answers.pairs[n, 1]]
        for lane in range(WIDTH):
            answers.floating[n, lanes[lane]] = both >> (shift + lane) & 1 == 0
