"""What a tester reads: the computed value, the tester's error, the rig's tolerance, a slip."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

METER_SHARE: Final = 0.015
"""Error of a handheld meter as a share of the reading. From memory."""

METER_V: Final = 0.05
METER_OHM: Final = 0.3
"""Leads and contact of a meter add 0.2 to 0.5 ohm. Common practice."""

RIG_SHARE: Final = 0.05
"""How far a sound rig lies from its figures: supply, warmth, joints, lamps. From memory."""

MISREAD: Final = 0.05
"""Share of readings that are outright wrong: range, place, probe not touching. From memory."""

FULL_V: Final = 15.0
FULL_A: Final = 40.0
DECADES: Final = 6.0


def chance_of_volts(read_v: float, computed_v: Floats) -> Floats:
    """Return the chance of a reading for each computed voltage, against one spread evenly.

    Parameters
    ----------
    read_v : float
        What was read. [V]
    computed_v : float array, shape (case,)
        What each case would show. [V]
    """
    spread = np.hypot(METER_V + METER_SHARE * abs(read_v), RIG_SHARE * np.abs(computed_v) + 0.12)
    return _mixed(read_v - computed_v, spread, FULL_V)


def chance_of_amps(read_a: float, computed_a: Floats) -> Floats:
    """Return the chance of a reading for each computed current.

    Parameters
    ----------
    read_a : float
        What was read. [A]
    computed_a : float array, shape (case,)
        What each case would show. [A]
    """
    spread = np.hypot(0.1 + METER_SHARE * abs(read_a), 0.1 * np.abs(computed_a) + 0.05)
    return _mixed(read_a - computed_a, spread, FULL_A)


def chance_of_ohms(read_ohm: float, computed_ohm: Floats) -> Floats:
    """Return the chance of a reading for each computed resistance; open is 1e6 ohm or more.

    Parameters
    ----------
    read_ohm : float
        What was read. [ohm]
    computed_ohm : float array, shape (case,)
        What each case would show. [ohm]
    """
    read = math.log(min(max(read_ohm, 0.0), 1e6) + METER_OHM)
    computed = np.log(np.minimum(computed_ohm, 1e6) + METER_OHM)
    return _mixed(read - computed, np.full_like(computed, 0.35), DECADES)


def _mixed(error: Floats, spread: Floats, span: float) -> Floats:
    bell = np.exp(-0.5 * (error / spread) ** 2) / (spread * math.sqrt(2.0 * math.pi))
    return np.asarray((1.0 - MISREAD) * bell + MISREAD / span)
