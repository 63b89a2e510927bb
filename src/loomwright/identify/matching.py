"""Exact sums over all ways to hand functions to wires; knows nothing of vehicles.

Each of `once` functions may go to one wire at most, each of the others to any number. The sum
over all ways of the product of the weights is worked out wire by wire, over the sets of `once`
functions that are used up: 2^F numbers for F such functions, whatever the number of wires.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Sums:
    """What the sums give, for each of G weightings.

    Attributes
    ----------
    log_total : ndarray, shape (G,)
        Logarithm of the sum over all ways.
    once : ndarray, shape (G, n, F)
        Share of the ways, by weight, in which wire n has function F.
    free : ndarray, shape (G, n, K)
        The same for functions that any number of wires may have.
    """

    log_total: Floats
    once: Floats
    free: Floats


def matching_sums(log_once: Floats, log_free: Floats) -> Sums:
    """Sum over all ways to hand functions to wires.

    Parameters
    ----------
    log_once : ndarray, shape (G, n, F)
        Logarithm of the weight of function F on wire n, at most one wire each.
    log_free : ndarray, shape (G, n, K)
        The same for functions that any number of wires may have; at least one.

    Returns
    -------
    Sums
        Exact but for rounding: nothing is subtracted.
    """
    top = np.maximum(log_once.max(axis=2, initial=-np.inf), log_free.max(axis=2))
    once = np.exp(log_once - top[:, :, None])
    free = np.exp(log_free - top[:, :, None])
    rest = free.sum(axis=2)
    before, scale = _forward(once, rest)
    after = _backward(once, rest)
    total = before[-1].sum(axis=1)
    shares = _shares(once, before, after)
    beside = np.stack(
        [(b * a).sum(axis=1) for b, a in zip(before[:-1], after[1:], strict=True)], axis=1
    )
    whole = shares.sum(axis=2) + beside * rest
    return Sums(
        np.log(total) + scale + top.sum(axis=1),
        shares / whole[:, :, None],
        free * (beside / whole)[:, :, None],
    )


def _halves(sums: Floats, function: int) -> tuple[Floats, Floats]:
    """Return views of the sums without and with one function used up."""
    folded = sums.reshape(sums.shape[0], -1, 2, 1 << function)
    return folded[:, :, 0, :], folded[:, :, 1, :]


def _forward(once: Floats, rest: Floats) -> tuple[list[Floats], Floats]:
    """Sum over the wires before each wire, by what they used up; brought to 1 each time."""
    groups, wires, functions = once.shape
    start = np.zeros((groups, 1 << functions))
    start[:, 0] = 1.0
    sums, scale = [start], np.zeros(groups)
    for wire in range(wires):
        last = sums[-1]
        grown = last * rest[:, wire, None]
        for function in range(functions):
            lacking, _ = _halves(last, function)
            _, having = _halves(grown, function)
            having += lacking * once[:, wire, function, None, None]
        size = grown.sum(axis=1)
        sums.append(grown / size[:, None])
        scale = scale + np.log(size)
    return sums, scale


def _backward(once: Floats, rest: Floats) -> list[Floats]:
    """Sum over the wires from each wire on, by what was used up before them."""
    groups, wires, functions = once.shape
    sums = [np.ones((groups, 1 << functions))]
    for wire in reversed(range(wires)):
        later = sums[-1]
        grown = later * rest[:, wire, None]
        for function in range(functions):
            _, having = _halves(later, function)
            lacking, _ = _halves(grown, function)
            lacking += having * once[:, wire, function, None, None]
        sums.append(grown / grown.max(axis=1)[:, None])
    return sums[::-1]


def _shares(once: Floats, before: list[Floats], after: list[Floats]) -> Floats:
    shares = np.zeros(once.shape)
    for wire in range(once.shape[1]):
        for function in range(once.shape[2]):
            lacking, _ = _halves(before[wire], function)
            _, having = _halves(after[wire + 1], function)
            both = (lacking * having).sum(axis=(1, 2))
            shares[:, wire, function] = both * once[:, wire, function]
    return shares
