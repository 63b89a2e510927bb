"""Rounds of measuring, ours and ngspice's in turn, and what comes of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import median
from time import perf_counter, thread_time

import numpy as np

from benchmarks.arbiter import exact_voltages
from benchmarks.ngspice_peer import NgspicePeer
from benchmarks.peer_run import PeerRun
from benchmarks.workloads import Workload
from loomwright.circuit.plan import Executor

Told = Callable[[str], None]
Took = tuple[float, float]
"""CPU time of the thread and time on the clock. [s]"""


APART_V = 1e-6
"""Beyond this the arbiter says who is right. [V]"""

JUDGED = 3
"""Cases it judges at most, the worst."""


@dataclass(frozen=True, slots=True)
class Accuracy:
    """How far we and ngspice are apart in the sampled cases.

    Attributes
    ----------
    held_v, floating_v : float
        Largest difference at nodes tied to the reference, and at those that float. [V]
    residual_a : float
        The most Kirchhoff's law is missed by. [A]
    compared, sampled : int
        Cases ngspice answered, of all sampled.
    apart : int
        Cases that are farther apart than a microvolt anywhere.
    ours_v, peer_v : float
        In the worst of those, the largest difference of each to the arbiter. [V]
    """

    held_v: float
    floating_v: float
    residual_a: float
    compared: int
    sampled: int
    apart: int
    ours_v: float
    peer_v: float


@dataclass(frozen=True, slots=True)
class Measured:
    """One workload on one rig by one executor.

    Times are CPU seconds of the thread, medians over the rounds; `wall_s` is the shortest time
    on the clock for all cases; `direct` how many of the sampled cases ngspice solved without a
    search; `points` how many operating points a case takes there. `ratios` has one of
    each round, and is empty without ngspice.
    """

    rig: str
    executor: str
    key: str
    title: str
    written: str
    solves: int
    ours_us: float
    wall_s: float
    peer_us: float | None
    ratios: tuple[float, ...]
    direct: int
    points: float
    accuracy: Accuracy | None

    @property
    def ratio(self) -> float | None:
        """How many times as fast as ngspice, the median of the rounds."""
        return median(self.ratios) if self.ratios else None


def measure(
    rig: str,
    by_executor: Mapping[Executor, Workload],
    peer: NgspicePeer | None,
    rounds: int,
    told: Told,
) -> list[Measured]:
    """Measure one workload on one rig, by every executor and by ngspice, in turn.

    Parameters
    ----------
    rig : str
        Key of the rig.
    by_executor : mapping of str to Workload
        The workload as each executor runs it; the first one's sample goes to ngspice.
    peer : NgspicePeer, optional
        ngspice; without it only our own times are taken.
    rounds : int
        How often each is timed, after one run to warm up.
    told : callable
        Told what is being done.
    """
    first = next(iter(by_executor.values()))
    theirs = None if peer is None else PeerRun(peer, first.deck, first.sampled)
    if theirs is not None:
        told(f"{rig} {first.key}: ngspice, {len(first.sampled)} cases")
        theirs.load(lambda: None)
    for workload in by_executor.values():
        workload.run()
    took: dict[Executor, list[Took]] = {name: [] for name in by_executor}
    peer_s: list[float] = []
    for number in range(rounds):
        told(f"{rig} {first.key}: round {number + 1} of {rounds}")
        if theirs is not None:
            peer_s.append(theirs.time_s())
        for name, workload in by_executor.items():
            took[name].append(_timed_s(workload))
    if theirs is not None:
        theirs.unload()
    return [
        _measured((rig, name), workload, took[name], peer_s, theirs)
        for name, workload in by_executor.items()
    ]


def _timed_s(workload: Workload) -> Took:
    """Times of one run; a short one is repeated to fill a hundredth of a second. [s]"""
    repeats, cpu, wall = 0, 0.0, 0.0
    while cpu < 0.01:
        start, on_clock = thread_time(), perf_counter()
        workload.run()
        cpu += thread_time() - start
        wall += perf_counter() - on_clock
        repeats += 1
    return cpu / repeats, wall / repeats


def _measured(
    names: tuple[str, str],
    workload: Workload,
    took: list[Took],
    peer_s: list[float],
    theirs: PeerRun | None,
) -> Measured:
    each_s = [cpu / workload.solves for cpu, _ in took]
    points = sum(len(states) for states in workload.sampled) / len(workload.sampled)
    return Measured(
        *names,
        workload.key,
        workload.title,
        workload.written,
        workload.solves,
        1e6 * median(each_s),
        min(wall for _, wall in took),
        1e6 * median(peer_s) if peer_s else None,
        tuple(peer / ours for peer, ours in zip(peer_s, each_s, strict=False)),
        0 if theirs is None else len(theirs.direct),
        points,
        None if theirs is None else compare(workload, theirs),
    )


def compare(workload: Workload, theirs: PeerRun) -> Accuracy:
    """Compare our voltages with those ngspice gave, and both with the arbiter where they differ."""
    answered = [n for n, volts in enumerate(theirs.voltages_v) if volts is not None]
    apart = np.zeros((len(answered), workload.node_v.shape[1]))
    for row, n in enumerate(answered):
        apart[row] = np.abs(workload.node_v[n] - theirs.voltages_v[n])
    floating = workload.floating[answered]
    worst = apart.max(axis=1, initial=0.0)
    far = [answered[row] for row in np.argsort(-worst) if worst[row] > APART_V]
    ours_v, peer_v = _judged(workload, theirs, far[:JUDGED])
    return Accuracy(
        float(np.where(floating, 0.0, apart).max(initial=0.0)),
        float(np.where(floating, apart, 0.0).max(initial=0.0)),
        workload.residual_a,
        len(answered),
        len(theirs.voltages_v),
        len(far),
        ours_v,
        peer_v,
    )


def _judged(workload: Workload, theirs: PeerRun, cases: list[int]) -> tuple[float, float]:
    """Largest differences to the arbiter, ours and theirs. [V]"""
    ours_v = peer_v = 0.0
    for n in cases:
        exact = exact_voltages(workload.deck, workload.sampled[n][-1], workload.node_v[n])
        ours_v = max(ours_v, float(np.abs(workload.node_v[n] - exact).max()))
        peer_v = max(peer_v, float(np.abs(np.asarray(theirs.voltages_v[n]) - exact).max()))
    return ours_v, peer_v
