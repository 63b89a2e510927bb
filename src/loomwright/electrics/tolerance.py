"""Bands of every reading under every command: what to expect of this rig, and at worst.

Three figures for each voltage: of the rig as its figures have it (nominal); the quantiles of
many samples, in which every part is drawn from its spread; and the worst case. The worst case
is looked for in two places: with supply, warmth of wires and magnets and all joints together
at either end of their spread, and with each single thing at the end that lowers, or raises,
the very reading, by the sign of its sensitivity.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit import Cancelled, Load
from loomwright.circuit.network import elements_in
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.electrics.lights import share_of_light
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.electrics.quantiles import Estimate, estimates
from loomwright.electrics.readings import nominal_of
from loomwright.electrics.sampling import Sampled, draw, parts_of
from loomwright.electrics.sensitivity import Slopes, slopes_of
from loomwright.electrics.spreads import Joints, Spreads
from loomwright.electrics.varied import VariedRig, vary
from loomwright.invalid import InvalidInput
from loomwright.rig.model import Rig

__all__ = ["Band", "Cancelled", "LoadBand", "PinBand", "Tolerance", "tolerance"]

SHARES: Final = (0.05, 0.5, 0.95)
MOST_SAMPLES: Final = 200_000
LEAST_SAMPLES: Final = 100

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Band:
    """One reading: nominal, three quantiles, and the least and most that was found.

    Attributes
    ----------
    nominal : float
        Of the rig as its figures have it.
    low, middle, high : Estimate
        The 5, 50 and 95 % quantiles, each with its sampling error.
    least, most : float
        The worst cases.
    """

    nominal: float
    low: Estimate
    middle: Estimate
    high: Estimate
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class LoadBand:
    """Bands of a load: volts, the light of a lamp as a share of rated, amps of a magnet."""

    name: str
    kind: str
    function: str
    element: str
    voltage_v: Band
    light_share: Band | None
    current_a: Band | None


@dataclass(frozen=True, slots=True)
class PinBand:
    """Band of a pin of a socket, read to its return with the trailer plugged in. [V]"""

    socket: str
    pin: str
    function: str
    to_return_v: Band


@dataclass(frozen=True, slots=True)
class CommandBands:
    """Bands under one command; `opened` is the share of the samples in which each fuse opens."""

    command: str
    loads: tuple[LoadBand, ...]
    pins: tuple[PinBand, ...]
    opened: Mapping[str, float]

    def load(self, name: str) -> LoadBand:
        """Return the bands of one load.

        Raises
        ------
        KeyError
            If there is no such load.
        """
        for load in self.loads:
            if load.name == name:
                return load
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Bands of a rig under every command, and what they rest on."""

    samples: int
    seed: int
    joints: Joints
    spreads: Spreads
    commands: tuple[CommandBands, ...]

    def at(self, command: str) -> CommandBands:
        """Return the bands under one command.

        Raises
        ------
        KeyError
            If there is no such command.
        """
        for bands in self.commands:
            if bands.command == command:
                return bands
        raise KeyError(command)


