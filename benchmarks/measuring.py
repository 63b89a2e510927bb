"""Rounds of measuring, ours and ngspice's in turn, and what comes of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import perf_counter

import numpy as np

from benchmarks.ngspice_peer import NgspicePeer
from benchmarks.peer_run import PeerRun
from benchmarks.workloads import Workload

Told = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Largest difference to ngspice in the sampled cases. [V]

    `held` is of nodes tied to the reference, `floating` of the rest; `residual_a` the most
    Kirchhoff's law is missed by; `compared` the cases of all `sampled`.
    """

    held_v: float
    floating_v: float
    residual_a: float
    compared: int
    sampled: int


@dataclass(frozen=True, slots=True)
class Measured:
    """One workload on one rig by one executor.

    Times are medians over the rounds; `ratios` has one of each round, empty without ngspice.
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
    accuracy: Accuracy | None

    @property
    def ratio(self) -> float | None:
        """How many times as fast as ngspice, the median of the rounds."""
        return median(self.ratios) if self.ratios else None


def measure(
    rig: str, by_executor: dict[str, Workload], peer: NgspicePeer | None, rounds: int, told: Told
) -> list[Measured]:
    """Measure one workload on one rig, by every executor and by ngspice, in turn.

    Parameters
    ----------
    rig : str
        Key of the rig.
    by_executor : dict of str to Workload
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
    took: dict[str, list[float]] = {name: [] for name in by_executor}
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


def _timed_s(workload: Workload) -> float:
    """Time of one run; a short one is repeated to fill a hundredth of a second. [s]"""
    repeats, total = 0, 0.0
    while total < 0.01:
        start = perf_counter()
        workload.run()
        total += perf_counter() - start
        repeats += 1
    return total / repeats


def _measured(
    names: tuple[str, str],
    workload: Workload,
    took_s: list[float],
    peer_s: list[float],
    theirs: PeerRun | None,
) -> Measured:
    each_s = [one / workload.solves for one in took_s]
    return Measured(
        *names,
        workload.key,
        workload.title,
        workload.written,
        workload.solves,
        1e6 * median(each_s),
        median(took_s),
        1e6 * median(peer_s) if peer_s else None,
        tuple(peer / ours for peer, ours in zip(peer_s, each_s, strict=False)),
        0 if theirs is None else len(theirs.direct),
        None if theirs is None else compare(workload, theirs),
    )


def compare(workload: Workload, theirs: PeerRun) -> Accuracy:
    """Largest differences between our voltages and those ngspice gave."""
    answered = [n for n, volts in enumerate(theirs.voltages_v) if volts is not None]
    apart = np.zeros((len(answered), workload.node_v.shape[1]))
    for row, n in enumerate(answered):
        apart[row] = np.abs(workload.node_v[n] - theirs.voltages_v[n])
    floating = workload.floating[answered]
    return Accuracy(
        float(np.where(floating, 0.0, apart).max(initial=0.0)),
        float(np.where(floating, apart, 0.0).max(initial=0.0)),
        workload.residual_a,
        len(answered),
        len(theirs.voltages_v),
    )
