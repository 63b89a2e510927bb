"""Samples of a rig: factors drawn from the spreads, and what the rig reads with them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.electrics.spreads import Spreads, Varied

Floats = NDArray[np.float64]

PART: Final = 8192
"""Samples drawn and solved in one go: bounds the memory. Each part has a stream of its own."""


@dataclass(frozen=True, slots=True)
class Sampled:
    """What a rig reads in some cases under one command.

    Attributes
    ----------
    volts : float array, shape (case, reading)
        Across each load, then at each pin to its return; mean, where a feed is pulsed. [V]
    opened : int array, shape (case, fuse)
        1 for the fuse that opened first, 2 for the next; 0 for one left whole.
    magnets : dict of str to array, shape (case,)
        Factor on the resistance of each magnet.
    """

    volts: Floats
    opened: NDArray[np.int32]
    magnets: dict[str, Floats]

    @classmethod
    def joined(cls, parts: Sequence[Sampled]) -> Sampled:
        """Several one after the other."""
        return cls(
            np.concatenate([each.volts for each in parts]),
            np.concatenate([each.opened for each in parts]),
            {
                name: np.concatenate([each.magnets[name] for each in parts])
                for name in parts[0].magnets
            },
        )


def draw(spreads: Spreads, seed: int, part: int, count: int) -> Floats:
    """Draw factors for every varied thing, shape (varied, sample).

    Parameters
    ----------
    spreads : Spreads
        What varies.
    seed : int
        0 or more.
    part : int
        Which part of the samples; each has a stream of its own.
    count : int
        Samples in it.
    """
    rng = np.random.default_rng((seed, part))
    return np.stack([_drawn(rng, each, count) for each in spreads.varied])


def parts_of(samples: int, drawn: Callable[[int, int], Floats]) -> Iterator[Floats]:
    """Yield the factors of all samples, part by part."""
    for number, first in enumerate(range(0, samples, PART)):
        yield drawn(number, min(PART, samples - first))


def _drawn(rng: np.random.Generator, varied: Varied, count: int) -> Floats:
    if not varied.deviation:
        return rng.uniform(varied.low, varied.high, count)
    factor = varied.middle * np.exp(varied.deviation * rng.standard_normal(count))
    return np.clip(factor, varied.low, varied.high)
