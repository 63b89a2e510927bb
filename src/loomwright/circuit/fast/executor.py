"""Sweeps by compiled code: the answers of the other executor, many times sooner."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np

from loomwright.circuit.answers import Asked, Swept
from loomwright.circuit.batch import Cases, Columns, Floats
from loomwright.circuit.fast.job import Answers, Bases, Batch, Job, Wholes
from loomwright.circuit.fast.kernel import WORD, solve_blocks
from loomwright.circuit.fast.lanes import WIDTH
from loomwright.circuit.fast.packing import fold, leading_to, pack
from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import Plan

PORTION: Final = 256
"""Blocks of cases between two reports of progress."""

KEPT: Final = 64
"""Programs that are kept, one for each set of voltages asked for."""


class Compiled:
    """A plan ready for compiled code: what all its jobs share.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    """

    def __init__(self, plan: Plan) -> None:
        laws = plan.laws.parameters
        parameters = laws.reshape(-1, laws.shape[2])
        self.bases = Bases(_padded(plan.values), _padded(parameters), laws.shape[2] == 1)
        self.first_v = np.ascontiguousarray(plan.guess(np.arange(plan.values.shape[1])).T)
        self._packed = {shape: pack(shape, plan.layout.rows) for shape in plan.shapes}
        self._programs: dict[tuple[Shape, bytes, bytes], Wholes] = {}
        self._size = max(each.rows.end for each in self._packed.values()) * WIDTH
        self._free: deque[Floats] = deque()
        self._threads = plan.threads

    def job(
        self,
        shape: Shape,
        cases: Cases,
        which: Columns,
        known_v: Floats | None,
        answers: tuple[Asked, Swept, Columns],
    ) -> Job:
        """Return the job to solve some cases.

        Parameters
        ----------
        shape : Shape
            The program to solve them by.
        cases : Cases
            Cases, among them those to solve.
        which : int array
            The numbers of those.
        known_v : float array, shape (known, load), optional
            Voltages across the loads in known solutions, which `cases.near` counts. [V]
        answers : tuple
            What is asked, the tables it goes into, and the column there of each of the cases.
        """
        near = cases.near
        if known_v is None:
            near, known_v = np.repeat(cases.base[:, None], 3, axis=1), self.first_v
        batch = Batch(
            which,
            cases.base,
            np.ascontiguousarray(near),
            np.ascontiguousarray(cases.edit_rows),
            np.ascontiguousarray(cases.edits),
            cases.given_rows,
            _loose(cases.given),
            known_v,
        )
        return Job(self._program(shape, answers[0]), self.bases, batch, Answers(*answers))

    def _program(self, shape: Shape, asked: Asked) -> Wholes:
        """Program that finds the voltages asked for, and no others."""
        key = shape, asked.pairs.tobytes(), asked.states.tobytes()
        if key not in self._programs:
            if len(self._programs) >= KEPT:
                self._programs.clear()
            nodes = np.concatenate([asked.pairs, asked.states]).ravel().tolist()
            self._programs[key] = fold(leading_to(self._packed[shape], shape, nodes))
        return self._programs[key]

    def solve(self, job: Job, rounds: int) -> Iterator[tuple[Columns, int]]:
        """Run a job; yield portions of its cases as they are done, and how many did not settle."""
        which = job.batch.which
        blocks = -(-len(which) // WIDTH)
        for first in range(0, blocks, PORTION):
            last = min(first + PORTION, blocks)
            unsettled = self._solve(job, (first, last), rounds)
            yield which[first * WIDTH : last * WIDTH], unsettled

    def _solve(self, job: Job, blocks: tuple[int, int], rounds: int) -> int:
        """Solve blocks, by as many threads as the plan says; return how many did not settle."""
        if self._threads == 1:
            return self._run(job, blocks, rounds)
        size = -(-(blocks[1] - blocks[0]) // (self._threads * WORD)) * WORD
        cuts = [*range(blocks[0], blocks[1], size), blocks[1]]
        with ThreadPoolExecutor(self._threads) as pool:
            runs = [pool.submit(self._run, job, cut, rounds) for cut in pairwise(cuts)]
            return sum(run.result() for run in runs)

    def _run(self, job: Job, blocks: tuple[int, int], rounds: int) -> int:
        """Solve blocks in a workspace that no other thread has."""
        try:
            work = self._free.pop()
        except IndexError:
            work = _workspace(self._size)
        unsettled = solve_blocks(job, work, blocks, rounds)
        self._free.append(work)
        return unsettled


compiled_plan = lru_cache(maxsize=8)(Compiled)


def _padded(table: Floats) -> Floats:
    """The same columns, and the last one again for those who read a block from it on."""
    return np.ascontiguousarray(np.pad(table, ((0, 0), (0, WIDTH - 1)), mode="edge"))


def _workspace(size: int) -> Floats:
    """Room for so many numbers, each row at the beginning of a line of the cache."""
    room = np.zeros(size + WIDTH)
    first = -(room.ctypes.data // room.itemsize) % WIDTH
    return room[first : first + size]


def _loose(given: Floats) -> Floats:
    """The same numbers, rows apart in memory: compiled code takes parts of tables, not wholes."""
    if not given.size:
        return _NOTHING_GIVEN
    if not given.flags.forc:
        return given
    rows, cases = given.shape
    apart = np.empty((max(rows, 2), cases + 1))[:, :cases]
    apart[:rows] = given
    return apart


_NOTHING_GIVEN: Final = np.empty((2, 2))[:, :1]
