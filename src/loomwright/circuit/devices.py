"""What has states, as arrays: fuses, loads of constant power, converters.

Both are made once for a plan. Arrays have the shape (device, case) or (fuse, case), or one
column where all cases agree.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.answers import Limits, Pairs
from loomwright.circuit.batch import Floats, Whole
from loomwright.circuit.elements import ConstantPower, Driver, Element, Fuse, Transformed
from loomwright.circuit.forms import converter
from loomwright.circuit.layout import OPEN_S
from loomwright.circuit.plan import Plan

LEAST_S: Final = 1e-12
"""Conductance of a device that draws nothing. [S]"""

LEAST_A: Final = 1e-12
"""A driver cannot tell less than this from nothing. [A]"""

Device: TypeAlias = ConstantPower | Transformed
Flags: TypeAlias = NDArray[np.bool_]
Which: TypeAlias = NDArray[np.intp]


class Fuses:
    """What opens by its own current: fuses, breakers, drivers."""

    def __init__(self, plan: Plan) -> None:
        elements = plan.layout.network.elements
        each = [e for n in plan.layout.fuses if isinstance(e := elements[n], Fuse | Driver)]
        self.names = tuple(fuse.name for fuse in each)
        self.rows = np.array([plan.layout.conductance[name] for name in self.names], dtype=np.int32)
        self.base_s = plan.values[self.rows]
        self.pairs = [(plan.node(fuse.a), plan.node(fuse.b)) for fuse in each]
        self.comes_back = _column([_comes_back(fuse) for fuse in each]) > 0.0
        self._is_driver = _column([isinstance(fuse, Driver) for fuse in each])
        self._opens_a = _column([_opens_a(fuse) for fuse in each])
        least_a = [fuse.least_a if isinstance(fuse, Driver) else 0.0 for fuse in each]
        self._least_a = _column(least_a)
        self._opens_early = any(least_a)
        of_each = self._opens_a.ravel(), self._least_a.ravel()
        self.limits = Limits(self.rows.astype(np.int64), *of_each)

    def urgency(self, across_v: Floats, conductance_s: Floats) -> Floats:
        """How much each calls for opening: 1 or more for too much current, below 1 for too little.

        The largest opens first: a driver before a fuse, the one with the largest share of its
        opening current before others; last a driver that finds no load. 0 is to stay.
        """
        current_a = np.abs(conductance_s * across_v)
        over = current_a / self._opens_a
        rank = 1.0 + over / (1.0 + over) + 2.0 * self._is_driver
        urgency = np.where(current_a >= self._opens_a, rank, 0.0)
        if self._opens_early:
            missing = (self._least_a - current_a) / np.maximum(self._least_a, LEAST_A)
            too_little = np.where(conductance_s > OPEN_S, np.clip(missing, 0.0, 0.99), 0.0)
            urgency = np.maximum(urgency, too_little)
        return urgency


class Devices:
    """Loads of constant power and converters."""

    def __init__(self, plan: Plan) -> None:
        layout, elements = plan.layout, plan.layout.network.elements
        each = [e for n in layout.devices if isinstance(e := elements[n], Device)]
        self.names = tuple(device.name for device in each)
        self.outputs = [n for n, device in enumerate(each) if isinstance(device, Transformed)]
        converters = [device for device in each if isinstance(device, Transformed)]
        ends = [_input(e) for e in each] + [(e.out_plus, e.out_minus) for e in converters]
        self.pairs = [(plan.node(a), plan.node(b)) for a, b in ends]
        self.rows = [layout.conductance[name] for name in self.names]
        self.output_rows = [layout.output[device.name] for device in converters]
        self.factor_rows = [layout.factor[device.name] for device in converters]
        self.off_below_v = _column([device.off_below_v for device in each])
        self.on_above_v = _column([_on_above_v(device) for device in each])
        self.off_s = _column([1.0 / device.off_resistance_ohm for device in each])
        self.most_a = _column([_most_a(device) for device in each])
        self.efficiency = _column([device.efficiency for device in converters])
        places = {load.name: n for n, load in enumerate(layout.loads) if load.name in layout.output}
        self._laws = plan.laws
        self._law_of = [places[device.name] for device in converters]
        most = [[_most_w(elements[n]) for n in layout.devices] for elements in plan.elements]
        self._most_w = np.array(most, dtype=float).reshape(len(most), len(each)).T

    def wanted(self, input_v: Floats, output_v: Floats, base: Whole) -> Floats:
        """Conductance each makes at its voltage, as a share of the largest it can make.

        Parameters
        ----------
        input_v : float array, shape (device, case)
            Across their inputs. [V]
        output_v : float array, shape (converter, case)
            Across the outputs of the converters. [V]
        base : int array, shape (case,)
            Bases of the cases.
        """
        most_w = self._most_w[:, base]
        power_w = most_w.copy()
        if self.outputs:
            given_w = self._given_w(output_v, base) / self.efficiency
            power_w[self.outputs] = given_w
        voltage = np.maximum(input_v, self.off_below_v)
        power_w = np.minimum(power_w, self.most_a * voltage)
        share = np.divide(power_w, most_w, out=np.zeros_like(power_w), where=most_w > 0.0)
        return np.asarray(share * (self.off_below_v / voltage) ** 2)

    def edits(self, on: Flags, draws: Floats, base: Whole) -> tuple[list[int], Floats]:
        """Rows of the devices, and their numbers in some cases, shape (row, case).

        Parameters
        ----------
        on : bool array, shape (device, case)
            Which are on.
        draws : float array, shape (device, case)
            What they draw, as `wanted` has it.
        base : int array, shape (case,)
            Bases of the cases.
        """
        most_s = self._most_w[:, base] / self.off_below_v**2
        draw_s = np.where(on, np.maximum(draws * most_s, LEAST_S), self.off_s)
        gives = on[self.outputs]
        output_s = np.where(gives, OPEN_S, self.off_s[self.outputs])
        rows = [*self.rows, *self.output_rows, *self.factor_rows]
        return rows, np.concatenate([draw_s, output_s, gives.astype(float)])

    def _given_w(self, output_v: Floats, base: Whole) -> Floats:
        laws = self._laws.of(base)
        current = converter(output_v, laws.parameters[:, self._law_of])[0]
        return np.maximum(-output_v * current, 0.0)


fuses_of = lru_cache(maxsize=16)(Fuses)
devices_of = lru_cache(maxsize=16)(Devices)


@lru_cache(maxsize=16)
def watched(plan: Plan) -> Pairs:
    """Node pairs whose voltages states depend on: those of the devices, then of the fuses."""
    return np.array([*devices_of(plan).pairs, *fuses_of(plan).pairs], dtype=np.int64).reshape(-1, 2)


def _column(values: Sequence[float]) -> Floats:
    return np.array(values, dtype=float).reshape(-1, 1)


def _comes_back(fuse: Fuse | Driver) -> bool:
    return fuse.resets if isinstance(fuse, Fuse) else not fuse.latches


def _opens_a(fuse: Fuse | Driver) -> float:
    return fuse.opens_at * fuse.rating_a if isinstance(fuse, Fuse) else fuse.limit_a


def _input(device: Device) -> tuple[str, str]:
    if isinstance(device, ConstantPower):
        return device.a, device.b
    return device.in_a, device.in_b


def _on_above_v(device: Device) -> float:
    return device.off_below_v if device.on_above_v is None else device.on_above_v


def _most_a(device: Device) -> float:
    return device.max_current_a if isinstance(device, ConstantPower) else np.inf


def _most_w(device: Element) -> float:
    if isinstance(device, ConstantPower):
        return device.power_w
    if isinstance(device, Transformed):
        return device.emf_v * device.max_current_a / device.efficiency
    raise TypeError(f"{device.name} has no power of its own")
