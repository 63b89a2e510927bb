"""What is believed of a bundle after its readings: exact, over whole assignments.

An assignment hands each wire one function, and a function that stands once to one wire at most.
Given the vehicle (how it signals, how it feeds) and the assignment, readings of different wires
are independent, so that the sums over all assignments are exact (`matching`). The ways in which
a function behaves on this vehicle (pulsed, held off ...) are summed over for each wire.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from loomwright.identify.behaviour import Feeding, FunctionRow, Signalling
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.commands import command
from loomwright.identify.habits import habit_share
from loomwright.identify.matching import Sums, matching_sums
from loomwright.identify.reading import Reading
from loomwright.identify.sight import Probe, Sight, place_of, sight

Floats = NDArray[np.float64]

FEEDING_SHARES = {Feeding.SHARED: 0.5, Feeding.MODULE: 0.4, Feeding.SLEEPING: 0.1}
"""How vehicles feed their lamp wires, before anything is read. Common practice."""


@dataclass(frozen=True, slots=True)
class Belief:
    """Probabilities after some readings.

    Attributes
    ----------
    bundle : Bundle
        What is identified.
    sight : Sight
        How likely each answer is.
    functions : tuple of str
        Every open function, over both ways to signal.
    vehicle : ndarray, shape (signallings, feedings)
        Probability of each kind of vehicle.
    joint : ndarray, shape (signallings, feedings, wires, functions)
        Probability that the vehicle is so and the wire has the function.
    modes : ndarray, shape (feedings, wires, ways)
        Given the function and the feeding, how likely the wire behaves in each way.
    entropy_bits : float
        Entropy of vehicle and assignment together. [bit]
    """

    bundle: Bundle
    sight: Sight
    functions: tuple[str, ...]
    vehicle: Floats
    joint: Floats
    modes: Floats
    entropy_bits: float

    @property
    def by_wire(self) -> Floats:
        """Probability of each function on each wire, shape (wires, functions)."""
        return np.asarray(self.joint.sum(axis=(0, 1)))

    def probability(self, wire: str, function: str) -> float:
        """Return the probability that a wire has a function; 0 for one that is not open."""
        if function not in self.functions:
            return 0.0
        place = [each.key for each in self.bundle.wires].index(wire)
        return float(self.by_wire[place, self.functions.index(function)])

    def signalling(self) -> dict[Signalling, float]:
        """Return the probability of each way to signal."""
        shares = self.vehicle.sum(axis=1)
        return {each: float(p) for each, p in zip(self.bundle.signallings, shares, strict=True)}

    def feeding(self) -> dict[Feeding, float]:
        """Return the probability of each way to feed lamp wires."""
        shares = self.vehicle.sum(axis=0)
        return {each: float(p) for each, p in zip(self.bundle.feedings, shares, strict=True)}

    def mode(self, wire: str, function: str) -> dict[str, float]:
        """Return how likely the wire behaves in each way, if it has the function."""
        place = [each.key for each in self.bundle.wires].index(wire)
        weights = self.vehicle.sum(axis=0) @ self.modes[:, place, :]
        return {
            way.mode: float(weights[number])
            for number, way in enumerate(self.sight.ways)
            if way.function == function
        }


def believe(bundle: Bundle, readings: tuple[Reading, ...], seen: Sight | None = None) -> Belief:
    """Return what is believed after readings, in whatever order they were taken.

    Parameters
    ----------
    bundle : Bundle
        What is identified.
    readings : tuple of Reading
        Readings of wires of the bundle.
    seen : Sight, optional
        The likelihoods of the bundle, if they are at hand.
    """
    seen = sight(bundle) if seen is None else seen
    log_ways = _log_ways(bundle, readings, seen)
    functions = bundle.open_functions
    columns = [functions.index(way.function) for way in seen.ways]
    top = np.maximum.reduceat(log_ways, seen.starts, axis=2)
    shares = np.exp(log_ways - top[:, :, columns])
    log_functions = top + np.log(np.add.reduceat(shares, seen.starts, axis=2))
    modes = np.exp(log_ways - log_functions[:, :, columns])
    return _mixed(bundle, seen, log_functions, modes)


def _mixed(bundle: Bundle, seen: Sight, log_functions: Floats, modes: Floats) -> Belief:
    functions = bundle.open_functions
    shape = (len(bundle.signallings), len(seen.feedings))
    evidence = np.empty(shape)
    within = np.zeros((*shape, len(bundle.wires), len(functions)))
    entropies = np.empty(shape)
    feeding = np.array([FEEDING_SHARES[each] for each in seen.feedings])
    for number, signalling in enumerate(bundle.signallings):
        rows = bundle.rows(signalling)
        columns = [functions.index(row.function) for row in rows]
        log_prior, log_all = _prior(bundle, signalling)
        log_weights = log_prior[None] + log_functions[:, :, columns]
        sums = _sums(bundle, rows, log_weights)
        shares = _in_order(bundle, rows, sums)
        within[number][:, :, columns] = shares
        evidence[number] = np.log(feeding) + sums.log_total - log_all
        entropies[number] = sums.log_total - (shares * log_weights).sum(axis=(1, 2))
    vehicle = np.exp(evidence - evidence.max())
    vehicle /= vehicle.sum()
    entropy = (vehicle * entropies).sum() - (vehicle * np.log(np.maximum(vehicle, 1e-300))).sum()
    joint = vehicle[:, :, None, None] * within
    return Belief(bundle, seen, functions, vehicle, joint, modes, float(entropy / np.log(2.0)))


def _log_ways(bundle: Bundle, readings: tuple[Reading, ...], seen: Sight) -> Floats:
    """Return for feeding, wire and way the logarithm of share and likelihood of its readings."""
    share = np.log([way.share for way in seen.ways])
    found = np.tile(share, (len(seen.feedings), len(bundle.wires), 1))
    places = {wire.key: place for place, wire in enumerate(bundle.wires)}
    for each in readings:
        shown = seen.of(Probe(command(each.command), each.tester))
        place = place_of(each.seen, each.command)
        found[:, places[each.wire], :] += np.log(shown[:, :, place])
    return found


@lru_cache(maxsize=64)
def _prior(bundle: Bundle, signalling: Signalling) -> tuple[Floats, float]:
    """Return the logarithm of each weight before anything is read, and of their sum."""
    rows = bundle.rows(signalling)
    weights = [[_weight(wire, row, bundle.colour_weight) for row in rows] for wire in bundle.wires]
    log_weights = np.log(np.array(weights))
    return log_weights, float(_sums(bundle, rows, log_weights[None]).log_total[0])


def _weight(wire: Wire, row: FunctionRow, colour_weight: float) -> float:
    if wire.colour is None:
        return row.commonness
    return row.commonness * (1.0 + colour_weight * habit_share(wire.colour, row.function))


def _sums(bundle: Bundle, rows: tuple[FunctionRow, ...], log_weights: Floats) -> Sums:
    free = np.array([row.function in bundle.several_of for row in rows])
    return matching_sums(log_weights[:, :, ~free], log_weights[:, :, free])


def _in_order(bundle: Bundle, rows: tuple[FunctionRow, ...], sums: Sums) -> Floats:
    free = np.array([row.function in bundle.several_of for row in rows])
    groups, wires, _ = sums.free.shape
    found = np.empty((groups, wires, len(rows)))
    found[:, :, ~free] = sums.once
    found[:, :, free] = sums.free
    return found
