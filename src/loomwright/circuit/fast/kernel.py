"""The program run on block after block of cases: what compiled code is entered by.

Every function of this package that is compiled works on one workspace, rows of as many numbers
as a block has cases, and on the tables that `packing` makes; what it does is what the function of
the same name does elsewhere in `circuit` for the other executor.
"""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from importlib.resources import files
from typing import Final

import numpy as np
from numba import njit

from loomwright.circuit.fast.filling import assemble, fill
from loomwright.circuit.fast.job import Floats, Job, Wholes
from loomwright.circuit.fast.lanes import WIDTH, all_equal, store
from loomwright.circuit.fast.newton import balance
from loomwright.circuit.fast.packing import Packed
from loomwright.circuit.fast.rows import Rows
from loomwright.circuit.fast.stars import compiled, eliminate, substitute_back
from loomwright.circuit.fast.writing import find_held, note_ties, write, write_floating

WORD: Final = 64 // WIDTH
"""Blocks of cases whose yes and no fill a whole number."""

_HEAD: Final = len(Rows._fields) + 2
"""Numbers at the head of a program that is folded."""


def _stamp() -> int:
    """Number that changes with the source of anything that is compiled."""
    digest = sha256()
    for package in ("loomwright.circuit", "loomwright.circuit.fast"):
        for file in sorted(files(package).iterdir(), key=lambda file: file.name):
            if file.name.endswith(".py"):
                digest.update(file.read_bytes())
    return int.from_bytes(digest.digest()[:7], "big")


@compiled
def unfold(table: Wholes) -> Packed:
    """Open a program that `fold` has laid into one table."""
    return Packed(
        Rows(
            table[0], table[1], table[2], table[3], table[4], table[5], table[6], table[7],
            table[8], table[9], table[10], table[11], table[12], table[13], table[14],
        ),
        part(table, 0), part(table, 1), part(table, 2), part(table, 3), part(table, 4),
        part(table, 5), part(table, 6), part(table, 7), part(table, 8), part(table, 9),
        part(table, 10), part(table, 11), part(table, 12), part(table, 13), part(table, 14),
        part(table, 15),
        (table[_HEAD - 2], table[_HEAD - 1]),
    )  # fmt: skip


@njit(inline="always")
def part(table: Wholes, n: int) -> Wholes:
    """One of the tables in it."""
    return table[table[_HEAD + n] : table[_HEAD + n + 1]]


def _made(stamp: int) -> Callable[[Job, Floats, tuple[int, int], int], int]:
    """Entry to the compiled code.

    It is kept on disk under the number it was made for: by itself the compiler would look at
    this file alone, and not see that a law has changed.
    """

    @njit(nogil=True, error_model="numpy", cache=True)
    def solve(job: Job, work: Floats, blocks: tuple[int, int], rounds: int) -> int:
        packed = unfold(job.program)
        rows, batch, answers = packed.rows, job.batch, job.answers
        store(work, rows.voltages + packed.counts[1], all_equal(0.0))
        tied = np.zeros(packed.counts[0], np.int64)
        held = np.zeros(packed.counts[1] + 1, np.int64)
        lanes = np.full((WORD, WIDTH), stamp)
        before = np.full(WIDTH, -1, np.int64)
        unsettled = 0
        for first in range(blocks[0], blocks[1], WORD):
            tied[:] = 0
            for n in range(min(WORD, blocks[1] - first)):
                for lane in range(WIDTH):
                    place = min((first + n) * WIDTH + lane, len(batch.which) - 1)
                    lanes[n, lane] = batch.which[place]
                fill(work, rows, job, lanes[n], before)
                assemble(work, packed)
                eliminate(work, packed.linear)
                done, fine = balance(work, packed, rounds)
                substitute_back(work, packed.linear_back)
                unsettled += write(work, packed, answers, lanes[n], (done, fine))
                if len(answers.asked.pairs):
                    note_ties(work, packed, tied, n * WIDTH)
            if len(answers.asked.pairs):
                find_held(packed, tied, held)
                for n in range(min(WORD, blocks[1] - first)):
                    write_floating(answers, lanes[n], held, n * WIDTH)
        return unsettled

    return solve


solve_blocks: Final = _made(_stamp())
"""Solve blocks of cases of a job: those from the first number to before the second.

Parameters: the job, a workspace for its program, the two numbers, and how many rounds of
Newton's method at most. Returns the blocks in which a case did not settle.
"""
