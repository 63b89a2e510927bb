"""The four workloads: what is solved, by us whole, by ngspice as a sample of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from benchmarks.deck import Deck, State, make_deck
from benchmarks.peer_run import with_fuses
from benchmarks.rigs import MeasuredRig, spread
from loomwright.circuit import Fuse, Resistor
from loomwright.circuit.batch import Cases
from loomwright.circuit.faults import Fault
from loomwright.circuit.plan import Executor
from loomwright.circuit.readings import Readings
from loomwright.circuit.study import Study

Numbers = NDArray[np.float64]
SEED = 20_26


@dataclass(frozen=True, slots=True)
class Size:
    """How much is measured: faults, sampled faults and pairs, samples, rounds."""

    faults: int = 300
    sampled: int = 24
    samples: int = 10_000
    samples_in_ngspice: int = 12
    rounds: int = 5
    numpy_pairs: int = 4_485


TINY = Size(faults=12, sampled=2, samples=20, samples_in_ngspice=2, rounds=1, numpy_pairs=10)


@dataclass(frozen=True, slots=True)
class Workload:
    """A workload on one rig.

    Attributes
    ----------
    solves : int
        How many cases `run` solves.
    written : str
        What `run` writes for each.
    run : callable
        Solves all cases; this is timed.
    deck : Deck
        The rig in ngspice, with the bridges of the sampled faults.
    sampled : sequence of sequence of dict
        The states ngspice goes through in each sampled case.
    node_v, floating : array, shape (sampled, node)
        Our voltages in the sampled cases [V], and which of them float.
    residual_a : float
        The most Kirchhoff's law is missed by in the sampled cases. [A]
    """

    key: str
    title: str
    solves: int
    written: str
    run: Callable[[], object]
    deck: Deck
    sampled: Sequence[Sequence[State]]
    node_v: Numbers
    floating: NDArray[np.bool_]
    residual_a: float


@dataclass(slots=True)
class Bench:
    """A rig made ready to be measured."""

    rig: MeasuredRig
    size: Size
    executor: Executor
    study: Study = field(init=False)

    def __post_init__(self) -> None:
        """Compile the rig."""
        rig = self.rig
        self.study = Study(rig.network, rig.bases, rig.faults, executor=self.executor, threads=1)
        if self.study.plan.executor != self.executor:
            raise RuntimeError(f"{self.study.plan.executor} would run, not {self.executor}")

    def workloads(self, *, all_pairs: bool) -> list[Workload]:
        """Return the four."""
        return [self.cold(), self.singles(), self.pairs(whole=all_pairs), self.samples()]

    def cold(self) -> Workload:
        """W1: every command from a cold start, nothing known of the answer."""
        cases = self.study.fault_free()
        picked = [((), base) for base in range(len(self.rig.bases))]
        return self._made(
            ("W1", "every command, cold start", "all node voltages"),
            len(cases),
            lambda: self.study.solve(cases, "nodes", from_known=False),
            picked,
            cases,
        )

    def singles(self) -> Workload:
        """W2: every fault under every command."""
        cases, count = self.study.single_faults(), len(self.rig.faults)
        chosen = spread(range(count), self.size.sampled)
        bases = range(len(self.rig.bases))
        picked = [((n,), base) for n in chosen for base in bases]
        rows = [base * count + n for n in chosen for base in bases]
        return self._made(
            ("W2", "single faults x commands", "all node voltages"),
            len(cases),
            lambda: self.study.solve(cases, "nodes"),
            picked,
            cases.take(np.array(rows)),
        )

    def pairs(self, *, whole: bool) -> Workload:
        """W3: every two faults under every command; or a part of the pairs, evenly spread."""
        every = list(combinations(range(len(self.rig.faults)), 2))
        solved = every if whole else spread(every, self.size.numpy_pairs)
        rng = np.random.default_rng(SEED)
        chosen = [every[n] for n in rng.choice(len(every), self.size.sampled, replace=False)]
        cases = self.study.fault_pairs(solved)
        bases = range(len(self.rig.bases))
        picked = [(pair, base) for base in bases for pair in chosen]
        return self._made(
            ("W3", "double faults x commands", "load voltages"),
            len(cases),
            lambda: self.study.solve(cases),
            picked,
            self.study.fault_pairs(chosen),
        )

    def samples(self) -> Workload:
        """W4: every resistance drawn anew in each sample, under every command."""
        factors = drawn_factors(self.rig, self.size.samples)
        few = {name: each[: self.size.samples_in_ngspice] for name, each in factors.items()}
        bases = range(len(self.rig.bases))
        count = len(next(iter(few.values())))
        deck = make_deck(self.rig.network)
        reads = [self.study.solve(self._varied(few, base), "nodes") for base in bases]
        states = [
            with_fuses(deck.of(self.rig.bases[base], factor=_at(few, n)), _opened(reads[base], n))
            for n in range(count)
            for base in bases
        ]
        node_v = np.stack([read.voltages_v for read in reads], axis=1)
        floating = np.stack([read.floating for read in reads], axis=1)
        nodes = len(self.rig.network.nodes)
        return Workload(
            "W4",
            "Monte Carlo samples x commands",
            self.size.samples * len(bases),
            "load voltages",
            lambda: [self.study.solve(self._varied(factors, base)) for base in bases],
            deck,
            states,
            node_v.reshape(-1, nodes),
            floating.reshape(-1, nodes),
            max(float(read.residual_a.max()) for read in reads),
        )

    def _varied(self, factors: dict[str, Numbers], base: int) -> Cases:
        return self.study.variants(base, resistance_factor=factors)

    def _made(
        self,
        words: tuple[str, str, str],
        solves: int,
        run: Callable[[], object],
        picked: Sequence[tuple[tuple[int, ...], int]],
        cases: Cases,
    ) -> Workload:
        read = self.study.solve(cases, "nodes")
        faults: list[list[Fault]] = [[self.rig.faults[n] for n in some] for some, _ in picked]
        deck = make_deck(self.rig.network, [fault for some in faults for fault in some])
        states = [
            with_fuses(deck.of(self.rig.bases[base], some), _opened(read, n))
            for n, (some, (_, base)) in enumerate(zip(faults, picked, strict=True))
        ]
        key, title, written = words
        residual_a = float(read.residual_a.max())
        return Workload(
            key,
            title,
            solves,
            written,
            run,
            deck,
            states,
            read.voltages_v,
            read.floating,
            residual_a,
        )


def drawn_factors(rig: MeasuredRig, count: int) -> dict[str, Numbers]:
    """Draw a factor of about 30 % either way on every resistance and fuse."""
    rng = np.random.default_rng(SEED)
    names = [e.name for e in rig.network.elements if isinstance(e, Resistor | Fuse)]
    return {name: np.exp(rng.normal(0.0, 0.3, count)) for name in names}


def _at(factors: dict[str, Numbers], sample: int) -> dict[str, float]:
    return {name: float(each[sample]) for name, each in factors.items()}


def _opened(read: Readings, case: int) -> list[str]:
    """Fuses that opened in a case, in their order."""
    found = [(n, name) for n, name in zip(read.opened[case], read.fuses, strict=True) if n]
    return [name for _, name in sorted(found)]
