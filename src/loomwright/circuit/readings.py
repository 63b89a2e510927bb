"""What a study reads: voltages by the thousand, and the states behind them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loomwright.circuit.batch import Floats, Whole
from loomwright.circuit.devices import Flags
from loomwright.circuit.states import Settled


@dataclass(frozen=True, slots=True)
class Readings:
    """What a study reads.

    Attributes
    ----------
    wanted : tuple of str or of (str, str)
        Loads, nodes or node pairs, in the order of the columns.
    voltages_v : float array, shape (case, wanted)
        Voltages; not a number where no balance was found. [V]
    floating : bool array, shape (case, wanted)
        Where a node floats, and the voltage means nothing.
    residual_a : float array, shape (case,)
        The most the current of a load misses what the network carries there by. [A]
    rounds : int array, shape (case,)
        Newton rounds in all.
    settled : bool array, shape (case,)
        Whether a balance was found: always, if nothing is wrong with the numbers.
    fuses, devices : tuple of str
        Names, in the order of the columns below: fuses, breakers and drivers; loads of constant
        power and converters.
    opened : int array, shape (case, fuse)
        1 for what opened first, 2 for the next; 0 for what stayed closed.
    reopening : bool array, shape (case, fuse)
        What would close and open for ever; it stands open.
    off, cycling : bool array, shape (case, device)
        Devices that are off, and those of them that would go on and off for ever.
    """

    wanted: tuple[str | tuple[str, str], ...]
    voltages_v: Floats
    floating: Flags
    residual_a: Floats
    rounds: Whole
    settled: Flags
    fuses: tuple[str, ...]
    devices: tuple[str, ...]
    opened: Whole
    reopening: Flags
    off: Flags
    cycling: Flags

    @classmethod
    def room(
        cls,
        cases: int,
        wanted: Sequence[str | tuple[str, str]],
        fuses: tuple[str, ...],
        devices: tuple[str, ...],
    ) -> Readings:
        """Room for the readings of so many cases."""
        return cls(
            tuple(wanted),
            np.empty((len(wanted), cases)).T,
            np.empty((len(wanted), cases), dtype=bool).T,
            np.empty(cases),
            np.empty(cases, dtype=np.int32),
            np.empty(cases, dtype=bool),
            fuses,
            devices,
            np.empty((cases, len(fuses)), dtype=np.int32),
            np.empty((cases, len(fuses)), dtype=bool),
            np.empty((cases, len(devices)), dtype=bool),
            np.empty((cases, len(devices)), dtype=bool),
        )

    def fill(self, part: slice, settled: Settled) -> None:
        """Write down how some of the cases settled."""
        swept = settled.swept
        self.voltages_v[part] = swept.voltages_v.T
        if not swept.settled.all():
            self.voltages_v[part][~swept.settled] = np.nan
        self.floating[part] = swept.floating.T
        self.residual_a[part] = swept.residual_a
        self.rounds[part] = swept.rounds
        self.settled[part] = swept.settled
        self.opened[part] = settled.opened.T
        self.reopening[part] = settled.reopening.T
        self.off[part] = settled.off.T
        self.cycling[part] = settled.cycling.T
