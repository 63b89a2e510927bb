"""What a rig reads with each fault in it, under every command, as arrays."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Fault, Opened
from loomwright.circuit.plan import Executor
from loomwright.circuit.progress import Count, Progress, Stop
from loomwright.circuit.readings import Readings
from loomwright.circuit.study import Study
from loomwright.circuit.sweep import is_compiled
from loomwright.electrics.lights import share_of_light
from loomwright.electrics.readings import nominal_of
from loomwright.electrics.resistances import DRIVER_OHM
from loomwright.rig.model import Bulb, Led
from loomwright.trace.bench import CONTROLLER_SWITCH, Bench

Floats = NDArray[np.float64]
Numbers = NDArray[np.float32]
Whole = NDArray[np.intp]
Changes = tuple[Fault, ...]

TOGETHER: Final = 3
"""Commands in which pairs are solved in one go: bounds the memory."""

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
        Each pin of each socket to battery negative; of pairs none are kept. [V]
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


def solve_field(bench: Bench, changes: Sequence[Changes], executor: Executor = "best") -> Field:
    """Solve a rig under every command with each set of changes in it.

    Parameters
    ----------
    bench : Bench
        The rig.
    changes : sequence of tuple of Fault
        Sets of changes, the first of them empty.
    executor : {"best", "arrays", "compiled"}
        As for `Study`.
    """
    single = list(dict.fromkeys(fault for each in changes for fault in each))
    study = Study(bench.wiring.network, bench.cases, single, executor=executor)
    number = {fault: n for n, fault in enumerate(single)}
    room = _Room(bench, len(changes))
    bases, repeats = _different(bench)
    by_count: dict[int, list[int]] = {}
    for n, each in enumerate(changes):
        by_count.setdefault(len(each), []).append(n)
    for count, members in by_count.items():
        chosen = np.array([[number[f] for f in changes[n]] for n in members], dtype=int)
        cases = study.several_faults(chosen.reshape(len(members), count), bases)
        room.fill(np.array(members), study.solve(cases, room.wanted), bases)
    room.repeat(repeats)
    return room.field(tuple(changes))


def _different(bench: Bench) -> tuple[list[int], dict[int, int]]:
    """Numbers of the commands that do different things, and which other each of the rest is."""
    bases: list[int] = []
    repeats: dict[int, int] = {}
    for n, case in enumerate(bench.cases):
        same = next((m for m in bases if bench.cases[m] == case), None)
        if same is None:
            bases.append(n)
        else:
            repeats[n] = same
    return bases, repeats


def solve_pairs(
    bench: Bench,
    changes: Sequence[Changes],
    pairs: Whole,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
    *,
    executor: Executor = "best",
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
        As for `Study.solve`. Solved some commands at a time, which bounds the memory.
    executor : {"best", "arrays", "compiled"}
        As for `Study`; the best is chosen by the size of the whole job.
    """
    single = [each[0] for each in changes]
    bases, repeats = _different(bench)
    if executor == "best":
        executor = "compiled" if is_compiled("best", len(pairs) * len(bases)) else "arrays"
    study = Study(bench.wiring.network, bench.cases, single, executor=executor)
    room = _Room(bench, len(pairs), with_drops=False)
    count = Count(len(pairs) * len(bases), progress, cancelled)
    told = _steps(count)
    for first in range(0, len(bases), TOGETHER):
        some = bases[first : first + TOGETHER]
        readings = study.solve(study.fault_pairs(pairs, some), room.wanted, progress=told())
        room.fill(slice(None), readings, some)
    room.repeat(repeats)
    return room.field(tuple((single[a], single[b]) for a, b in pairs.tolist()))


def _steps(count: Count) -> Callable[[], Progress]:
    """Return what passes on how many more are done, for one part of the cases after another."""

    def begin() -> Progress:
        before = 0

        def told(done: int, total: int) -> None:
            nonlocal before
            count(done - before)
            before = done

        return told

    return begin


class _Room:
    """Room for the readings while they are solved: by reading, command, variant."""

    def __init__(self, bench: Bench, variants: int, *, with_drops: bool = True) -> None:
        wiring = bench.wiring
        self.bench = bench
        reference = wiring.network.reference
        loads = [(load.a, load.b) for load in wiring.loads]
        pins = [(p.node, p.return_node or p.node) for p in wiring.pins]
        drops = [(p.node, reference) for p in wiring.pins] if with_drops else []
        self.has_controller = CONTROLLER_SWITCH in wiring.parts
        switch = [ends(wiring.network.element(CONTROLLER_SWITCH))[0]] if self.has_controller else []
        self.wanted = [*loads, *pins, *drops, *switch]
        self.counts = (len(loads), len(pins), len(drops))
        self.shape = len(bench.commands), variants
        self.read = np.zeros((len(self.wanted), *self.shape), dtype=np.float32)
        self.opened = np.zeros((0, *self.shape), dtype=bool)
        self.fuses: tuple[str, ...] = ()
        self.residual_a = 0.0

    def fill(self, members: Whole | slice, readings: Readings, bases: Sequence[int]) -> None:
        """Write down the readings of some variants, command by command."""
        if not len(self.opened):
            self.fuses = readings.fuses
            self.opened = np.zeros((len(self.fuses), *self.shape), dtype=bool)
        count = len(readings.residual_a) // len(bases)
        for n, base in enumerate(bases):
            part = slice(n * count, (n + 1) * count)
            volts = readings.voltages_v[part].T.astype(np.float32)
            volts[readings.floating[part].T] = 0.0
            if not readings.settled[part].all():
                volts = np.nan_to_num(volts)
            self.read[:, base, members] = volts
            self.opened[:, base, members] = readings.opened[part].T > 0
        if len(readings.residual_a):
            self.residual_a = max(self.residual_a, float(np.max(readings.residual_a)))

    def repeat(self, repeats: Mapping[int, int]) -> None:
        """Write down commands that do the same as another."""
        for command, same in repeats.items():
            self.read[:, command] = self.read[:, same]
            self.opened[:, command] = self.opened[:, same]

    def field(self, changes: tuple[Changes, ...]) -> Field:
        """Make lights and currents of the voltages."""
        loads, pins, drops = self.counts
        read = self.read.transpose(2, 1, 0)
        volts = read[..., :loads]
        pin_v = read[..., loads : loads + pins] * self._mean()
        amps = np.zeros(volts.shape[:2], dtype=np.float32)
        if self.has_controller:
            amps = np.asarray(read[..., -1] / np.float32(DRIVER_OHM))
        return Field(
            self.bench,
            changes,
            volts,
            _light(self.bench, changes, volts),
            pin_v,
            read[..., loads + pins : loads + pins + drops],
            amps,
            self.opened.transpose(2, 1, 0),
            self.residual_a,
            self.fuses,
        )

    def _mean(self) -> Numbers:
        """Share of time each pin's feed is on, shape (command, pin)."""
        pins = self.bench.wiring.pins
        mean = [[duty.get(p.fed_by or "", 1.0) for p in pins] for duty in self.bench.duties]
        return np.array(mean, dtype=np.float32)


def _light(bench: Bench, changes: Sequence[Changes], volts: Numbers) -> Numbers:
    """Light of each lamp, share of current of each magnet, shape of `volts`."""
    light = np.zeros(volts.shape[::-1], dtype=np.float32).transpose(2, 1, 0)
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
