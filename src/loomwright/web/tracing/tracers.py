"""Rigs ready to be traced, kept for a while; two faults at once are worked out behind the page."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, field
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING

from loomwright.circuit.progress import Cancelled
from loomwright.trace.efforts import AT_HAND

if TYPE_CHECKING:
    from loomwright.observations.observation import Observation
    from loomwright.rig.model import Rig
    from loomwright.trace.engine import Trace
    from loomwright.trace.model import Advice, Ranking

SHOWN = 5
"""Questions that are offered."""

MOST_KEPT = 4
"""A rig with its pairs of faults takes some hundred megabytes."""


@dataclass(slots=True)
class Tracer:
    """One rig with all its faults solved, and how far its pairs of faults are.

    `done` and `of` count cases, both 0 before it begins; `is_wanted` says whether anybody wants
    two faults at once at all.
    """

    rig: Rig
    lock: Lock = field(default_factory=Lock)
    stop: Event = field(default_factory=Event)
    made: list[Trace] = field(default_factory=list)
    worker: Thread | None = None
    is_wanted: bool = True
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

    def answer(
        self,
        observations: tuple[Observation, ...],
        tools: Sequence[str] = AT_HAND,
        shown: int = SHOWN,
    ) -> tuple[Ranking, Advice]:
        """Return how the faults rank after some observations, and what to look at next.

        From the first observation on, two faults at once are worked out behind the page.

        Parameters
        ----------
        observations : tuple of Observation
            What was seen and measured.
        tools : sequence of str
            What is at hand.
        shown : int
            How many questions to return.
        """
        trace = self.trace()
        if observations:
            self._begin_pairs()
        ranking = trace.rank(observations)
        return ranking, trace.advise(ranking, tools, shown)

    def drop_pairs(self) -> None:
        """Stop working out two faults at once."""
        with self.lock:
            self.is_wanted = False
            self.stop.set()

    def want_pairs(self) -> None:
        """Work out two faults at once after all, from the beginning."""
        with self.lock:
            self.is_wanted, self.stop, self.worker = True, Event(), None
        self.trace()
        self._begin_pairs()

    def _begin_pairs(self) -> None:
        with self.lock:
            if self.worker is None and self.is_wanted and not self.made[0].has_pairs:
                self.worker = Thread(target=self._solve_pairs, args=(self.stop,), daemon=True)
                self.worker.start()

    def _solve_pairs(self, stop: Event) -> None:
        """Work on a copy: whoever asks meanwhile gets one answer or the other, never a mixture."""

        def told(done: int, total: int) -> None:
            if not stop.is_set():
                self.done, self.of = done, total

        try:
            with_pairs = copy(self.made[0])
            with_pairs.prepare_pairs(progress=told, cancelled=stop.is_set)
            self.made[0] = with_pairs
        except Cancelled:
            if self.stop is stop:
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
