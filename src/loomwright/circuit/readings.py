"""What a study reads: voltages by the thousand, and the states behind them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loomwright.circuit.batch import Floats, Whole
from loomwright.circuit.devices import Flags
from loomwright.circuit.settled import Settled


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
    def of(cls, wanted: Sequence[str | tuple[str, str]], settled: Settled) -> Readings:
        """Readings of a run that came to rest; they share its memory."""
        swept = settled.swept
        if np.count_nonzero(swept.settled) < len(swept.settled):
            swept.voltages_v[:, ~swept.settled] = np.nan
        return cls(
            tuple(wanted),
            swept.voltages_v.T,
            swept.floating.T,
            swept.residual_a,
            swept.rounds,
            swept.settled,
            settled.fuses,
            settled.devices,
            settled.opened.T,
            settled.reopening.T,
            settled.off.T,
            settled.cycling.T,
        )
