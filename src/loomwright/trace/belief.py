"""Belief: from what was seen to how likely each hypothesis is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loomwright.observations.observation import Observation
from loomwright.trace.evidence import chance_of
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.moments import log_chance
from loomwright.trace.simulate import Floats

PRIOR_NORMAL: Final = 0.03
"""That nothing is wrong at all, or that this vehicle is like that."""

PRIOR_NONE: Final = 0.02
"""That it is something no hypothesis stands for."""

PRIOR_TWO: Final = 0.12
"""That two faults are there at once. "Two faults at once are normal": common practice."""


@dataclass(frozen=True, slots=True)
class Part:
    """The hypotheses of one rig that is kept open, and of one kind: single faults or pairs.

    `prior` sums to one over all parts, with "none of these".
    """

    hypotheses: Hypotheses
    prior: Floats


@dataclass(frozen=True, slots=True)
class Belief:
    """How likely each hypothesis of each part is, and none of them; all together sum to one."""

    parts: tuple[Part, ...]
    shares: tuple[Floats, ...]
    none: float
    unread: tuple[Observation, ...]


def with_priors(
    singles: Sequence[tuple[Hypotheses, float]], pairs: Sequence[tuple[Hypotheses, float]]
) -> tuple[Part, ...]:
    """Give every hypothesis its share of belief before anything was seen.

    Parameters
    ----------
    singles, pairs : sequence of (Hypotheses, float)
        Those of each rig that is kept open, and the share of that rig; of a rig whose pairs
        have not been solved there are none.
    """
    two = PRIOR_TWO if pairs else 0.0
    one = 1.0 - PRIOR_NONE - PRIOR_NORMAL - two
    parts = []
    for hypotheses, share in singles:
        prior = one * hypotheses.weight / hypotheses.weight.sum()
        prior[0] = PRIOR_NORMAL
        parts.append(Part(hypotheses, share * prior))
    for hypotheses, share in pairs:
        parts.append(Part(hypotheses, share * two * hypotheses.weight / hypotheses.weight.sum()))
    total = sum(float(part.prior.sum()) for part in parts) + PRIOR_NONE
    return tuple(Part(part.hypotheses, part.prior / total) for part in parts)


def believe(parts: Sequence[Part], observations: Sequence[Observation]) -> Belief:
    """Return the belief after some observations, in whatever order they come.

    Parameters
    ----------
    parts : sequence of Part
        The hypotheses with their priors.
    observations : sequence of Observation
        What was seen and measured.

    Notes
    -----
    Bayes' rule with observations that are independent of each other once the fault is given;
    of what comes and goes, once it is given at which moments it was there (`moments`).
    "None of these" explains each observation as well as all hypotheses do on average before
    anything is seen: it wins where no single one explains them all.
    """
    logs = [np.log(np.maximum(part.prior, 1e-300)) for part in parts]
    none = float(np.log(PRIOR_NONE))
    known: list[list[Observation]] = [[] for _ in parts]
    unread = []
    for observation in dict.fromkeys(observations):
        found = [chance_of(part.hypotheses, observation) for part in parts]
        average = _average(parts, found)
        if average is None:
            unread.append(observation)
            continue
        for n, chance in enumerate(found):
            if chance is None:
                logs[n] = logs[n] + np.log(average)
            else:
                known[n].append(observation)
        none += float(np.log(average))
    for n, part in enumerate(parts):
        logs[n] = logs[n] + log_chance(part.hypotheses, known[n])
    top = max(none, *(float(each.max()) for each in logs))
    shares = [np.exp(each - top) for each in logs]
    for share, part in zip(shares, parts, strict=True):
        share[part.prior <= 0.0] = 0.0
    left = float(np.exp(none - top))
    total = left + sum(float(share.sum()) for share in shares)
    return Belief(
        tuple(parts), tuple(share / total for share in shares), left / total, tuple(unread)
    )


def _average(parts: Sequence[Part], found: Sequence[Floats | None]) -> float | None:
    """How well the hypotheses that know the place explain it on average before anything."""
    known = [(p.prior, c) for p, c in zip(parts, found, strict=True) if c is not None]
    if not known:
        return None
    total = sum(float(prior.sum()) for prior, _ in known)
    return sum(float(prior @ chance) for prior, chance in known) / total
