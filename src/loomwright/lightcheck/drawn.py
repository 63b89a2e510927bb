"""What healthy rigs read: the bench solved with every part drawn from its spread.

The first case is the rig as its figures have it; the others are drawn, the same draws for
every reading. A check stands still and nothing on it is hot: wires and brakes are as warm as
the air, and the supply is that of the engine's state.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit import Source, Switch
from loomwright.circuit.network import elements_in
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.circuit.study import Study
from loomwright.electrics.cases import duties
from loomwright.electrics.sampling import draw
from loomwright.electrics.spreads import (
    Joints,
    Spreads,
    spreads_of,
)
from loomwright.electrics.stated import stated_share
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER, SUPPLY
from loomwright.lightcheck.bench import BREAKAWAY, Bench, Held
from loomwright.reference.batteries import emf_v
from loomwright.reference.copper import TEMPERATURE_COEFFICIENT_PER_K
from loomwright.rig.model import HouseBattery

Floats = NDArray[np.float64]
OWN_PART: Final = 1_000_000
"""Stream of the draws that only a light check makes, apart from those of the parts."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Volts between two nodes; of a wire or contact, amps through it, if `through` names it."""

    a: str
    b: str
    through: str = ""
    fed_by: str | None = None


@dataclass(frozen=True, slots=True)
class Numbers:
    """What is drawn, each of shape (1 + samples,) with the nominal rig first."""

    factors: Mapping[str, Floats]
    quantities: Mapping[str, str]
    supply: Floats
    charge: Floats
    breakaway: Floats


def joints_of(bench: Bench) -> Joints:
    """Return whether the joints of this rig may have aged, as the rig says."""
    return "new" if bench.wiring.rig.trailer.condition == "new" else "any"


def draw_numbers(bench: Bench, samples: int, seed: int) -> Numbers:
    """Draw the parts of a rig, and the air, the supply and the batteries it is checked under.

    Parameters
    ----------
    bench : Bench
        The rig with its testers.
    samples : int
        How many rigs.
    seed : int
        0 or more; the same seed gives the same rigs.
    """
    spreads = spreads_of(bench.wiring, joints_of(bench))
    own = tuple(each for each in spreads.varied if not each.shared)
    parts = np.ones((len(own), samples + 1))
    if own:
        parts[:, 1:] = draw(Spreads(own, spreads.wires, spreads.magnets), seed, 0, samples)
    rng = np.random.default_rng((seed, OWN_PART))
    air = rng.uniform(*bench.setting.air_range_c(), samples)
    factors = {each.name: row for each, row in zip(own, parts, strict=True)}
    _warm(bench, spreads, factors, air)
    return Numbers(
        factors,
        {each.name: each.quantity for each in own},
        *(np.concatenate([[0.5], rng.uniform(0.0, 1.0, samples)]) for _ in range(3)),
    )


def _warm(bench: Bench, spreads: Spreads, factors: dict[str, Floats], air: Floats) -> None:
    """Wires and magnets at the temperature of the air; the nominal rig is at the tables'."""
    nominal = bench.wiring.conditions
    for names, at_c in ((spreads.wires, nominal.wire_c), (spreads.magnets, nominal.magnet_c)):
        warm = _copper(air) / _copper(np.array(at_c))
        for name in names:
            factors[name] = factors[name] * np.concatenate([[1.0], warm])


def _copper(temperature_c: Floats) -> Floats:
    return np.asarray(1.0 + TEMPERATURE_COEFFICIENT_PER_K * (temperature_c - 20.0))


@dataclass(frozen=True, slots=True)
class Drawn:
    """Readings of every case held: `[held, reading]` gives an array with the nominal first."""

    values: Mapping[tuple[Held, Reading], Floats]

    def at(self, held: Held, reading: Reading) -> Floats:
        """Return what all rigs read there."""
        return self.values[held, reading]


