"""Light of every lamp and force of every magnet, from the volts across them."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from loomwright.electrics.lights import share_of_light
from loomwright.electrics.readings import nominal_of
from loomwright.rig.model import Bulb, Led
from loomwright.trace.bench import Bench

Numbers: TypeAlias = NDArray[np.float32]

STEPS: Final = 481
"""Points of the curve of light over voltage: light is read off between them."""

MOST_V: Final = 1.5
"""End of that curve, in nominal volts."""


def brightness(bench: Bench, volts: Numbers, command: int, load: int) -> Numbers:
    """Return the light of a lamp, or of a magnet its share of a good one's current.

    Parameters
    ----------
    bench : Bench
        The rig.
    volts : float array, shape (variant, command, load)
        Across each load; the first variant is without a fault. [V]
    command, load : int
        Their numbers.

    Returns
    -------
    float array, shape (variant,)
        As a share of rated.
    """
    place = bench.wiring.loads[load]
    across = volts[:, command, load]
    if place.source is not None:
        duty = bench.duties[command].get(place.fed_by or "", 1.0)
        return _curve(place.source, nominal_of(bench.wiring, place), duty)(across)
    if place.kind == "brake":
        return np.asarray(across / np.float32(_good_v(bench, volts, load)))
    return np.asarray(np.abs(across) / np.float32(nominal_of(bench.wiring, place)))


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
