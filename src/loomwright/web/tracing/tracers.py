"""Rigs ready to be traced, kept for a while; two faults at once are worked out behind the page."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING

from loomwright.circuit.progress import Cancelled

if TYPE_CHECKING:
    from loomwright.observations.observation import Observation
    from loomwright.rig.model import Rig
    from loomwright.trace.engine import Trace
    from loomwright.trace.model import Advice, Ranking

MOST_KEPT = 4
"""A rig with its pairs of faults takes some hundred megabytes."""


@dataclass(slots=True)
class Tracer:
    """One rig with all its faults solved, and how far its pairs of faults are.

    `done` and `of` count cases; both 0 before it begins.
    """

    rig: Rig
    lock: Lock = field(default_factory=Lock)
    stop: Event = field(default_factory=Event)
    made: list[Trace] = field(default_factory=list)
    worker: Thread | None = None
    done: int = 0
    of: int = 0

    @property
    def is_ready(self) -> bool:
        """Whether single faults are solved."""
        return bool(self.made)

    @property
    def has_pairs(self) -> bool:
        """Whether two faults at once are considered."""
        return self.is_ready and self.made[0].has_pairs

    def trace(self) -> Trace:
        """Return the rig with all its single faults solved; whoever comes second waits."""
        with self.lock:
            if not self.made:
                from loomwright.trace.engine import trace_rig

                self.made.append(trace_rig(self.rig))
            return self.made[0]

    def answer(self, observations: tuple[Observation, ...]) -> tuple[Ranking, Advice]:
        """Return how the faults rank after some observations, and what to look at next.

        From the first observation on, two faults at once are worked out behind the page.
        """
        trace = self.trace()
        if observations:
            self._begin_pairs()
        ranking = trace.rank(observations)
        return ranking, trace.advise(ranking)

    def _begin_pairs(self) -> None:
        with self.lock:
            if self.worker is None:
                self.worker = Thread(target=self._solve_pairs, daemon=True)
                self.worker.start()

    def _solve_pairs(self) -> None:
        def told(done: int, total: int) -> None:
            self.done, self.of = done, total

        try:
            self.made[0].prepare_pairs(progress=told, cancelled=self.stop.is_set)
        except Cancelled:
            self.done, self.of = 0, 0


@dataclass(frozen=True, slots=True)
class Tracers:
    """The rigs traced last, by the text of their job."""

    lock: Lock = field(default_factory=Lock)
    kept: OrderedDict[str, Tracer] = field(default_factory=OrderedDict)

    def of(self, text: str, rig: Rig) -> Tracer:
        """Return the tracer of a rig; the one that was not asked for longest makes room."""
        with self.lock:
            tracer = self.kept.setdefault(text, Tracer(rig))
            self.kept.move_to_end(text)
            while len(self.kept) > MOST_KEPT:
                self.kept.popitem(last=False)[1].stop.set()
            return tracer

    def stop(self) -> None:
        """Let everything that is still being worked out end."""
        with self.lock:
            for tracer in self.kept.values():
                tracer.stop.set()
