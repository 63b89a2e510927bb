"""Which joint or wire matters most: what each single thing does to each reading.

Two figures. The slope is the change of a voltage by a relative change of one thing, all else
as it is: dV / d(ln x), from a small step either way. The swing is what the voltage does when
the thing goes from one end of its spread to the other: a contact that may age tenfold matters
more than a thick wire of the same resistance.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.electrics.answers import Part
from loomwright.electrics.spreads import EMF, MAGNET_WARMTH, WIRE_WARMTH
from loomwright.electrics.varied import VariedRig

Floats = NDArray[np.float64]

STEP: Final = 1e-3
"""Relative step of the slopes: its square times the voltage, a few microvolts, is the error."""

SHARED_WORDS: Final = {
    EMF: "supply voltage, from idle to the highest charge",
    WIRE_WARMTH: "warmth of all wires",
    MAGNET_WARMTH: "warmth of all magnets",
}


@dataclass(frozen=True, slots=True)
class Slopes:
    """What every varied thing does to every reading under one command.

    Attributes
    ----------
    per_share_v : float array, shape (varied, reading)
        dV / d(ln x): volts per relative change. [V]
    at_low_v, at_high_v : float array, shape (varied, reading)
        Voltages with that thing alone at the low and the high end of its spread. [V]
    """

    per_share_v: Floats
    at_low_v: Floats
    at_high_v: Floats


@dataclass(frozen=True, slots=True)
class Matter:
    """How much one thing matters to one load.

    Attributes
    ----------
    name : str
        The element, or what is shared by the whole rig.
    part : Part, optional
        What it is on the rig; none if it is shared.
    place : str
        In words.
    per_share_v : float
        dV / d(ln x). [V]
    swing_v : float
        Change of the voltage from the low end of its spread to the high one. [V]
    """

    name: str
    part: Part | None
    place: str
    per_share_v: float
    swing_v: float


def slopes_of(varied: VariedRig, base: int) -> Slopes:
    """Slopes and swings of all readings under one command, in one batch.

    Parameters
    ----------
    varied : VariedRig
        The rig.
    base : int
        Number of the command.
    """
    things = varied.spreads.varied
    ends = (
        [1.0 - STEP] * len(things),
        [1.0 + STEP] * len(things),
        [each.low for each in things],
        [each.high for each in things],
    )
    count = len(things)
    factors = np.ones((count, 4 * count))
    for number, values in enumerate(ends):
        at = np.arange(count)
        factors[at, number * count + at] = values
    down, up, low, high = np.split(varied.read(base, factors).volts, 4)
    per_share = (up - down) / (np.log1p(STEP) - np.log1p(-STEP))
    return Slopes(per_share, low, high)


def what_matters(varied: VariedRig, command: str, load: str) -> tuple[Matter, ...]:
    """Rank what varies by how far it moves the voltage of a load, the most first.

    Parameters
    ----------
    varied : VariedRig
        The rig.
    command : str
        Key of a command.
    load : str
        Name of a load.

    Raises
    ------
    KeyError
        If the rig has no such command or load.
    """
    base = _place(command, [each.key for each in varied.commands])
    return matters_at(varied, slopes_of(varied, base), load)


def matters_at(varied: VariedRig, slopes: Slopes, load: str) -> tuple[Matter, ...]:
    """Rank as `what_matters`, from slopes that are known.

    Parameters
    ----------
    varied : VariedRig
        The rig.
    slopes : Slopes
        Of the command.
    load : str
        Name of a load.
    """
    column = _place(load, [each.name for each in varied.wiring.loads])
    swing = slopes.at_high_v[:, column] - slopes.at_low_v[:, column]
    found = []
    for n, thing in enumerate(varied.spreads.varied):
        part = varied.wiring.parts.get(thing.name)
        place = SHARED_WORDS.get(thing.name, "") if part is None else part.place
        slope = float(slopes.per_share_v[n, column])
        found.append(Matter(thing.name, part, place, slope, float(swing[n])))
    return tuple(sorted(found, key=lambda each: -abs(each.swing_v)))


def _place(name: str, among: list[str]) -> int:
    if name not in among:
        raise KeyError(name)
    return among.index(name)
