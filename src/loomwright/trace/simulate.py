"""What a rig reads with each fault in it, under every command, as arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Fault, Opened
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.circuit.readings import Readings
from loomwright.circuit.study import Study
from loomwright.electrics.lights import share_of_light
from loomwright.electrics.readings import nominal_of
from loomwright.electrics.resistances import DRIVER_OHM
from loomwright.rig.model import Bulb, Led
from loomwright.trace.bench import CONTROLLER_SWITCH, Bench

Floats = NDArray[np.float64]
Numbers = NDArray[np.float32]
Whole = NDArray[np.intp]
Changes = tuple[Fault, ...]

STEPS: Final = 481
"""Points of the curve of light over voltage: light is read off between them."""

MOST_V: Final = 1.5
"""End of that curve, in nominal volts."""


@dataclass(frozen=True, slots=True)
class Field:
    """Readings of a rig with each of many sets of changes in it.

    Attributes
    ----------
    bench : Bench
        The rig.
    changes : tuple
        Each set of changes; the first is none.
    volts : float array, shape (variant, command, load)
        Across each load while its feed is on; 0 where it floats. [V]
    light : float array, shape (variant, command, load)
        Light as a share of rated; of a magnet, its current as a share of that of a good one
        under the lever.
    pins : float array, shape (variant, command, pin)
        Each pin of each socket to its return, trailer plugged in, as a mean. [V]
    drops : float array, shape (variant, command, pin)
        Each pin of each socket to battery negative. [V]
    controller_a : float array, shape (variant, command)
        Out of the brake controller. [A]
    opened : bool array, shape (variant, command, fuse)
        Fuses and drivers that opened by themselves.
    residual_a : float
        The worst balance of currents among them. [A]
    fuses : tuple of str
        Names, in the order of `opened`.
    """

    bench: Bench
    changes: tuple[Changes, ...]
    volts: Numbers
    light: Numbers
    pins: Numbers
    drops: Numbers
    controller_a: Numbers
    opened: NDArray[np.bool_]
    residual_a: float
    fuses: tuple[str, ...]
    memory: dict[object, Floats] = field(default_factory=dict, compare=False, repr=False)


def solve_field(bench: Bench, changes: Sequence[Changes]) -> Field:
    """Solve a rig under every command with each set of changes in it.

    Parameters
    ----------
    bench : Bench
        The rig.
    changes : sequence of tuple of Fault
        Sets of changes, the first of them empty.
    """
    single = list(dict.fromkeys(fault for each in changes for fault in each))
    study = Study(bench.wiring.network, bench.cases, single)
    number = {fault: n for n, fault in enumerate(single)}
    room = _Room(bench, len(changes))
    by_count: dict[int, list[int]] = {}
    for n, each in enumerate(changes):
        by_count.setdefault(len(each), []).append(n)
    for count, members in by_count.items():
        chosen = np.array([[number[f] for f in changes[n]] for n in members], dtype=int)
        cases = study.several_faults(chosen.reshape(len(members), count))
        room.fill(np.array(members), study.solve(cases, room.wanted))
    return room.field(tuple(changes))


def solve_pairs(
    bench: Bench,
    changes: Sequence[Changes],
    pairs: Whole,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> Field:
    """Solve a rig under every command with two faults in it at once.

    Parameters
    ----------
    bench : Bench
        The rig.
    changes : sequence of tuple of Fault
        Sets of changes, each of one fault.
    pairs : int array, shape (pair, 2)
        Numbers of the two.
    progress, cancelled
        As for `Study.solve`. Solved command by command, which bounds the memory.
    """
    single = [each[0] for each in changes]
    study = Study(bench.wiring.network, bench.cases, single)
    room = _Room(bench, len(pairs))
    count = Count(len(pairs) * len(bench.commands), progress, cancelled)
    for command in range(len(bench.commands)):
        cases = study.fault_pairs(pairs, (command,))
        room.fill_one(command, study.solve(cases, room.wanted, progress=_steps(count)))
    return room.field(tuple((single[a], single[b]) for a, b in pairs.tolist()))


def _steps(count: Count) -> Progress:
    """Pass on how many more are done each time."""
    before = 0

    def told(done: int, total: int) -> None:
        nonlocal before
        count(done - before)
        before = done

    return told


class _Room:
    """Room for the readings while they are solved."""

    def __init__(self, bench: Bench, variants: int) -> None:
        wiring = bench.wiring
        self.bench = bench
        reference = wiring.network.reference
        loads = [(load.a, load.b) for load in wiring.loads]
        pins = [(p.node, p.return_node or p.node) for p in wiring.pins]
        drops = [(p.node, reference) for p in wiring.pins]
        self.has_controller = CONTROLLER_SWITCH in wiring.parts
        switch = [ends(wiring.network.element(CONTROLLER_SWITCH))[0]] if self.has_controller else []
        self.wanted = [*loads, *pins, *drops, *switch]
        self.counts = (len(loads), len(pins))
        shape = variants, len(bench.commands)
        self.read = np.zeros((*shape, len(self.wanted)), dtype=np.float32)
        self.opened = np.zeros((*shape, 0), dtype=bool)
        self.fuses: tuple[str, ...] = ()
        self.residual_a = 0.0

    def fill(self, members: Whole, readings: Readings) -> None:
        """Write down the readings of some variants, command by command."""
        shape = len(self.bench.commands), len(members)
        self.read[members] = _volts(readings).reshape(*shape, -1).transpose(1, 0, 2)
        self._note(readings)
        self.opened[members] = (readings.opened > 0).reshape(*shape, -1).transpose(1, 0, 2)

    def fill_one(self, command: int, readings: Readings) -> None:
        """Write down the readings of all variants under one command."""
        self.read[:, command] = _volts(readings)
        self._note(readings)
        self.opened[:, command] = readings.opened > 0

    def _note(self, readings: Readings) -> None:
        if not self.opened.shape[2]:
            self.fuses = readings.fuses
            self.opened = np.zeros((*self.read.shape[:2], len(self.fuses)), dtype=bool)
        if len(readings.residual_a):
            self.residual_a = max(self.residual_a, float(np.max(readings.residual_a)))

    def field(self, changes: tuple[Changes, ...]) -> Field:
        """Make lights and currents of the voltages."""
        loads, pins = self.counts
        volts = self.read[..., :loads]
        pin_v = self.read[..., loads : loads + pins] * self._mean()
        drop_v = self.read[..., loads + pins : loads + 2 * pins]
        amps = np.zeros(volts.shape[:2], dtype=np.float32)
        if self.has_controller:
            amps = np.asarray(self.read[..., -1] / np.float32(DRIVER_OHM))
        return Field(
            self.bench,
            changes,
            volts,
            _light(self.bench, changes, volts),
            pin_v,
            drop_v,
            amps,
            self.opened,
            self.residual_a,
            self.fuses,
        )

    def _mean(self) -> Numbers:
        """Share of time each pin's feed is on, shape (command, pin)."""
        pins = self.bench.wiring.pins
        mean = [[duty.get(p.fed_by or "", 1.0) for p in pins] for duty in self.bench.duties]
        return np.array(mean, dtype=np.float32)


