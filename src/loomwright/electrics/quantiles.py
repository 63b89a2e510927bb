"""Quantiles of a sample, and how far to trust them: by order statistics, for any distribution.

Of n samples, the number below the p-quantile of what they are drawn from is binomial with n
and p. So the l-th and the u-th smallest hold that quantile between them with a probability
that depends on n, p, l and u alone (the usual distribution-free interval).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

SURE: Final = 0.95
"""Probability that the interval of an estimate holds the true quantile."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A quantile as the sample has it, and an interval that holds the true one in 95 of 100."""

    value: float
    low: float
    high: float


def estimates(values: NDArray[np.float64], share: float) -> tuple[Estimate, ...]:
    """Estimate a quantile of each column.

    Parameters
    ----------
    values : float array, shape (sample, column)
        The samples, sorted down each column.
    share : float
        Which quantile, 0.05 for the lowest twentieth.
    """
    count = len(values)
    low, high = interval(count, share)
    at = np.quantile(values, share, axis=0)
    rows = zip(at.tolist(), values[low].tolist(), values[high].tolist(), strict=True)
    return tuple(Estimate(*row) for row in rows)


@lru_cache(maxsize=64)
def interval(count: int, share: float) -> tuple[int, int]:
    """Return which of the sorted samples, from 0, hold a quantile between them with `SURE`.

    As few samples allow it: with less than some sixty, the ends of a 5 % quantile are the
    least and the most of them, which hold it less surely.
    """
    below = _binomial(count, share).cumsum()
    spare = (1.0 - SURE) / 2.0
    low = int(np.searchsorted(below, spare, side="right")) - 1
    high = int(np.searchsorted(below, 1.0 - spare, side="left"))
    return max(low, 0), min(high, count - 1)


def _binomial(count: int, share: float) -> NDArray[np.float64]:
    """Probabilities of 0 to `count` of so many."""
    k = np.arange(1, count + 1)
    ways = np.concatenate([[0.0], np.cumsum(np.log((count + 1 - k) / k))])
    k = np.arange(count + 1)
    return np.asarray(np.exp(ways + k * math.log(share) + (count - k) * math.log1p(-share)))
