"""The likeliest hypotheses as one small table, on which questions are weighed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.rig.model import Bulb
from loomwright.trace.belief import Belief
from loomwright.trace.eye import spoken
from loomwright.trace.grouping import Groups
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.simulate import Floats, Whole

MOST: Final = 320


@dataclass(frozen=True, slots=True)
class Shortlist:
    """The likeliest hypotheses of the likeliest rig that is kept open.

    Attributes
    ----------
    hypotheses : Hypotheses
        Of single faults.
    number : int array, shape (short,)
        Which of them.
    share : float array, shape (short,)
        Their belief, summing to one.
    group : int array, shape (short,)
        The group of each; the last number stands for "nothing wrong".
    count : int
        How many groups there are, that one with them.
    """

    hypotheses: Hypotheses
    number: Whole
    share: Floats
    group: Whole
    count: int

    @property
    def variant(self) -> Whole:
        """Variant of each."""
        return self.hypotheses.variant[self.number]

    @property
    def loose(self) -> NDArray[np.bool_]:
        """Which come and go."""
        return np.asarray(self.hypotheses.loose[self.number])

    def by_group(self, outcomes: Floats) -> tuple[Floats, Floats]:
        """Return the share of each group, and its chance of each outcome, (group, outcome)."""
        share: Floats = np.bincount(self.group, self.share, self.count).astype(float)
        joint = np.zeros((self.count, outcomes.shape[1]))
        np.add.at(joint, self.group, self.share[:, None] * outcomes)
        return share, joint / np.maximum(share, 1e-300)[:, None]

    def information_bit(self, outcomes: Floats) -> float:
        """Return what an answer tells of the group, on average. [bit]

        Parameters
        ----------
        outcomes : float array, shape (short, outcome)
            Chance of each outcome under each hypothesis, each row summing to one.
        """
        share, chance = self.by_group(outcomes)
        overall = share @ chance
        ratio = np.where(chance > 0.0, chance / np.maximum(overall, 1e-300), 1.0)
        return float((share[:, None] * chance * np.log2(ratio)).sum())


def shortlist_of(belief: Belief, groups: Groups) -> Shortlist:
    """Return the likeliest single hypotheses of the rig that belief rests on most.

    Parameters
    ----------
    belief : Belief
        After the observations.
    groups : Groups
        Those of its hypotheses.
    """
    best, share = max(
        (
            (part, share)
            for part, share in zip(belief.parts, belief.shares, strict=True)
            if (part.hypotheses.second < 0).all()
        ),
        key=lambda each: float(each[1].sum()),
    )
    hypotheses = best.hypotheses
    number = np.argsort(-share, kind="stable")[:MOST]
    number = number[share[number] > 0.0]
    count = len(groups.keys) + 1
    of_fault = np.append(groups.of_fault[id(hypotheses)], count - 1)
    kept = share[number] / share[number].sum()
    return Shortlist(hypotheses, number, kept, of_fault[hypotheses.first[number]], count)


def words_shown(shortlist: Shortlist) -> Whole:
    """Return the likeliest basic word of every lamp, shape (1 + short, command, load).

    The first row is the healthy rig. Magnets and batteries count by their share: 0 off, 2 weak,
    3 as it should be.
    """
    solved = shortlist.hypotheses.field
    variants = np.concatenate([[0], shortlist.variant])
    light = solved.light[variants].astype(float)
    found = np.zeros(light.shape, dtype=int)
    darks = [solved.bench.dark_half(n) for n in range(light.shape[1])]
    steady = [n for n, dark in enumerate(darks) if dark is None]
    flashing = [n for n, dark in enumerate(darks) if dark is not None]
    halves = [dark for dark in darks if dark is not None]
    for n, load in enumerate(solved.bench.wiring.loads):
        if load.source is None:
            found[..., n] = np.where(light[..., n] > 0.78, 3, np.where(light[..., n] > 0.12, 2, 0))
            continue
        filament = isinstance(load.source, Bulb)
        found[:, steady, n] = _likeliest(light[:, steady, n], None, filament=filament)
        lit, dark = light[:, flashing, n], light[:, halves, n]
        found[:, flashing, n] = _likeliest(lit, dark, filament=filament)
    return found


def _likeliest(lit: Floats, dark: Floats | None, *, filament: bool) -> Whole:
    """Likeliest word of each light, in the shape of the lights."""
    half = None if dark is None else dark.ravel()
    words = spoken(lit.ravel(), half, filament=filament)
    return np.asarray(words.argmax(axis=1).reshape(lit.shape))
