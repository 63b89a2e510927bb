"""What is asked of a sweep, and the tables its answers go into."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Floats
from loomwright.circuit.layout import OPEN_S
from loomwright.circuit.room import Room

Pairs = NDArray[np.int64]
"""Pairs of nodes, shape (pair, 2), for the voltage of the first against the second."""

_NOTHING: Final = np.empty((0, 0))


class Limits(NamedTuple):
    """Currents at which something opens; the last of the pairs of `Asked.states` are its ends.

    Attributes
    ----------
    rows : int array, shape (fuse,)
        Rows of the conductances.
    most_a, least_a : float array, shape (fuse,)
        It calls for opening at the first or above, and below the second if it is closed. [A]
    """

    rows: NDArray[np.int64]
    most_a: Floats
    least_a: Floats

    def called(self, values: Floats, states_v: Floats) -> NDArray[np.bool_]:
        """Cases in which something calls for opening.

        Parameters
        ----------
        values : float array, shape (row, case)
            Every number of the cases.
        states_v : float array, shape (state pair, case)
            Voltages that states depend on. [V]
        """
        conductance_s = values[self.rows]
        across_v = states_v[len(states_v) - len(self.rows) :]
        current_a = np.abs(conductance_s * across_v)
        too_little = (current_a < self.least_a[:, None]) & (conductance_s > OPEN_S)
        return np.asarray(((current_a >= self.most_a[:, None]) | too_little).any(axis=0))


class Asked(NamedTuple):
    """What a sweep writes down: voltages for the reader, and those that states depend on."""

    pairs: Pairs
    states: Pairs
    limits: Limits


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
    called : bool array, shape (case of the part,)
        Whether something calls for opening by its current.
    states_v : float array, shape (state pair, case of the part)
        Voltages that states depend on. [V]
    load_v : float array, shape (load, case of the part)
        Across every load; of no load where nobody goes on from them. [V]
    """

    voltages_v: Floats
    floating: NDArray[np.bool_]
    residual_a: Floats
    rounds: NDArray[np.int32]
    settled: NDArray[np.bool_]
    first: int
    called: NDArray[np.bool_]
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
            np.empty(0, dtype=bool),
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
            np.empty(cases, dtype=bool),
            room.table("states", states, cases),
            room.table("loads", loads, cases),
        )
