"""A typical rig with every fault it may have solved, as a stand-in for the rig of a case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from loomwright.trace.bench import Bench
from loomwright.trace.cases_read import Seen
from loomwright.trace.engine import Trace
from loomwright.trace.eye import SLIP
from loomwright.trace.homes import circuit_of
from loomwright.trace.model import RigFault
from loomwright.trace.simulate import Field
from loomwright.trace.typical import TypicalRig
from loomwright.trace.whereabouts import side_of, small_kind

Chances = NDArray[np.float64]

LOOSE_SHAKES = 0.6
"""How often what something loose disturbs is told to flicker, or to come and go."""

POOR_SHAKES = 0.25
"""The same of a poor joint."""

BLOWN_SHAKES = 0.1
"""The same of a short that blows its fuse: it is dark then, and stays so."""

OTHERS_SHAKE = 0.04
"""The same of all else. All four are opinion (common practice)."""

SHAKY = frozenset({"intermittent", "flicker"})
"""Words for what is there at one moment and gone at the next."""

WHATEVER = frozenset({"any", "rolling", "bump", "rain", "tap"})
"""Commands and circumstances under which each lamp is looked at under its own command."""


@dataclass(frozen=True)
class Stand:
    """A typical rig with every fault it may have solved, and its weight among others.

    `stays` says which faults blow a fuse, and so stay to be seen once they were there.
    """

    typical: TypicalRig
    bench: Bench
    faults: tuple[RigFault, ...]
    solved: Field
    variant: NDArray[np.intp]
    stays: NDArray[np.bool_]
    light_words: dict[tuple[int, int], dict[str, Chances]] = field(default_factory=dict)

    @property
    def weight(self) -> float:
        """Its weight among the rigs that stand for the same answers."""
        return self.typical.weight

    @cached_property
    def lamps(self) -> tuple[tuple[str, str], ...]:
        """What each load does and its side; empty for what is no lamp of the trailer."""
        return tuple(self._lamp(n) for n in range(len(self.bench.wiring.loads)))

    def _lamp(self, number: int) -> tuple[str, str]:
        wiring = self.bench.wiring
        load = wiring.loads[number]
        if load.kind != "lamp":
            return "", ""
        side = {"left": "L", "right": "R"}.get(side_of(wiring, load), "")
        circuit = circuit_of(load.function)
        name = "signal" if circuit in ("left", "right") else circuit
        return (small_kind(wiring, load) or name), side

    @cached_property
    def comes_and_goes(self) -> NDArray[np.bool_]:
        """Whether each fault is there at one moment and gone at the next."""
        return np.array([fault.comes_and_goes for fault in self.faults])

    @cached_property
    def shakes(self) -> Chances:
        """How often what each fault disturbs is told to flicker, or to come and go."""
        return np.array([self._shakes(n, fault) for n, fault in enumerate(self.faults)])

    def _shakes(self, number: int, fault: RigFault) -> float:
        if self.stays[number]:
            return BLOWN_SHAKES
        if fault.comes_and_goes:
            return LOOSE_SHAKES
        return POOR_SHAKES if fault.form == "high_resistance" else OTHERS_SHAKE

    def command(self, key: str) -> int | None:
        """Return the number of a command; None if the rig has none of that key."""
        return self.bench.number(key) if self.bench.has(key) else None


def make_stand(typical: TypicalRig) -> Stand:
    """Solve a typical rig with each of its faults.

    Parameters
    ----------
    typical : TypicalRig
        The rig.
    """
    (found,) = Trace(((typical.rig, 1.0),)).singles
    return Stand(
        typical, found.field.bench, found.faults, found.field, found.variant[1:], found.stays[1:]
    )


def rising(x: Chances, edge: float, spread: float) -> Chances:
    """Return how far each number is above an edge: 0 well below it, 1 well above.

    Parameters
    ----------
    x : float array
        The numbers.
    edge : float
        Where it is a half.
    spread : float
        How gently it rises.
    """
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip((x - edge) / spread, -40.0, 40.0))))


def among(table: Mapping[str, Chances], seen: Seen) -> Chances:
    """Return the chance of a word among all of a table, with room for slips.

    Of an unsteady word: how far a fault is from the healthy rig, the first of the field.

    Parameters
    ----------
    table : mapping of str to float array
        By word, how fitting it is with each fault.
    seen : Seen
        The observation.
    """
    if seen.word in SHAKY:
        healthy = max(table.values(), key=lambda each: float(each[0]))
        return np.asarray(np.clip(1.0 - healthy / max(float(healthy[0]), 1e-6), 0.0, 1.0))
    total = np.sum(list(table.values()), axis=0)
    found = table.get(seen.word, np.zeros(len(total))) / np.maximum(total, 1e-6)
    return np.asarray((1.0 - SLIP) * found + SLIP / 8.0)
