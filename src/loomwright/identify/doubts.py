"""Readings that are more likely wrong than right, given all the others."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loomwright.identify.belief import Belief
from loomwright.identify.commands import command
from loomwright.identify.reading import Reading
from loomwright.identify.sight import WRONG_GROUND, WRONG_VOLTS, Probe, place_of

DOUBTED_FROM = 0.5


@dataclass(frozen=True, slots=True)
class Doubt:
    """A reading and the probability that it is wrong."""

    place: int
    reading: Reading
    probability: float


def doubts(belief: Belief, readings: tuple[Reading, ...]) -> tuple[Doubt, ...]:
    """Return the readings that are likely wrong, likeliest first."""
    found = [Doubt(n, each, wrong_share(belief, each)) for n, each in enumerate(readings)]
    doubted = [each for each in found if each.probability >= DOUBTED_FROM]
    return tuple(sorted(doubted, key=lambda each: -each.probability))


def wrong_share(belief: Belief, reading: Reading) -> float:
    """Return the probability that one of the readings believed is wrong."""
    probe = Probe(command(reading.command), reading.tester)
    place = place_of(reading.seen, reading.command)
    slips = WRONG_GROUND if probe.is_ground_test else WRONG_VOLTS
    by_slip = belief.bundle.wrong_rate * slips[place] / belief.sight.of(probe)[:, :, place]
    wire = [each.key for each in belief.bundle.wires].index(reading.wire)
    shares = belief.joint[:, :, wire, :].sum(axis=0)
    columns = [belief.functions.index(way.function) for way in belief.sight.ways]
    return float(np.sum(shares[:, columns] * belief.modes[:, wire, :] * by_slip))
