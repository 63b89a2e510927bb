"""Where a run comes to rest, and what later runs may start from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from loomwright.circuit.answers import Swept
from loomwright.circuit.batch import Floats, Whole
from loomwright.circuit.devices import Flags, devices_of, fuses_of
from loomwright.circuit.plan import Plan
from loomwright.circuit.room import Room


@dataclass(frozen=True, slots=True)
class Known:
    """Solutions that cases are near to, numbered as `Cases.near` does.

    Attributes
    ----------
    closed_v : float array, shape (known, load)
        Voltages across the loads before anything opened. [V]
    rest_v : float array, shape (known, load)
        Voltages across the loads where they came to rest. [V]
    """

    closed_v: Floats
    rest_v: Floats

    @classmethod
    def joined(cls, parts: Sequence[Known]) -> Known:
        """Solutions of several parts, one behind the other."""
        return cls(
            np.concatenate([part.closed_v for part in parts]),
            np.concatenate([part.rest_v for part in parts]),
        )


class Settled(NamedTuple):
    """Where a run comes to rest.

    Attributes
    ----------
    swept : Swept
        Voltages and the rest in the last state.
    opened : int array, shape (fuse, case)
        1 for what opened first, 2 for the next; 0 for what stayed closed.
    reopening : bool array, shape (fuse, case)
        What would close and open for ever; it stands open.
    off, cycling : bool array, shape (device, case)
        Devices that are off, and those of them that would go on and off for ever.
    fuses, devices : tuple of str
        Names: fuses, breakers and drivers; loads of constant power and converters.
    room_of_part : Room
        Memory for the tables of the part under way; the next part writes over them.
    """

    swept: Swept
    opened: Whole
    reopening: Flags
    off: Flags
    cycling: Flags
    fuses: tuple[str, ...]
    devices: tuple[str, ...]
    room_of_part: Room

    @classmethod
    def room(cls, plan: Plan, cases: int, pairs: int) -> Settled:
        """Room for a run of so many cases."""
        fuses, devices = fuses_of(plan).names, devices_of(plan).names
        return cls(
            Swept.room(cases, pairs),
            np.zeros((len(fuses), cases), dtype=np.int32),
            np.zeros((len(fuses), cases), dtype=bool),
            np.zeros((len(devices), cases), dtype=bool),
            np.zeros((len(devices), cases), dtype=bool),
            fuses,
            devices,
            Room(),
        )
