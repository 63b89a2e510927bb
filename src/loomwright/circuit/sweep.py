"""Runs a program over any number of cases, chunk by chunk, so that memory stays bounded."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from importlib.util import find_spec
from typing import Final

import numpy as np

from loomwright.circuit.answers import Asked, Pairs, Swept
from loomwright.circuit.balance import Balance, find_balance
from loomwright.circuit.batch import Cases, Columns, Floats, numbered
from loomwright.circuit.careful import find_balance_carefully
from loomwright.circuit.floating import held_nodes
from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import SCALED_ABOVE_V, Executor, Laws, Plan
from loomwright.circuit.room import Room

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

Told = Callable[[int], None]
"""Told how many more cases are done; may raise to stop."""


def sweep(
    plan: Plan,
    cases: Cases,
    asked: Asked,
    into: Swept,
    *,
    columns: Columns | None = None,
    known_v: Floats | None = None,
    told: Told | None = None,
) -> None:
    """Solve every case, states aside.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    cases : Cases
        What to solve.
    asked : Asked
        The voltages to write.
    into : Swept
        Where the answers go. Where a node floated before, `floating` says so no more.
    columns : int array, shape (case,), optional
        The case of the part each of them is; in their order if not given.
    known_v : float array, shape (known, load), optional
        Voltages across the loads in known solutions, which `cases.near` counts. [V]
    told : callable, optional
        Told of every chunk how many cases it finished.
    """
    if columns is None:
        columns = numbered(len(cases))
    else:
        into.floating[:, into.first + columns] = False
    run = _Run(plan, cases, asked, known_v, into, columns)
    tell = told or _tell_nobody
    for shape, which in _routes(plan, cases):
        if is_compiled(plan.executor, len(which)):
            _sweep_compiled(run, shape, which, tell)
        else:
            _sweep_arrays(run, shape, which, tell)


def _tell_nobody(_: int) -> None:
    pass


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


def _sweep_arrays(run: _Run, shape: Shape, which: Columns, tell: Told) -> None:
    pool, pool_v = [which[:0]], [np.empty((len(shape.loads), 0))]
    for part in _parts(which):
        left, left_v = run.solve(shape, part, run.start_v(part), STRAGGLERS)
        pool.append(left)
        pool_v.append(left_v)
        tell(len(part) - len(left))
    pooled, pooled_v = np.concatenate(pool), np.concatenate(pool_v, axis=1)
    for part in _parts(numbered(len(pooled))):
        rest, _ = run.solve(shape, pooled[part], pooled_v[:, part], 0.0)
        run.solve_carefully(shape, rest)
        tell(len(part))


def _sweep_compiled(run: _Run, shape: Shape, which: Columns, tell: Told) -> None:
    from loomwright.circuit.fast.executor import compiled_plan

    compiled = compiled_plan(run.plan)
    answers = run.asked, run.into, run.columns
    job = compiled.job(shape, run.cases, which, run.known_v, answers)
    for part, unsettled in compiled.solve(job, ROUNDS):
        if unsettled:
            done = run.into.settled[run.into.first + run.columns[part]]
            run.solve_carefully(shape, part[~done])
        tell(len(part))


@dataclass(slots=True)
class _Run:
    """A sweep under way."""

    plan: Plan
    cases: Cases
    asked: Asked
    known_v: Floats | None
    into: Swept
    columns: Columns
    room: Room = field(default_factory=Room)

    def solve(
        self, shape: Shape, which: Columns, start_v: Floats, leave: float
    ) -> tuple[Columns, Floats]:
        """Solve some cases in one go and write their answers.

        Returns those that did not settle, and the voltages across their loads to go on from.
        """
        values, laws = self._numbers(which)
        balance = find_balance(
            shape, laws, values, start_v, rounds=ROUNDS, leave=leave, room=self.room
        )
        self._write(shape, values, balance, which)
        left = ~balance.settled
        return which[left], balance.load_v[:, left]

    def solve_carefully(self, shape: Shape, which: Columns) -> None:
        """Solve the few cases that full steps do not settle."""
        if not len(which):
            return
        values, laws = self._numbers(which)
        start_v = self.plan.guess(self.cases.base[which])
        balance = find_balance_carefully(shape, laws, values, start_v, CAREFUL_ROUNDS)
        self._write(shape, values, balance, which)

    def start_v(self, which: Columns) -> Floats:
        """Voltages across the loads to start from, shape (load, case). [V]"""
        if self.known_v is None:
            return self.plan.guess(self.cases.base[which])
        near, known_v = self.cases.near[which].T, self.known_v.T
        if (near[0] == near[1]).all() and (near[1] == near[2]).all():
            return known_v[:, near[0]]
        one, other, both = (known_v[:, each] for each in near)
        most = np.maximum(np.maximum(np.abs(one), np.abs(other)), np.abs(both))
        scaled = np.abs(both) > SCALED_ABOVE_V
        start_v = np.divide(one * other, both, out=one + other - both, where=scaled)
        return np.clip(start_v, -most, most)

    def _numbers(self, which: Columns) -> tuple[Floats, Laws]:
        cases = self.cases.take(which)
        return cases.values(self.plan.values), self.plan.laws.of(cases.base)

    def _write(self, shape: Shape, values: Floats, balance: Balance, which: Columns) -> None:
        into, columns = self.into, self.columns[which]
        of_run = into.first + columns
        into.voltages_v[:, of_run] = _between(balance, self.asked.pairs, len(which))
        states_v = _between(balance, self.asked.states, len(which))
        into.states_v[:, columns] = states_v
        into.called[columns] = self.asked.limits.called(values, states_v)
        if len(self.asked.pairs):
            held = held_nodes(shape, values, balance.tie_s)
            held = np.concatenate([held, np.ones((1, len(which)), dtype=bool)])
            first, second = self.asked.pairs.T
            into.floating[:, of_run] = ~(held[first] & held[second])
        if len(into.load_v):
            into.load_v[:, columns] = balance.load_v
        into.residual_a[of_run] = balance.residual_a
        into.rounds[of_run] += balance.rounds
        into.settled[of_run] = balance.settled


def _between(balance: Balance, pairs: Pairs, cases: int) -> Floats:
    """Voltages between pairs of nodes, shape (pair, case). [V]"""
    voltages = np.empty((len(pairs), cases))
    for n, (a, b) in enumerate(pairs.tolist()):
        voltages[n] = balance.voltages_v[a] - balance.voltages_v[b]
    return voltages


def _routes(plan: Plan, cases: Cases) -> Iterator[tuple[Shape, Columns]]:
    """Cases by the smallest program that has all their edges."""
    if len(plan.shapes) == 1 or not cases.edit_rows.shape[1]:
        yield plan.shapes[0], numbered(len(cases))
        return
    needs = np.zeros(len(cases), dtype=np.int32)
    of_row = np.append(plan.needs, 0)  # row -1 is no edit and needs nothing
    first = np.argmax(plan.needs > 0)
    for rows in cases.edit_rows.T:
        if rows.max(initial=-1) >= first:
            np.maximum(needs, of_row.take(rows, mode="wrap"), out=needs)
    for n, shape in enumerate(plan.shapes):
        which = np.flatnonzero(needs == n)
        if len(which):
            yield shape, which


def _parts(which: Columns) -> Iterator[Columns]:
    for first in range(0, len(which), CHUNK):
        yield which[first : first + CHUNK]
