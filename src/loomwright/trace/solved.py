"""A rig solved under every command with each of many sets of changes in it.

Under most commands most changes do nothing: a poor joint in the wire of the left signal is not
felt while the right one flashes. Such a set reads as the sound rig does (`silence`), and is not
solved.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Cases
from loomwright.circuit.faults import Opened
from loomwright.circuit.plan import Executor
from loomwright.circuit.study import Study
from loomwright.trace.bench import Bench
from loomwright.trace.silence import is_plain, points_of_faults, silent_beside
from loomwright.trace.simulate import Changes, Field, Room, Whole, different_commands

Flags = NDArray[np.bool_]


def solve_field(
    bench: Bench, changes: Sequence[Changes], executor: Executor = "best", *, every: bool = False
) -> Field:
    """Solve a rig under every command with each set of changes in it.

    Parameters
    ----------
    bench : Bench
        The rig.
    changes : sequence of tuple of Fault
        Sets of changes, the first of them empty.
    executor : {"best", "arrays", "compiled"}
        As for `Study`.
    every : bool
        Whether to solve even where nothing that is changed does anything; the answer is the same.
    """
    single = list(dict.fromkeys(fault for each in changes for fault in each))
    study = Study(bench.wiring.network, bench.cases, single, executor=executor)
    room = Room(bench, len(changes))
    bases, repeats = different_commands(bench)
    wanted = [*room.wanted, *points_of_faults(study.network, single)]
    sound = study.solve(study.fault_free().take(np.array(bases)), wanted)
    room.fill_all(sound, bases)
    number = {fault: n for n, fault in enumerate(single)}
    sets = [[number[fault] for fault in each] for each in changes]
    acts = ~_silent(study, bases, sound.voltages_v[:, len(room.wanted) :], sets)
    acts |= ~is_plain(sound, sound)[:, None] | every
    parts = list(_cases(study, bases, sets, acts))
    if parts:
        readings = study.solve(_joined([cases for cases, _, _ in parts]), room.wanted)
        commands, members = (np.concatenate(each) for each in list(zip(*parts, strict=True))[1:])
        room.put(readings, commands, members)
    room.repeat(repeats)
    return room.field(tuple(changes), _dead(bench, changes))


def _silent(
    study: Study, bases: Sequence[int], felt: NDArray[np.float64], sets: Sequence[Sequence[int]]
) -> Flags:
    """Which sets do nothing in the sound rig, shape (base, set): those of which no fault does."""
    faults = study.faults
    alone = np.ones((len(bases), len(faults) + 1), dtype=bool)
    for place, base in enumerate(bases):
        elements = study.plan.elements[base]
        alone[place, :-1] = silent_beside(elements, faults, felt[[place]])[0]
    most = max((len(each) for each in sets), default=0)
    padded = np.full((len(sets), max(most, 1)), len(faults))
    for n, each in enumerate(sets):
        padded[n, : len(each)] = each
    return np.asarray(alone[:, padded].all(axis=2))


def _cases(
    study: Study, bases: Sequence[int], sets: Sequence[Sequence[int]], acts: Flags
) -> Iterator[tuple[Cases, Whole, Whole]]:
    """Yield the sets that do something, by how many changes they have: cases, commands, sets."""
    by_count: dict[int, list[int]] = {}
    for n, each in enumerate(sets):
        if each:
            by_count.setdefault(len(each), []).append(n)
    for members in by_count.values():
        chosen = np.array([sets[n] for n in members], dtype=int)
        place, which = np.nonzero(acts[:, members])
        if len(place):
            cases = study.several_faults(chosen, bases).take(place * len(members) + which)
            yield cases, np.array(bases)[place], np.array(members)[which]


def _joined(parts: Sequence[Cases]) -> Cases:
    """Cases of one study one after another; those that change less are told as changing no row."""
    most = max(part.edit_rows.shape[1] for part in parts)

    def widened(table: NDArray[np.generic], empty: float) -> NDArray[np.generic]:
        missing = most - table.shape[1]
        return np.pad(table, ((0, 0), (0, missing)), constant_values=empty)

    return replace(
        parts[0],
        base=np.concatenate([part.base for part in parts]),
        near=np.concatenate([part.near for part in parts]),
        edit_rows=np.concatenate([widened(part.edit_rows, -1) for part in parts]),
        edits=np.concatenate([widened(part.edits, 0.0) for part in parts]),
        given=np.concatenate([part.given for part in parts], axis=1),
    )


def _dead(bench: Bench, changes: Sequence[Changes]) -> Mapping[int, Whole]:
    """By load, the variants in which it is broken itself."""
    numbers = {load.element: n for n, load in enumerate(bench.wiring.loads)}
    found: dict[int, list[int]] = {}
    for variant, each in enumerate(changes):
        for fault in each:
            if isinstance(fault, Opened) and fault.element in numbers:
                found.setdefault(numbers[fault.element], []).append(variant)
    return {load: np.array(variants) for load, variants in found.items()}
