"""The kinds of fault in the catalogue, ranked by what a case tells.

The probability of a kind is put together from two witnesses. The networks of typical rigs say
what each of their faults does to lamps, brakes, fuses and sockets; the table of kinds says what
its form does and what is typical of it, and alone speaks of what no network shows. What a case
is silent about was probably as usual: people tell what is wrong.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loomwright.reference.fault_kinds import FaultKind, fault_kinds
from loomwright.trace.beyond import belief
from loomwright.trace.beyond_signs import sign
from loomwright.trace.beyond_ways import Way, ways_of
from loomwright.trace.beyond_words import said
from loomwright.trace.cases_circumstances import circumstances, fits
from loomwright.trace.cases_network import chances
from loomwright.trace.cases_read import Case, Seen
from loomwright.trace.cases_rig import lacking, possible
from loomwright.trace.cases_silent import SILENCE, silent
from loomwright.trace.cases_stand import Chances, Stand
from loomwright.trace.catalogue import kinds_of
from loomwright.trace.model import RigFault

BY_NETWORK = 0.5
"""How much the networks count where they have such a fault; the table of kinds has the rest."""

SPREAD = 0.25
"""How the weight of a kind grows with the number of circuits it may be on."""

TYPICAL = 0.4
"""How much what is typical of a kind counts beside what its network shows."""


@dataclass(frozen=True, slots=True)
class KindShare:
    """A kind of fault with its probability."""

    key: str
    place: str
    form: str
    probability: float


@dataclass(frozen=True, slots=True)
class Told:
    """What a case tells, spoken or silent: how much of a word's chance is to be counted."""

    seen: Seen
    counts: float

    def log(self, chance: NDArray[np.float64]) -> NDArray[np.float64]:
        """Logarithm of the chance of it."""
        return np.asarray(np.log(self.counts * chance + 1.0 - self.counts))


def told_by(case: Case) -> tuple[Told, ...]:
    """Return what a case tells and what it is silent about."""
    spoken = (Told(seen, 1.0) for seen in case.seen)
    return (*spoken, *(Told(seen, SILENCE) for seen in silent(case)))


def rank_kinds(case: Case, stands: Sequence[Stand] = ()) -> tuple[KindShare, ...]:
    """Return every kind of fault with its probability after what a case tells, likeliest first.

    Parameters
    ----------
    case : Case
        The case.
    stands : sequence of Stand
        Typical rigs with their faults solved; without any, the table of kinds speaks alone.
    """
    told = told_by(case)
    by_network = _by_network(told, stands, lacking(case))
    around = circumstances(case)
    logs = []
    for kind in fault_kinds():
        likely = _by_table(kind, told)
        if kind.key in by_network:
            both = (math.log(BY_NETWORK), math.log(1.0 - BY_NETWORK))
            likely = _log_sum([both[0] + by_network[kind.key], both[1] + likely])
        prior = _spread(kind) * max(possible(kind, case), 1e-6) * fits(kind, around)
        logs.append(math.log(prior) + likely)
    total = _log_sum(logs)
    found = (
        KindShare(kind.key, kind.place, kind.form, math.exp(log - total))
        for kind, log in zip(fault_kinds(), logs, strict=True)
    )
    return tuple(sorted(found, key=lambda each: -each.probability))


def _spread(kind: FaultKind) -> float:
    """Weight of a kind: one that may be on many circuits is there more often than on each."""
    circuits = {way.circuit for way in ways_of(kind)}
    return kind.weight * float(len(circuits) ** SPREAD)


def _by_table(kind: FaultKind, told: Sequence[Told]) -> float:
    return _log_sum(
        [
            math.log(way.weight) + sum(float(each.log(_table(way, each.seen))) for each in told)
            for way in ways_of(kind)
        ]
    )


def _table(way: Way, seen: Seen) -> Chances:
    return np.asarray(said(seen.word, belief(way, seen.command, seen.spot)))


def _by_network(
    told: Sequence[Told], stands: Sequence[Stand], lacks: frozenset[str]
) -> Mapping[str, float]:
    """Return the logarithm of how likely each kind makes a case, by the rigs that have it."""
    weights: dict[str, list[Chances]] = {}
    logs: dict[str, list[Chances]] = {}
    for stand in stands:
        shown = [chances(stand, each.seen) for each in told]
        for way, members in _ways(stand.faults, lacks):
            key = way.kind.key
            of = np.array([stand.faults[n].weight for n in members])
            weights.setdefault(key, []).append(stand.weight * of)
            logs.setdefault(key, []).append(_of_way(way, members, told, shown))
    return {key: _weighted(weights[key], logs[key]) for key in logs}


def _of_way(
    way: Way, members: Sequence[int], told: Sequence[Told], shown: Sequence[Chances | None]
) -> Chances:
    """By the network where it tells, softened by what is typical; else by the table."""
    total = np.zeros(len(members))
    for each, chance in zip(told, shown, strict=True):
        if chance is None:
            total += each.log(_table(way, each.seen))
            continue
        found = chance[np.asarray(members)]
        typical = sign(way, each.seen.command, each.seen.spot)
        if typical is not None:
            found = (1.0 - TYPICAL) * found + TYPICAL * said(each.seen.word, typical)
        total += each.log(found)
    return total


def _ways(faults: Sequence[RigFault], lacks: frozenset[str]) -> Iterator[tuple[Way, Sequence[int]]]:
    """Yield the faults of a rig by the way of the kind that each is."""
    found: dict[tuple[str, str, str, str], tuple[Way, list[int]]] = {}
    for number, fault in enumerate(faults):
        for kind in kinds_of(fault, lacks):
            way = _way(kind, fault)
            key = kind.key, way.circuit, way.side, way.reach
            found.setdefault(key, (way, []))[1].append(number)
    yield from found.values()


def _way(kind: FaultKind, fault: RigFault) -> Way:
    """Return the way of a kind that a fault of a rig is."""
    side = {"left": "L", "right": "R"}.get(fault.circuit, "")
    words = fault.part.split()
    side = side or ("L" if "left" in words else "R" if "right" in words else "")
    ways = ways_of(kind)
    fits = [w for w in ways if fault.circuit in ("all", w.circuit)] or list(ways)
    return next((way for way in fits if way.side == side), fits[0])


def _weighted(weights: Sequence[Chances], logs: Sequence[Chances]) -> float:
    weight, log = np.concatenate(weights), np.concatenate(logs)
    most = float(log.max())
    share = weight / weight.sum()
    return most + math.log(float((share * np.exp(log - most)).sum()))


def _log_sum(logs: Sequence[float]) -> float:
    most = max(logs)
    return most + math.log(sum(math.exp(log - most) for log in logs))
