"""Everything that may be the case, as arrays: nothing wrong, one fault, two faults."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loomwright.trace.bench import Bench
from loomwright.trace.model import RigFault
from loomwright.trace.simulate import Changes, Field, Floats, Whole
from loomwright.trace.solved import solve_field

NOTHING = -1
"""Number that stands for no fault."""


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """What may be the case with one rig.

    Attributes
    ----------
    field : Field
        What it reads in each variant.
    faults : tuple of RigFault
        The faults that `first` and `second` count.
    first, second : int array, shape (hypothesis,)
        The faults of each; -1 for none.
    variant : int array, shape (hypothesis,)
        The variant of the field that each shows.
    weight : float array, shape (hypothesis,)
        Belief before anything was seen, against the others.
    may_go : bool
        Whether what comes and goes may be gone; if not, everything is taken as there.
    """

    field: Field
    faults: tuple[RigFault, ...]
    first: Whole
    second: Whole
    variant: Whole
    weight: Floats
    may_go: bool = True
    memory: dict[object, object] = dataclasses.field(
        default_factory=dict, compare=False, repr=False
    )

    def __len__(self) -> int:
        return len(self.first)

    @property
    def loose(self) -> NDArray[np.bool_]:
        """Which come and go."""
        if not self.may_go:
            return np.zeros(len(self), dtype=bool)
        flags = np.array([*(f.comes_and_goes for f in self.faults), False])
        return np.asarray(flags[self.first] | flags[self.second])

    @property
    def stays(self) -> NDArray[np.bool_]:
        """Which blow a fuse once they are there, and so are seen from then on."""
        parts = self.field.bench.wiring.parts
        blown = [n for n, name in enumerate(self.field.fuses) if parts[name].kind == "fuse"]
        opens = np.asarray(self.field.opened[..., blown].any(axis=(1, 2)))
        return opens[self.variant]

    @property
    def if_there(self) -> Hypotheses:
        """The same, at a moment at which what comes and goes is there."""
        known = self.memory.get("if_there")
        if not isinstance(known, Hypotheses):
            known = dataclasses.replace(self, may_go=False, memory={})
            self.memory["if_there"] = known
        return known

    def of_fault(self, values: Sequence[float], nothing: float) -> Floats:
        """Values given by fault, for the first and the second of each hypothesis, (2, H)."""
        table = np.array([*values, nothing])
        return np.stack([table[self.first], table[self.second]])


def variants_of(
    faults: Sequence[RigFault], stands: Mapping[Changes, Changes]
) -> tuple[tuple[Changes, ...], Whole]:
    """Return the different sets of changes, the empty one first, and which each fault has."""
    number: dict[Changes, int] = {(): 0}
    of_fault = []
    for fault in faults:
        changes = stands.get(fault.changes, fault.changes)
        of_fault.append(number.setdefault(changes, len(number)))
    return tuple(number), np.array(of_fault, dtype=int)


def single_hypotheses(
    bench: Bench, faults: Sequence[RigFault], stands: Mapping[Changes, Changes]
) -> Hypotheses:
    """Return "nothing is wrong" and every single fault, solved.

    Parameters
    ----------
    bench : Bench
        The rig.
    faults : sequence of RigFault
        What may be wrong.
    stands : mapping
        For the changes of a fault those that are solved in their place.
    """
    changes, of_fault = variants_of(faults, stands)
    solved = solve_field(bench, changes)
    count = len(faults)
    return Hypotheses(
        solved,
        tuple(faults),
        np.array([NOTHING, *range(count)]),
        np.full(count + 1, NOTHING),
        np.concatenate([[0], of_fault]),
        np.array([0.0, *(fault.weight for fault in faults)]),
    )
