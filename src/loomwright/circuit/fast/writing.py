"""The answers of the cases of a block written down, compiled."""

from __future__ import annotations

import numpy as np
from numba import njit

from loomwright.circuit.answers import Asked
from loomwright.circuit.fast.job import Answers, Floats, Wholes
from loomwright.circuit.fast.lanes import WIDTH, all_equal, bits, load, number, pick, store_at
from loomwright.circuit.fast.newton import ALL, LOAD, across, move
from loomwright.circuit.fast.packing import Packed
from loomwright.circuit.fast.stars import compiled
from loomwright.circuit.floating import HELD_S
from loomwright.circuit.layout import OPEN_S


@compiled
def write(
    work: Floats, packed: Packed, answers: Answers, lanes: Wholes, ended: tuple[int, int]
) -> int:
    """Write the answers of some cases, as `balance` ended; 0 if all settled."""
    done, fine = ended
    asked, swept, columns = answers.asked, answers.swept, answers.columns
    rows, run = packed.rows, swept.first
    called = call(work, packed, asked)
    if fine != ALL:
        move(work, packed, done)
    last = WIDTH - 1  # a block that is not full repeats its last case
    first = columns[lanes[0]]
    in_line = columns[lanes[last]] - first == last and columns[lanes[last - 1]] < first + last
    nodes = rows.voltages
    put_between(work, nodes, asked.pairs, swept.voltages_v, lanes, columns, run, in_line)
    put_between(work, nodes, asked.states, swept.states_v, lanes, columns, 0, in_line)
    load_v = swept.load_v
    for n in range(len(load_v)):
        found = load(work, rows.tangents + 4 * n + 3)
        if fine == ALL and in_line:
            store_at(load_v, n, first, found)
        else:
            for lane in range(WIDTH):
                row = rows.tangents + 4 * n + 3 if fine >> lane & 1 else rows.across + n
                load_v[n, columns[lanes[lane]]] = work[row * WIDTH + lane]
    residual_a, rounds, settled_ = swept.residual_a, swept.rounds, swept.settled
    for lane in range(WIDTH):
        case = run + columns[lanes[lane]]
        residual_a[case] = work[rows.worst * WIDTH + lane]
        settled_[case] = fine >> lane & 1 == 1
        swept.called[columns[lanes[lane]]] = called >> lane & 1 == 1
        if lane == 0 or lanes[lane] != lanes[lane - 1]:
            rounds[case] += done
    return int(fine != ALL)


@compiled
def call(work: Floats, packed: Packed, asked: Asked) -> int:
    """Cases in which something calls for opening by its current, a bit for each."""
    rows, limits = packed.rows, asked.limits
    first = len(asked.states) - len(limits.rows)
    called = all_equal(0.0) > 0.0
    for n in range(len(limits.rows)):
        a, b = asked.states[first + n, 0], asked.states[first + n, 1]
        conductance = load(work, rows.values + limits.rows[n])
        current = np.abs(
            conductance * (load(work, rows.voltages + a) - load(work, rows.voltages + b))
        )
        called = called | (current >= limits.most_a[n])
        if limits.least_a[n] > 0.0:
            called = called | ((current < limits.least_a[n]) & (conductance > OPEN_S))
    return bits(called)


@njit(inline="always")
def put_between(
    work: Floats,
    nodes: int,
    pairs: Wholes,
    table: Floats,
    lanes: Wholes,
    columns: Wholes,
    run: int,
    in_line: bool,
) -> None:
    """Write voltages between pairs of nodes; at once if the cases lie side by side."""
    for n in range(len(pairs)):
        found = load(work, nodes + pairs[n, 0]) - load(work, nodes + pairs[n, 1])
        if in_line:
            store_at(table, n, run + columns[lanes[0]], found)
        else:
            for lane in range(WIDTH):
                table[n, run + columns[lanes[lane]]] = pick(found, lane)


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
    """Write where one of the two nodes of a reading floats; elsewhere the table says no."""
    pairs, columns = answers.asked.pairs, answers.columns
    floating, first = answers.swept.floating, answers.swept.first
    for n in range(len(pairs)):
        both = held[pairs[n, 0]] & held[pairs[n, 1]]
        if both >> shift & ALL != ALL:
            for lane in range(WIDTH):
                floating[n, first + columns[lanes[lane]]] = both >> (shift + lane) & 1 == 0
