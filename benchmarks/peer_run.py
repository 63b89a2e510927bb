"""ngspice's part of a workload: sampled cases, each timed by itself, and read once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from time import thread_time

import numpy as np
from numpy.typing import NDArray

from benchmarks.deck import Deck, State, steps
from benchmarks.ngspice_peer import NgspicePeer, PreparedRun
from loomwright.circuit.network import OPEN_OHM
from loomwright.circuit.spice import spice_nodes

Numbers = NDArray[np.float64]
SEARCHING = 5.0
"""A case that takes this many times the median is one where ngspice searched for an answer."""


@dataclass(slots=True)
class PeerRun:
    """Sampled cases in ngspice, with the deck loaded.

    A case in which fuses open takes an operating point more for each of them, as it must to
    reach the same answer; ngspice is told for nothing which fuses those are.

    Attributes
    ----------
    voltages_v : list of array or None
        Every node in each case; None where ngspice gave no answer. [V]
    direct : list of int
        The cases it solved without a search.
    """

    peer: NgspicePeer
    deck: Deck
    cases: Sequence[Sequence[State]]
    voltages_v: list[Numbers | None] = field(default_factory=list)
    direct: list[int] = field(default_factory=list)
    _runs: list[PreparedRun] = field(default_factory=list)
    _passes: list[PreparedRun] = field(default_factory=list)
    _back: list[str] = field(default_factory=list)

    def load(self, told: Callable[[], None]) -> None:
        """Load the deck, solve and read every case once, and set apart those it searched for."""
        self.peer.load(self.deck.text)
        names = spice_nodes(self.deck.network)
        nodes = [names[node] for node in self.deck.network.nodes]
        took = []
        for commands in self._by_case():
            start = thread_time()
            self.voltages_v.append(self._read(commands, nodes))
            took.append(thread_time() - start)
            self._runs.append(self.peer.prepared(commands))
            altered = [command for command in commands if command.startswith("alter")]
            self._passes.append(self.peer.prepared(altered))
            told()
        self.peer.run(self._back)
        self.direct = [n for n, t in enumerate(took) if t < SEARCHING * float(np.median(took))]

    def time_s(self) -> float:
        """Time of the cases it solves directly, the mean of one; the others are passed by. [s]"""
        total, direct = 0.0, set(self.direct)
        for n, run in enumerate(self._runs):
            if n not in direct:
                self._passes[n]()
                continue
            start = thread_time()
            run()
            total += thread_time() - start
        self.peer.run(self._back)
        return total / max(len(direct), 1)

    def unload(self) -> None:
        """Forget the deck."""
        self.peer.run(["remcirc"])

    def _by_case(self) -> list[list[str]]:
        """Commands of each case; the last ones put the deck back."""
        flat = list(steps(self.deck, [state for case in self.cases for state in case]))
        self._back = flat.pop()
        parts = iter(flat)
        return [[command for _ in case for command in next(parts)] for case in self.cases]

    def _read(self, commands: Sequence[str], nodes: Sequence[str]) -> Numbers | None:
        try:
            self.peer.run(commands[:-1])
            return np.array(self.peer.voltages_v(nodes))
        except RuntimeError:
            return None
        finally:
            self.peer.run(commands[-1:])


def with_fuses(state: State, opened: Sequence[str]) -> list[State]:
    """States ngspice goes through in a case: as it is, then with each fuse open that opens."""
    states = [state]
    for fuse in opened:
        states.append({**states[-1], f"r{fuse}": OPEN_OHM})
    return states
