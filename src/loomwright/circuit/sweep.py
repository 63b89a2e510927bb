"""Runs a program over any number of cases, chunk by chunk, so that memory stays bounded."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from importlib.util import find_spec
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.balance import (
    Balance,
    Room,
    find_balance,
    find_balance_carefully,
    held_nodes,
)
from loomwright.circuit.batch import Cases, Floats
from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import Executor, Laws, Plan

CHUNK: Final = 1536
"""Cases in one go: enough that a step of the program costs more than calling for it."""

STRAGGLERS: Final = 0.125
"""A chunk is left when so few of its cases are unsettled; those are pooled."""

ROUNDS: Final = 24
CAREFUL_ROUNDS: Final = 200

COMPILED: Final = "loomwright.circuit.fast.executor"

WORTH_LOADING: Final = 60_000
"""Cases for which it is worth loading compiled code, about a second if it was made before."""

WORTH_CALLING: Final = 64
"""Cases for which it is worth calling compiled code that is loaded."""

Pair = tuple[int, int]
"""Two nodes, for the voltage of the first against the second."""

Told = Callable[[int], None]
"""Told how many more cases are done; may raise to stop."""


@dataclass(slots=True)
class Swept:
    """Answers of a sweep.

    Attributes
    ----------
    voltages_v : float array, shape (pair, case)
        Voltages between the pairs of nodes asked for. [V]
    floating : bool array, shape (pair, case)
        Whether one of the two floats.
    load_v : float array, shape (load, case)
        Across every load. [V]
    residual_a : float array, shape (case,)
        The most a law misses the current the network carries by. [A]
    rounds : int array, shape (case,)
        Newton rounds.
    settled : bool array, shape (case,)
        Whether a balance was found.
    """

    voltages_v: Floats
    floating: NDArray[np.bool_]
    load_v: Floats
    residual_a: Floats
    rounds: NDArray[np.int32]
    settled: NDArray[np.bool_]

    @classmethod
    def empty(cls, cases: int, pairs: int, loads: int) -> Swept:
        """Room for the answers of so many cases."""
        return cls(
            np.empty((pairs, cases)),
            np.zeros((pairs, cases), dtype=bool),
            np.empty((loads, cases)),
            np.empty(cases),
            np.zeros(cases, dtype=np.int32),
            np.zeros(cases, dtype=bool),
        )


def sweep(
    plan: Plan,
    cases: Cases,
    pairs: Sequence[Pair],
    known_v: Floats | None = None,
    told: Told | None = None,
) -> Swept:
    """Solve every case, states aside.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    cases : Cases
        What to solve.
    pairs : sequence of (int, int)
        The voltages to write.
    known_v : float array, shape (load, known), optional
        Voltages across the loads in known solutions, which `cases.near` counts. [V]
    told : callable, optional
        Told of every chunk how many cases it finished.
    """
    answers = Swept.empty(len(cases), len(pairs), len(plan.layout.loads))
    run = _Run(plan, cases, pairs, known_v, answers)
    tell = told or (lambda _: None)
    for shape, which in _routes(plan, cases):
        if is_compiled(plan.executor, len(which)):
            _sweep_compiled(run, shape, which, tell)
        else:
            _sweep_arrays(run, shape, which, tell)
    return answers


def is_compiled(executor: Executor, cases: int) -> bool:
    """Whether compiled code is to solve so many cases.

    By itself it does where numba is installed, if the job is worth it: loading the compiled
    code takes longer than arrays take for some ten thousand cases.
    """
    if executor != "best":
        return executor == "compiled"
    is_loaded = COMPILED in sys.modules
    return cases >= (WORTH_CALLING if is_loaded else WORTH_LOADING) and (
        is_loaded or find_spec("numba") is not None
    )


def _sweep_arrays(run: _Run, shape: Shape, which: NDArray[np.intp], tell: Told) -> None:
    pool = which[:0]
    for part in _parts(which):
        left = run.solve(shape, part, run.start_v(part), STRAGGLERS)
        pool = np.concatenate([pool, left])
        tell(len(part) - len(left))
    for part in _parts(pool):
        rest = run.solve(shape, part, run.answers.load_v[:, part], 0.0)
        run.solve_carefully(shape, rest)
        tell(len(part))


def _sweep_compiled(run: _Run, shape: Shape, which: NDArray[np.intp], tell: Told) -> None:
    from loomwright.circuit.fast.executor import Compiled
    from loomwright.circuit.fast.job import Answers

    got = run.answers
    pairs = np.array(run.pairs, dtype=np.int64).reshape(-1, 2)
    into = (got.voltages_v, got.floating, got.load_v, got.residual_a, got.rounds, got.settled)
    job = Compiled(run.plan, run.cases, run.known_v, Answers(pairs, *into), ROUNDS)
    for part in job.solve(shape, which):
        run.solve_carefully(shape, part[~got.settled[part]])
        tell(len(part))


@dataclass(frozen=True, slots=True)
class _Run:
    """A sweep under way."""

    plan: Plan
    cases: Cases
    pairs: Sequence[Pair]
    known_v: Floats | None
    answers: Swept
    room: Room = field(default_factory=Room)

    def solve(
        self, shape: Shape, which: NDArray[np.intp], start_v: Floats, leave: float
    ) -> NDArray[np.intp]:
        """Solve some cases in one go and write their answers; return those that did not settle."""
        values, laws = self._numbers(which)
        balance = find_balance(
            shape, laws, values, start_v, rounds=ROUNDS, leave=leave, room=self.room
        )
        self._write(shape, values, balance, which)
        return which[~balance.settled]

    def solve_carefully(self, shape: Shape, which: NDArray[np.intp]) -> None:
        """Solve the few cases that full steps do not settle."""
        if not len(which):
            return
        values, laws = self._numbers(which)
        start_v = self.plan.guess(self.cases.base[which])
        balance = find_balance_carefully(shape, laws, values, start_v, CAREFUL_ROUNDS)
        self._write(shape, values, balance, which)

    def start_v(self, which: NDArray[np.intp]) -> Floats:
        """Voltages across the loads to start from, shape (load, case). [V]"""
        if self.known_v is None:
            return self.plan.guess(self.cases.base[which])
        near = self.cases.near[which].T
        if (near[0] == near[1]).all() and (near[1] == near[2]).all():
            return self.known_v[:, near[0]]
        one, other, both = (self.known_v[:, each] for each in near)
        low = np.minimum(np.minimum(one, other), both)
        high = np.maximum(np.maximum(one, other), both)
        return np.clip(one + other - both, low, high)

    def _numbers(self, which: NDArray[np.intp]) -> tuple[Floats, Laws]:
        cases = self.cases.take(which)
        return cases.values(self.plan.values), self.plan.laws.of(cases.base)

    def _write(
        self, shape: Shape, values: Floats, balance: Balance, which: NDArray[np.intp]
    ) -> None:
        answers, voltages = self.answers, np.empty((len(self.pairs), len(which)))
        for n, (a, b) in enumerate(self.pairs):
            voltages[n] = balance.voltages_v[a] - balance.voltages_v[b]
        answers.voltages_v[:, which] = voltages
        held = held_nodes(shape, values, balance.tie_s)
        held = np.concatenate([held, np.ones((1, len(which)), dtype=bool)])
        first, second = [a for a, _ in self.pairs], [b for _, b in self.pairs]
        answers.floating[:, which] = ~(held[first] & held[second])
        answers.load_v[:, which] = balance.load_v
        answers.residual_a[which] = balance.residual_a
        answers.rounds[which] += balance.rounds
        answers.settled[which] = balance.settled


def _routes(plan: Plan, cases: Cases) -> Iterator[tuple[Shape, NDArray[np.intp]]]:
    """Cases by the smallest program that has all their edges."""
    if len(plan.shapes) == 1 or not cases.edit_rows.shape[1]:
        yield plan.shapes[0], np.arange(len(cases))
        return
    needs = np.zeros(len(cases), dtype=np.int32)
    of_row = np.append(plan.needs, 0)  # row -1 is no edit and needs nothing
    for rows in cases.edit_rows.T:
        np.maximum(needs, of_row[rows], out=needs)
    for n, shape in enumerate(plan.shapes):
        which = np.flatnonzero(needs == n)
        if len(which):
            yield shape, which


def _parts(which: NDArray[np.intp]) -> Iterator[NDArray[np.intp]]:
    for first in range(0, len(which), CHUNK):
        yield which[first : first + CHUNK]
