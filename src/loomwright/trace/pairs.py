"""Two faults at once: a blown fuse and the chafe that blew it, a bad ground and a dead lamp."""

from __future__ import annotations

from typing import Final

import numpy as np

from loomwright.circuit.plan import Executor
from loomwright.circuit.progress import Progress, Stop
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.paired import solve_pairs
from loomwright.trace.simulate import Floats

MOST_PAIRS: Final = 45_000
"""Pairs that are solved: some 300 different faults, each with each."""


def pair_hypotheses(
    singles: Hypotheses,
    most: int = MOST_PAIRS,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
    *,
    executor: Executor = "best",
) -> Hypotheses:
    """Return the most plausible pairs of faults of a rig, solved.

    Parameters
    ----------
    singles : Hypotheses
        The single faults.
    most : int
        How many pairs at most.
    progress, cancelled
        As for `Study.solve`.
    executor : {"best", "arrays", "compiled"}
        As for `Study`.

    Notes
    -----
    Faults in one row of the same conductor count as one, told by the most usual of them; what
    comes and goes, and what takes several wires at once, is left to single faults.
    """
    faults, variants, weight = _representatives(singles)
    one, other = np.triu_indices(len(faults), 1)
    product = weight[one] * weight[other]
    kept = np.argsort(-product, kind="stable")[:most]
    one, other, product = one[kept], other[kept], product[kept]
    changes = [singles.field.changes[n] for n in variants]
    solved = solve_pairs(
        singles.field.bench,
        changes,
        np.stack([one, other], axis=1),
        progress,
        cancelled,
        executor=executor,
    )
    number = np.array(faults, dtype=int)
    return Hypotheses(
        solved, singles.faults, number[one], number[other], 1 + np.arange(len(one)), product
    )


def _representatives(singles: Hypotheses) -> tuple[list[int], list[int], Floats]:
    """The most usual fault of each variant of one change, that variant, its weight in all."""
    best: dict[int, int] = {}
    total: dict[int, float] = {}
    for n, fault in enumerate(singles.faults):
        variant = int(singles.variant[n + 1])
        if fault.comes_and_goes or fault.signs or len(singles.field.changes[variant]) != 1:
            continue
        total[variant] = total.get(variant, 0.0) + fault.weight
        if variant not in best or fault.weight > singles.faults[best[variant]].weight:
            best[variant] = n
    weights = np.array([total[v] for v in best])
    return list(best.values()), list(best), weights
