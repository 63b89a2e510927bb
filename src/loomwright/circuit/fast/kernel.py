"""The program run on eight cases at a time: what compiled code is entered by.

Every function of this package that is compiled works on one workspace, rows of eight numbers,
and on the tables that `packing` makes; what it does is what the function of the same name
does elsewhere in `circuit` for the other executor.
"""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from importlib.resources import files
from typing import Final

import numpy as np
from numba import njit

from loomwright.circuit.fast.filling import assemble, fill
from loomwright.circuit.fast.job import Job
from loomwright.circuit.fast.lanes import WIDTH
from loomwright.circuit.fast.newton import balance
from loomwright.circuit.fast.stars import eliminate, substitute_back
from loomwright.circuit.fast.writing import find_held, note_ties, write, write_floating

WORD: Final = 64 // WIDTH
"""Blocks of eight cases whose yes and no fill a whole number."""


def _stamp() -> int:
    """Number that changes with the source of anything that is compiled."""
    digest = sha256()
    for package in ("loomwright.circuit", "loomwright.circuit.fast"):
        for file in sorted(files(package).iterdir(), key=lambda file: file.name):
            if file.name.endswith(".py"):
                digest.update(file.read_bytes())
    return int.from_bytes(digest.digest()[:7], "big")


def _made(stamp: int) -> Callable[[Job, tuple[int, int], int], None]:
    """Entry to the compiled code.

    It is kept on disk under the number it was made for: by itself the compiler would look at
    this file alone, and not see that a law has changed.
    """

    @njit(nogil=True, error_model="numpy", cache=True)
    def solve(job: Job, blocks: tuple[int, int], rounds: int) -> None:
        packed = job.packed
        rows = packed.rows
        work = np.zeros(rows.end * WIDTH)
        tied = np.zeros(packed.counts[0], np.int64)
        held = np.zeros(packed.counts[1] + 1, np.int64)
        lanes = np.full((WORD, WIDTH), stamp)
        set_bases = np.full(WIDTH, -1, np.int64)
        for first in range(blocks[0], blocks[1], WORD):
            tied[:] = 0
            for n in range(min(WORD, blocks[1] - first)):
                for lane in range(WIDTH):
                    place = min((first + n) * WIDTH + lane, len(job.batch.which) - 1)
                    lanes[n, lane] = job.batch.which[place]
                fill(work, job, lanes[n], set_bases)
                assemble(work, packed)
                eliminate(work, packed.linear)
                done = balance(work, packed, rounds)
                substitute_back(work, packed.linear_back)
                write(work, packed, job.answers, lanes[n], done)
                note_ties(work, packed, tied, n * WIDTH)
            find_held(packed, tied, held)
            for n in range(min(WORD, blocks[1] - first)):
                write_floating(job.answers, lanes[n], held, n * WIDTH)

    return solve


solve_blocks: Final = _made(_stamp())
"""Solve blocks of eight cases of a job: those from the first number to before the second.

Parameters: the job, the two numbers, and how many rounds of Newton's method at most.
"""
