"""What a rig reads with each fault in it, under every command, as arrays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, cast

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Fault
from loomwright.circuit.readings import Readings
from loomwright.trace.alike import line_of
from loomwright.trace.bench import CONTROLLER_SWITCH, Bench
from loomwright.trace.brightness import Numbers, brightness

Floats = NDArray[np.float64]
Whole = NDArray[np.intp]
Changes = tuple[Fault, ...]

NOBODY: Final[Whole] = np.array([], dtype=int)


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
    dead : mapping of int to int array
        By load, the variants in which it is broken itself, and gives nothing at any volts.
    """

    bench: Bench
    changes: tuple[Changes, ...]
    volts: Numbers
    pins: Numbers
    drops: Numbers
    controller_a: Numbers
    opened: NDArray[np.bool_]
    residual_a: float
    fuses: tuple[str, ...]
    dead: Mapping[int, Whole]
    memory: dict[object, Any] = field(default_factory=dict, compare=False, repr=False)

    @property
    def light(self) -> Numbers:
        """Light of each lamp as a share of rated, shape (variant, command, load).

        Of a magnet, its current as a share of that of a good one under the lever.
        """
        if "light" not in self.memory:
            light = np.empty(self.volts.shape[::-1], dtype=np.float32).transpose(2, 1, 0)
            for command, load in np.ndindex(self.volts.shape[1:]):
                light[:, command, load] = self._lit(command, load)
            self.memory["light"] = light
        return cast("Numbers", self.memory["light"])

    def lit(self, command: int, load: int) -> Numbers:
        """Return the light of one lamp under one command, of every variant.

        Parameters
        ----------
        command, load : int
            Their numbers.
        """
        if "light" in self.memory:
            return self.light[:, command, load]
        key = "lit", command, load
        if key not in self.memory:
            self.memory[key] = self._lit(command, load)
        return cast("Numbers", self.memory[key])

    def _lit(self, command: int, load: int) -> Numbers:
        light = brightness(self.bench, self.volts, command, load)
        light[self.dead.get(load, NOBODY)] = 0.0
        return light


def different_commands(bench: Bench) -> tuple[list[int], dict[int, int]]:
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


class Room:
    """Room for the readings while they are solved: by reading, command, variant."""

    def __init__(self, bench: Bench, variants: int, *, with_drops: bool = True) -> None:
        wiring = bench.wiring
        self.bench = bench
        reference = wiring.network.reference
        loads = [(load.a, load.b) for load in wiring.loads]
        pins = [(p.node, p.return_node or p.node) for p in wiring.pins]
        drops = [(p.node, reference) for p in wiring.pins] if with_drops else []
        self.line = (
            line_of(wiring.network, CONTROLLER_SWITCH) if CONTROLLER_SWITCH in wiring.parts else ()
        )
        self.wanted = [*loads, *pins, *drops, *(ends(each)[0] for each in self.line)]
        self.counts = (len(loads), len(pins), len(drops))
        self.shape = len(bench.commands), variants
        self.read = np.zeros((len(self.wanted), *self.shape), dtype=np.float32)
        self.opened = np.zeros((0, *self.shape), dtype=bool)
        self.fuses: tuple[str, ...] = ()
        self.residual_a = 0.0

    def fill_all(self, sound: Readings, bases: Sequence[int]) -> None:
        """Write down every variant as reading what the sound rig reads, one case for each base."""
        self.begin(sound)
        volts, opened = self.of(sound, slice(None))
        self.read[:, bases], self.opened[:, bases] = volts[..., None], opened[..., None]
        self._note(sound)

    def put(self, readings: Readings, commands: Whole | int, members: Whole) -> None:
        """Write down the readings of some variants, each under its command or all under one."""
        self.begin(readings)
        volts, opened = self.of(readings, slice(None))
        self.read[:, commands, members], self.opened[:, commands, members] = volts, opened
        self._note(readings)

    def _note(self, readings: Readings) -> None:
        if len(readings.residual_a):
            self.residual_a = max(self.residual_a, float(np.max(readings.residual_a)))

    def begin(self, readings: Readings) -> None:
        """Make room for the fuses that readings tell of."""
        if not len(self.opened):
            self.fuses = readings.fuses
            self.opened = np.zeros((len(self.fuses), *self.shape), dtype=bool)

    def of(self, readings: Readings, part: slice) -> tuple[Numbers, NDArray[np.bool_]]:
        """Volts of what is wanted, 0 where it floats, and what opened, each by reading and case."""
        wanted = len(self.wanted)
        volts = readings.voltages_v[part, :wanted].T.astype(np.float32)
        volts *= ~readings.floating[part, :wanted].T
        if not readings.settled[part].all():
            volts = np.nan_to_num(volts)
        return volts, readings.opened[part].T > 0

    def repeat(self, repeats: Mapping[int, int]) -> None:
        """Write down commands that do the same as another."""
        for command, same in repeats.items():
            self.read[:, command] = self.read[:, same]
            self.opened[:, command] = self.opened[:, same]

    def field(self, changes: tuple[Changes, ...], dead: Mapping[int, Whole]) -> Field:
        """Return what was written down."""
        loads, pins, drops = self.counts
        read = self.read.transpose(2, 1, 0)
        volts = read[..., :loads]
        pin_v = read[..., loads : loads + pins] * self._mean()
        return Field(
            self.bench,
            changes,
            volts,
            pin_v,
            read[..., loads + pins : loads + pins + drops],
            self._controller_a(read[..., loads + pins + drops :]),
            self.opened.transpose(2, 1, 0),
            self.residual_a,
            self.fuses,
            dead,
        )

    def _controller_a(self, volts: Numbers) -> Numbers:
        """What leaves the brake controller, by most of what lies in line there. [A]

        The same current passes all of them. One that is broken, corroded or bridged tells it
        wrongly, and so does a switch that stands open; the middle one of three is right.
        """
        if not self.line:
            return np.zeros(volts.shape[:2], dtype=np.float32)
        amps = [np.abs(volts[..., n]) / each.resistance_ohm for n, each in enumerate(self.line)]
        one, other, third = (*amps, amps[0], amps[-1])[:3]
        low, high = np.minimum(one, other), np.maximum(one, other)
        return np.asarray(np.maximum(low, np.minimum(high, third)), dtype=np.float32)

    def _mean(self) -> Numbers:
        """Share of time each pin's feed is on, shape (command, pin)."""
        pins = self.bench.wiring.pins
        mean = [[duty.get(p.fed_by or "", 1.0) for p in pins] for duty in self.bench.duties]
        return np.array(mean, dtype=np.float32)
