"""What is asked of a sweep, and the tables its answers go into."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Floats
from loomwright.circuit.room import Room

Pairs = NDArray[np.int64]
"""Pairs of nodes, shape (pair, 2), for the voltage of the first against the second."""

_NOTHING: Final = np.empty((0, 0))


class Asked(NamedTuple):
    """What a sweep writes down: voltages for the reader, and those that states depend on."""

    pairs: Pairs
    states: Pairs


class Swept(NamedTuple):
    """Answers of a sweep over a part of a run, commonly over all of it.

    Attributes
    ----------
    voltages_v : float array, shape (pair, case of the run)
        Voltages between the pairs of nodes asked for. [V]
    floating : bool array, shape (pair, case of the run)
        Whether one of the two floats.
    residual_a : float array, shape (case of the run,)
        The most a law misses the current the network carries by. [A]
    rounds : int array, shape (case of the run,)
        Newton rounds in all.
    settled : bool array, shape (case of the run,)
        Whether a balance was found.
    first : int
        The first case of the part.
    states_v : float array, shape (state pair, case of the part)
        Voltages that states depend on. [V]
    load_v : float array, shape (load, case of the part)
        Across every load. [V]
    """

    voltages_v: Floats
    floating: NDArray[np.bool_]
    residual_a: Floats
    rounds: NDArray[np.int32]
    settled: NDArray[np.bool_]
    first: int
    states_v: Floats
    load_v: Floats

    @classmethod
    def room(cls, cases: int, pairs: int) -> Swept:
        """Room for a run of so many cases, of which no part is under way."""
        return cls(
            np.empty((pairs, cases)),
            np.zeros((pairs, cases), dtype=bool),
            np.empty(cases),
            np.zeros(cases, dtype=np.int32),
            np.empty(cases, dtype=bool),
            0,
            _NOTHING,
            _NOTHING,
        )

    def part(self, first: int, cases: int, states: int, loads: int, room: Room) -> Swept:
        """A part of the run, which writes into the tables of the whole and has two of its own."""
        return Swept(
            self.voltages_v,
            self.floating,
            self.residual_a,
            self.rounds,
            self.settled,
            first,
            room.table("states", states, cases),
            room.table("loads", loads, cases),
        )
