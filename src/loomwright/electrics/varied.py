"""A rig made ready to be solved with other numbers: every command, every reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit import Case, Fuse, Source
from loomwright.circuit.network import elements_in
from loomwright.circuit.progress import Count, Progress
from loomwright.circuit.study import Study
from loomwright.electrics.cases import case_for, duties
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.places import PinPlace
from loomwright.electrics.sampling import Sampled
from loomwright.electrics.spreads import (
    EMF,
    MAGNET_WARMTH,
    WIRE_WARMTH,
    Joints,
    Spreads,
    spreads_of,
)
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER, SUPPLY
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.rig.model import Rig

Floats = NDArray[np.float64]
ByName = dict[str, Floats]


@dataclass(frozen=True, slots=True)
class VariedRig:
    """A rig compiled once, and what varies on it.

    Attributes
    ----------
    wiring : Wiring
        The rig under nominal conditions.
    commands : tuple of Command
        What the driver does; `bases` are their cases.
    pins : tuple of PinPlace
        Pins with a return in their socket, which are read behind the loads.
    """

    wiring: Wiring
    commands: tuple[Command, ...]
    bases: tuple[Case, ...]
    spreads: Spreads
    pins: tuple[PinPlace, ...]
    study: Study
    duties: tuple[Mapping[str, float], ...]

    @property
    def fuses(self) -> tuple[str, ...]:
        """Fuses, in the order of `Sampled.opened`."""
        return tuple(e.name for e in self.wiring.network.elements if isinstance(e, Fuse))

    @property
    def wanted(self) -> tuple[tuple[str, str], ...]:
        """Nodes of the readings: across each load, then from each pin to its return."""
        loads = [(load.a, load.b) for load in self.wiring.loads]
        pins = [(pin.node, pin.return_node or pin.node) for pin in self.pins]
        return (*loads, *pins)

    def duty(self, base: int, fed_by: str | None) -> float:
        """Share of time that what a feed drives is on under a command."""
        return self.duties[base].get(fed_by or "", 1.0)

    def read(self, base: int, factors: Floats, count: Count | None = None) -> Sampled:
        """Solve one command in some cases.

        Parameters
        ----------
        base : int
            Number of the command.
        factors : float array, shape (varied, case)
            Factors on what varies, in the order of `spreads.varied`.
        count : Count, optional
            Counts the cases as they are done.

        Raises
        ------
        Cancelled
            If the count says that the person asked to stop.
        """
        resisted, drawing, emf_v = self._numbers(base, factors)
        cases = self.study.variants(
            base, resistance_factor=resisted, current_factor=drawing, emf_v=emf_v
        )
        told = None if count is None else _steps(count)
        readings = self.study.solve(cases, self.wanted, progress=told)
        volts = np.where(readings.floating, 0.0, readings.voltages_v)
        fed = [*(load.fed_by for load in self.wiring.loads), *(pin.fed_by for pin in self.pins)]
        mean = np.array([self.duty(base, each) for each in fed])
        magnets = {name: resisted[name] for name in self.spreads.magnets}
        return Sampled(volts * mean, readings.opened, magnets)

    def _numbers(self, base: int, factors: Floats) -> tuple[ByName, ByName, ByName]:
        """Factors on resistances, factors on currents and EMFs [V], by element."""
        common = {
            each.name: row
            for each, row in zip(self.spreads.varied, factors, strict=True)
            if each.shared
        }
        resisted: dict[str, Floats] = {}
        drawing: dict[str, Floats] = {}
        for each, row in zip(self.spreads.varied, factors, strict=True):
            if not each.shared:
                (resisted if each.quantity == "resistance" else drawing)[each.name] = row
        for warmth, names in (
            (WIRE_WARMTH, self.spreads.wires),
            (MAGNET_WARMTH, self.spreads.magnets),
        ):
            for name in names:
                resisted[name] = resisted[name] * common[warmth]
        emf = {
            source.name: source.emf_v * common[EMF]
            for source in elements_in(self.wiring.network, self.bases[base])
            if isinstance(source, Source) and source.name in (SUPPLY, BRAKE_CONTROLLER)
        }
        return resisted, drawing, emf


def vary(rig: Rig, joints: Joints = "any") -> VariedRig:
    """Compile a rig under nominal conditions for every command.

    Parameters
    ----------
    rig : Rig
        The rig.
    joints : {"any", "new"}
        Whether joints and contacts may have aged.
    """
    wiring = wire_up(rig)
    commands = commands_for(rig)
    bases = tuple(case_for(wiring, each) for each in commands)
    pins = tuple(pin for pin in wiring.pins if pin.return_node is not None)
    return VariedRig(
        wiring,
        commands,
        bases,
        spreads_of(wiring, joints),
        pins,
        Study(wiring.network, bases),
        tuple(duties(wiring, each) for each in commands),
    )


def _steps(count: Count) -> Progress:
    """Pass on how many more are done each time."""
    before = 0

    def told(done: int, total: int) -> None:
        nonlocal before
        count(done - before)
        before = done

    return told
