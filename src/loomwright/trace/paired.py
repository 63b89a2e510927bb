"""A rig with two faults in it at once, solved where both do something."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from loomwright.circuit.faults import Fault, Opened
from loomwright.circuit.plan import Executor
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.circuit.study import Study
from loomwright.circuit.sweep import is_compiled
from loomwright.trace.bench import Bench
from loomwright.trace.silence import is_plain, points_of_faults, silent_beside
from loomwright.trace.simulate import Changes, Field, Room, Whole, different_commands

NEITHER = -1
"""Stands for no fault whose answer is that of both."""


def solve_pairs(
    bench: Bench,
    changes: Sequence[Changes],
    pairs: Whole,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
    *,
    executor: Executor = "best",
) -> Field:
    """Solve a rig under every command with two faults in it at once.

    Parameters
    ----------
    bench : Bench
        The rig.
    changes : sequence of tuple of Fault
        Sets of changes, each of one fault.
    pairs : int array, shape (pair, 2)
        Numbers of the two.
    progress, cancelled
        As for `Study.solve`. Solved command by command, which bounds the memory.
    executor : {"best", "arrays", "compiled"}
        As for `Study`; the best is chosen by the size of the whole job.

    Returns
    -------
    Field
        Variant 0 is the rig without a fault, variant n + 1 the pair n.
    """
    faults = [each[0] for each in changes]
    bases, repeats = different_commands(bench)
    if executor == "best":
        executor = "compiled" if is_compiled("best", len(pairs) * len(bases)) else "arrays"
    study = Study(bench.wiring.network, bench.cases, faults, executor=executor)
    room = Room(bench, 1 + len(pairs), with_drops=False)
    count = Count(len(pairs) * len(bases), progress, cancelled)
    alone = _Alone(study, bases, room)
    for place, base in enumerate(bases):
        same_as = alone.same_as(place, pairs)
        copied, rest = np.flatnonzero(same_as != NEITHER), np.flatnonzero(same_as == NEITHER)
        alone.copy(place, 1 + copied, same_as[copied])
        count(len(copied))
        if len(rest):
            cases = study.fault_pairs(pairs[rest], [base])
            room.put(study.solve(cases, room.wanted, progress=_passed_to(count)), base, 1 + rest)
    room.repeat(repeats)
    both = (map(faults.__getitem__, numbers) for numbers in pairs.T.tolist())
    return room.field(((), *zip(*both, strict=True)), _dead(bench, faults, pairs))


def _dead(bench: Bench, faults: Sequence[Fault], pairs: Whole) -> Mapping[int, Whole]:
    """By load, the variants in which it is broken itself."""
    found = {}
    for load, place in enumerate(bench.wiring.loads):
        broken = [n for n, fault in enumerate(faults) if fault == Opened(place.element)]
        if broken:
            found[load] = 1 + np.flatnonzero((pairs == broken[0]).any(axis=1))
    return found


class _Alone:
    """Each fault alone under each command, to be copied where another does nothing beside it."""

    def __init__(self, study: Study, bases: Sequence[int], room: Room) -> None:
        self.study, self.bases, self.room = study, bases, room
        healthy = study.solve(study.fault_free().take(np.array(bases)), room.wanted)
        wanted = [*room.wanted, *points_of_faults(study.network, study.faults)]
        self.readings = study.solve(study.single_faults(bases), wanted)
        self.plain = is_plain(self.readings, healthy)
        room.put(healthy, np.array(bases), np.zeros(len(bases), dtype=int))

    def same_as(self, place: int, pairs: Whole) -> Whole:
        """Return for each pair the fault whose answer is that of both, or NEITHER."""
        part, faults = self._part(place), self.study.faults
        felt = self.readings.voltages_v[part, len(self.room.wanted) :]
        elements = self.study.plan.elements[self.bases[place]]
        silent = silent_beside(elements, faults, felt)
        silent &= self.plain[part, None]
        one, other = pairs.T
        other_is_all = np.where(silent[other, one], other, NEITHER)
        return np.where(silent[one, other], one, other_is_all)

    def copy(self, place: int, members: Whole, same_as: Whole) -> None:
        """Write down for some variants the answer of one fault each."""
        base = self.bases[place]
        volts, opened = self.room.of(self.readings, self._part(place))
        self.room.read[:, base, members] = volts[:, same_as]
        self.room.opened[:, base, members] = opened[:, same_as]

    def _part(self, place: int) -> slice:
        count = len(self.study.faults)
        return slice(place * count, (place + 1) * count)


def _passed_to(count: Count) -> Progress:
    """Return what passes on how many more are done."""
    before = 0

    def told(done: int, _: int) -> None:
        nonlocal before
        count(done - before)
        before = done

    return told