def _volts(readings: Readings) -> Floats:
    """Volts as a meter shows them: none between nodes that float."""
    return np.nan_to_num(np.where(readings.floating, 0.0, readings.voltages_v))


def _light(bench: Bench, changes: Sequence[Changes], volts: Numbers) -> Numbers:
    """Light of each lamp, share of current of each magnet, shape of `volts`."""
    light = np.zeros_like(volts)
    for n, load in enumerate(bench.wiring.loads):
        if load.source is not None:
            for command, duties in enumerate(bench.duties):
                duty = duties.get(load.fed_by or "", 1.0)
                curve = _curve(load.source, nominal_of(bench.wiring, load), duty)
                light[:, command, n] = curve(volts[:, command, n])
        elif load.kind == "brake":
            light[..., n] = volts[..., n] / _good_v(bench, volts, n)
        else:
            light[..., n] = np.abs(volts[..., n]) / nominal_of(bench.wiring, load)
    numbers = {load.element: n for n, load in enumerate(bench.wiring.loads)}
    for variant, each in enumerate(changes):
        for fault in each:
            if isinstance(fault, Opened) and fault.element in numbers:
                light[variant, :, numbers[fault.element]] = 0.0
    return light


def _good_v(bench: Bench, volts: Numbers, load: int) -> float:
    """Volts of a magnet of a good rig under the lever, or the pedal. [V]"""
    for key in ("brake_lever", "brake_pedal"):
        if bench.has(key):
            found = float(abs(volts[0, bench.number(key), load]))
            if found > 1.0:
                return found
    return nominal_of(bench.wiring, bench.wiring.loads[load])


class _Curve:
    """Light over voltage, read off between points."""

    def __init__(self, source: Bulb | Led, nominal_v: float, duty: float) -> None:
        self.volts = np.linspace(0.0, MOST_V * nominal_v, STEPS)
        shares = [share_of_light(source, nominal_v, float(v), duty) for v in self.volts]
        self.shares = np.array(shares)
        self.both_ways = isinstance(source, Bulb)

    def __call__(self, volts: Numbers) -> Numbers:
        seen = np.abs(volts) if self.both_ways else np.maximum(volts, 0.0)
        found: Numbers = np.interp(seen, self.volts, self.shares).astype(np.float32)
        return found


@lru_cache(maxsize=512)
def _curve(source: Bulb | Led, nominal_v: float, duty: float) -> _Curve:
    return _Curve(source, nominal_v, duty)
