"""Sweeps by compiled code: the answers of the other executor, many times sooner."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Cases, Floats
from loomwright.circuit.fast.job import Answers, Bases, Batch, Job
from loomwright.circuit.fast.kernel import WORD, solve_blocks
from loomwright.circuit.fast.lanes import WIDTH
from loomwright.circuit.fast.packing import pack
from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import Plan

PORTION: Final = 512
"""Blocks of eight cases between two reports of progress."""


class Compiled:
    """A job for compiled code.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    cases : Cases
        What to solve.
    known_v : float array, shape (load, known), optional
        Voltages across the loads in known solutions, which `cases.near` counts. [V]
    answers : Answers
        Where the answers go.
    rounds : int
        Newton rounds at most.
    """

    def __init__(
        self, plan: Plan, cases: Cases, known_v: Floats | None, answers: Answers, rounds: int
    ) -> None:
        self.plan, self.cases, self.answers, self.rounds = plan, cases, answers, rounds
        self.bases = _bases(plan)
        self.near = cases.near
        if known_v is None:
            known_v = plan.guess(np.arange(plan.values.shape[1]))
            self.near = np.repeat(cases.base[:, None], 3, axis=1)
        self.start_v = np.ascontiguousarray(known_v.T)
        self.given = _loose(cases.given)

    def solve(self, shape: Shape, which: NDArray[np.intp]) -> Iterator[NDArray[np.intp]]:
        """Solve some cases by a program; yield portions of them as they are done."""
        batch = Batch(
            np.ascontiguousarray(which, dtype=np.int64),
            self.cases.base,
            np.ascontiguousarray(self.near),
            np.ascontiguousarray(self.cases.edit_rows),
            np.ascontiguousarray(self.cases.edits),
            self.cases.given_rows,
            self.given,
            self.start_v,
        )
        job = Job(pack(shape, self.plan.layout.rows), self.bases, batch, self.answers)
        blocks = -(-len(which) // WIDTH)
        for first in range(0, blocks, PORTION):
            last = min(first + PORTION, blocks)
            self._solve(job, (first, last))
            yield which[first * WIDTH : last * WIDTH]

    def _solve(self, job: Job, blocks: tuple[int, int]) -> None:
        """Solve blocks, by as many threads as the plan says."""
        threads = self.plan.threads
        if threads == 1:
            solve_blocks(job, blocks, self.rounds)
            return
        size = -(-(blocks[1] - blocks[0]) // (threads * WORD)) * WORD
        cuts = [*range(blocks[0], blocks[1], size), blocks[1]]
        with ThreadPoolExecutor(threads) as pool:
            runs = [pool.submit(solve_blocks, job, cut, self.rounds) for cut in pairwise(cuts)]
            for run in runs:
                run.result()


@lru_cache(maxsize=8)
def _bases(plan: Plan) -> Bases:
    laws = plan.laws.parameters.transpose(2, 1, 0)
    return Bases(
        np.ascontiguousarray(plan.values.T), np.ascontiguousarray(laws).reshape(len(laws), -1)
    )


def _loose(given: Floats) -> Floats:
    """The same numbers, rows apart in memory: compiled code takes parts of tables, not wholes."""
    if given.size and not given.flags.forc:
        return given
    rows, cases = given.shape
    apart = np.empty((max(rows, 2), cases + 1))[:, :cases]
    apart[:rows] = given
    return apart