def tolerance(
    rig: Rig,
    samples: int = 2000,
    seed: int = 1,
    joints: Joints = "any",
    *,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> Tolerance:
    """Solve a rig many times, every part drawn from its spread, and at the worst.

    Parameters
    ----------
    rig : Rig
        The rig.
    samples : int
        How many, 100 to 200 000: the error of a quantile falls with their square root.
    seed : int
        0 or more; the same seed gives the same numbers.
    joints : {"any", "new"}
        Whether joints and contacts may have aged.
    progress : callable, optional
        Told how many cases of how many are done.
    cancelled : callable, optional
        Asked now and then whether to stop.

    Raises
    ------
    InvalidInput
        If the number of samples or the seed cannot be used.
    Cancelled
        If `cancelled` said so.
    """
    if not LEAST_SAMPLES <= samples <= MOST_SAMPLES:
        raise InvalidInput("samples", samples, f"ask for {LEAST_SAMPLES} to {MOST_SAMPLES}")
    if seed < 0:
        raise InvalidInput("seed", seed, "give 0 or a whole number above")
    varied = vary(rig, joints)
    count = Count(samples * len(varied.commands), progress, cancelled)
    commands = tuple(
        _bands(varied, base, samples, seed, count) for base in range(len(varied.commands))
    )
    return Tolerance(samples, seed, joints, varied.spreads, commands)


def worst_cases(varied: VariedRig, base: int, slopes: Slopes) -> Floats:
    """Factors of the cases the worst is looked for in, shape (varied, case).

    The corners come first, then for each reading the case that lowers it and the one that
    raises it.
    """
    things = varied.spreads.varied
    low = np.array([each.low for each in things])
    high = np.array([each.high for each in things])
    raises = slopes.per_share_v > 0.0
    by_sign = [
        np.where(raises, low[:, None], high[:, None]),
        np.where(raises, high[:, None], low[:, None]),
    ]
    return np.concatenate([_corners(varied.spreads, low, high), *by_sign], axis=1)


def _corners(spreads: Spreads, low: Floats, high: Floats) -> Floats:
    """Everything shared at either end, every joint with its like, the rest at its figure."""
    things = spreads.varied
    groups = [[n] for n, each in enumerate(things) if each.shared]
    groups.append([n for n, each in enumerate(things) if each.deviation > 0.0])
    corners = np.ones((len(things), 2 ** len(groups)))
    for number in range(corners.shape[1]):
        for bit, members in enumerate(groups):
            corners[members, number] = (high if number >> bit & 1 else low)[members]
    return corners


def _bands(varied: VariedRig, base: int, samples: int, seed: int, count: Count) -> CommandBands:
    slopes = slopes_of(varied, base)
    worst = varied.read(base, worst_cases(varied, base, slopes))
    nominal = varied.read(base, np.ones((len(varied.spreads.varied), 1)))
    factors = parts_of(samples, lambda n, size: draw(varied.spreads, seed, n, size))
    drawn = Sampled.joined([varied.read(base, part, count) for part in factors])
    reader = _Reader(varied, base, nominal, drawn, worst)
    return CommandBands(
        varied.commands[base].key,
        tuple(reader.loads()),
        tuple(reader.pins()),
        {name: float((drawn.opened[:, n] > 0).mean()) for n, name in enumerate(varied.fuses)},
    )


@dataclass(frozen=True, slots=True)
class _Reader:
    """Makes bands of what was solved under one command."""

    varied: VariedRig
    base: int
    nominal: Sampled
    drawn: Sampled
    worst: Sampled

    def loads(self) -> Iterator[LoadBand]:
        """Read every load."""
        bands = self._bands([each.volts for each in (self.nominal, self.drawn, self.worst)])
        for load, band in zip(self.varied.wiring.loads, bands, strict=False):
            yield LoadBand(
                load.name,
                load.kind,
                load.function,
                load.element,
                band,
                self._light(load, band),
                self._magnet(load),
            )

    def pins(self) -> Iterator[PinBand]:
        """Read every pin that has a return in its socket."""
        bands = self._bands([each.volts for each in (self.nominal, self.drawn, self.worst)])
        of_pins = bands[len(self.varied.wiring.loads) :]
        for pin, band in zip(self.varied.pins, of_pins, strict=True):
            yield _pin_band(pin, band)

    def _bands(self, parts: Sequence[Floats]) -> list[Band]:
        nominal, drawn, worst = parts
        ordered = np.sort(drawn, axis=0)
        three = [estimates(ordered, share) for share in SHARES]
        every = np.concatenate([worst, nominal, ordered[[0, -1]]])
        least, most = every.min(axis=0).tolist(), every.max(axis=0).tolist()
        return [Band(*row) for row in zip(nominal[0].tolist(), *three, least, most, strict=True)]

    def _light(self, load: LoadPlace, volts: Band) -> Band | None:
        """Light grows with the voltage, so its quantiles are the light at theirs."""
        source = load.source
        if source is None:
            return None
        duty = self.varied.duty(self.base, load.fed_by)
        system_v = nominal_of(self.varied.wiring, load)

        def light(mean_v: float) -> float:
            return share_of_light(source, system_v, mean_v / duty, duty)

        def of(estimate: Estimate) -> Estimate:
            return Estimate(light(estimate.value), light(estimate.low), light(estimate.high))

        return Band(
            light(volts.nominal),
            of(volts.low),
            of(volts.middle),
            of(volts.high),
            light(volts.least),
            light(volts.most),
        )

    def _magnet(self, load: LoadPlace) -> Band | None:
        """Amps of a magnet, by its own resistance in each sample."""
        if load.kind != "brake":
            return None
        column = self.varied.wiring.loads.index(load)
        per_volt = self._per_volt(load)
        amps = [
            (per_volt * each.volts[:, column] / each.magnets[load.element])[:, None]
            for each in (self.nominal, self.drawn, self.worst)
        ]
        return self._bands(amps)[0]

    def _per_volt(self, load: LoadPlace) -> float:
        """Mean amps per mean volt of a magnet of nominal resistance. [S]"""
        elements = elements_in(self.varied.wiring.network, self.varied.bases[self.base])
        element = next(each for each in elements if each.name == load.element)
        if not isinstance(element, Load):
            raise TypeError(f"{load.element} has no law")
        return element.law.current_a(1.0) / self.varied.duty(self.base, load.fed_by)


def _pin_band(pin: PinPlace, band: Band) -> PinBand:
    return PinBand(pin.socket, pin.pin, pin.function, band)
