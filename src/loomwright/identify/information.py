"""How much a reading would tell: exact, for one probe of one wire."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from loomwright.identify.alike import alike
from loomwright.identify.belief import Belief
from loomwright.identify.sight import Probe

Floats = NDArray[np.float64]


def information_bits(belief: Belief, probes: Sequence[Probe]) -> Floats:
    """Return how much less uncertain each wire is after a probe of it, on average.

    Parameters
    ----------
    belief : Belief
        What is believed now.
    probes : sequence of Probe
        What would be held and probed with; all are answered by equally many words.

    Returns
    -------
    ndarray, shape (probes, wires)
        Expected fall of the entropy of what the wire is, up to functions that are `alike`. [bit]

    Notes
    -----
    Where it is known how the vehicle feeds its lamps, an answer depends on the assignment only
    through the wire that is probed, and this is the fall of the entropy of the whole assignment.
    Where it is not known, what an answer tells of the feeding alone is left out: nobody asked.
    """
    likelihoods = np.stack([belief.sight.of(probe) for probe in probes])
    answers = np.einsum("gik,pgkw->pikw", _ways(belief), likelihoods, optimize=True)
    by_group = np.einsum("pikw,kq->piqw", answers, _members(belief), optimize=True)
    shares = by_group.sum(axis=3, keepdims=True)
    within = by_group / np.maximum(shares, 1e-300)
    left = (shares[..., 0] * _entropy(within)).sum(axis=2)
    return np.asarray(np.maximum(_entropy(by_group.sum(axis=2)) - left, 0.0))


def _ways(belief: Belief) -> Floats:
    """Return how likely the vehicle feeds so and the wire behaves so: feedings, wires, ways."""
    columns = [belief.functions.index(way.function) for way in belief.sight.ways]
    return np.asarray(belief.joint.sum(axis=0)[:, :, columns] * belief.modes)


def _members(belief: Belief) -> Floats:
    """Return 1 where a way is of a group of functions that are alike, shape (ways, groups)."""
    groups = alike(belief.bundle)
    return np.array(
        [[way.function in group for group in groups] for way in belief.sight.ways], float
    )


def _entropy(shares: Floats) -> Floats:
    return np.asarray(-(shares * np.log2(np.maximum(shares, 1e-300))).sum(axis=-1))