def solve_drawn(
    bench: Bench,
    wanted: Mapping[Held, Sequence[Reading]],
    numbers: Numbers,
    *,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> Drawn:
    """Solve every case held with every set of numbers.

    Parameters
    ----------
    bench : Bench
        The rig with its testers.
    wanted : mapping of Held to sequence of Reading
        What is held, and what is read under it.
    numbers : Numbers
        What was drawn.
    progress : callable, optional
        Told how many cases of how many are done.
    cancelled : callable, optional
        Asked now and then whether to stop.

    Raises
    ------
    Cancelled
        If `cancelled` said so.
    """
    held = list(wanted)
    if not held:
        return Drawn({})
    run = _Run(bench, Study(bench.network, [bench.case(each) for each in held]), numbers)
    size = len(numbers.supply)
    count = Count(len(held) * size, progress, cancelled)
    values: dict[tuple[Held, Reading], Floats] = {}
    for base, each in enumerate(held):
        values |= run.solve(base, each, wanted[each])
        count(size)
    return Drawn(values)


@dataclass(frozen=True, slots=True)
class _Run:
    """One study of a bench with the numbers that were drawn."""

    bench: Bench
    study: Study
    numbers: Numbers

    def solve(
        self, base: int, held: Held, readings: Sequence[Reading]
    ) -> dict[tuple[Held, Reading], Floats]:
        """Solve one case held and take its readings."""
        factors = self.numbers.factors
        of_kind: dict[str, dict[str, Floats]] = {"resistance": {}, "current": {}}
        for name, row in factors.items():
            of_kind[self.numbers.quantities[name]][name] = row
        cases = self.study.variants(
            base,
            resistance_factor=of_kind["resistance"],
            current_factor=of_kind["current"],
            emf_v=self._emfs(base, held),
        )
        pairs = list(dict.fromkeys((each.a, each.b) for each in readings))
        solved = self.study.solve(cases, pairs)
        own = held.pin_out  # then the trailer lives on its own battery, off the reference
        volts = np.where(solved.floating & (not own), 0.0, solved.voltages_v)
        duty = duties(self.bench.wiring, held.command)
        found = {}
        for each in readings:
            row = volts[:, pairs.index((each.a, each.b))]
            if each.through:
                row = row / (_ohm(self.bench, each.through) * factors.get(each.through, 1.0))
            found[held, each] = row * duty.get(each.fed_by or "", 1.0)
        return found

    def _emfs(self, base: int, held: Held) -> dict[str, Floats]:
        """EMF of the supply, of what the controller holds back, and of the batteries."""
        bench, numbers = self.bench, self.numbers
        rig, setting = bench.wiring.rig, bench.setting
        limits = setting.supply_v(rig, running=setting.runs(held.command))
        supply = _between(numbers.supply, *limits)
        emfs = {SUPPLY: supply}
        for source in elements_in(bench.network, self.study.bases[base]):
            if isinstance(source, Source) and source.name == BRAKE_CONTROLLER:
                emfs[source.name] = source.emf_v / bench.wiring.conditions.emf_v * supply
            if isinstance(source, Source) and source.name == BREAKAWAY:
                least = emf_v("agm", stated_share("light_check.breakaway.low"))
                least *= rig.trailer.nominal_v / 12.0
                emfs[source.name] = _between(numbers.breakaway, least, source.emf_v, source.emf_v)
        house = rig.trailer.battery
        return emfs if house is None else emfs | _house(bench, house, numbers)


def _ohm(bench: Bench, name: str) -> float:
    element = bench.network.element(name)
    if isinstance(element, Switch):
        return element.resistance_ohm
    ohm = getattr(element, "resistance_ohm", None)
    if not isinstance(ohm, float):
        raise TypeError(f"{name} has no resistance")
    return ohm


def _house(bench: Bench, house: HouseBattery, numbers: Numbers) -> dict[str, Floats]:
    """A battery in the trailer may be anywhere from a fifth charged to full."""
    place = next((each for each in bench.wiring.loads if each.kind == "battery"), None)
    source = None if place is None else bench.network.element(place.element)
    if not isinstance(source, Source):
        return {}
    cells = bench.wiring.rig.trailer.nominal_v / 12.0
    low, high = (cells * emf_v(house.chemistry, share) for share in (0.2, 1.0))
    return {source.name: _between(numbers.charge, low, source.emf_v, high)}


def _between(drawn: Floats, low: float, now: float, high: float) -> Floats:
    """Spread evenly from low to high; the first, of the nominal rig, is as its figure has it."""
    values = low + drawn * (high - low)
    values[0] = now
    return values
