"""Belief told as a technician thinks: by side, place, part and form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loomwright.observations.observation import Observation
from loomwright.trace.belief import Belief
from loomwright.trace.form_words import form_words
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import Group, Ranking, RigFault, Suspect
from loomwright.trace.simulate import Floats

Key = tuple[str, str, str, str]

SHOWN_SUSPECTS = 4


@dataclass(frozen=True, slots=True)
class Groups:
    """All groups of some parts, and which of them each hypothesis counts for.

    `of_fault` gives the group of each fault, by the identity of its hypotheses.
    """

    keys: tuple[Key, ...]
    faults: tuple[RigFault, ...]
    of_fault: Mapping[int, NDArray[np.intp]]

    def share(self, belief: Belief) -> Floats:
        """Return the belief in each group."""
        total = np.zeros(len(self.keys))
        for part, share in zip(belief.parts, belief.shares, strict=True):
            hypotheses = part.hypotheses
            group = self.of_fault[id(hypotheses)]
            paired = hypotheses.second >= 0
            first = hypotheses.first >= 0
            half = np.where(paired, 0.5, 1.0) * share
            total += np.bincount(group[hypotheses.first[first]], half[first], len(self.keys))
            total += np.bincount(group[hypotheses.second[paired]], half[paired], len(self.keys))
        return total


def groups_of(all_hypotheses: Sequence[Hypotheses]) -> Groups:
    """Find the groups of all faults.

    Parameters
    ----------
    all_hypotheses : sequence of Hypotheses
        Of every rig that is kept open.
    """
    number: dict[Key, int] = {}
    faults: list[RigFault] = []
    of_fault = {}
    for hypotheses in all_hypotheses:
        found = []
        for fault in hypotheses.faults:
            if fault.group not in number:
                number[fault.group] = len(faults)
                faults.append(fault)
            found.append(number[fault.group])
        of_fault[id(hypotheses)] = np.array(found, dtype=int)
    return Groups(tuple(number), tuple(faults), of_fault)


def ranking_of(belief: Belief, groups: Groups, observations: Sequence[Observation]) -> Ranking:
    """Tell a belief as ranked groups.

    Parameters
    ----------
    belief : Belief
        After the observations.
    groups : Groups
        Those of its hypotheses.
    observations : sequence of Observation
        What it rests on.
    """
    share = groups.share(belief)
    suspects = _suspects(belief, groups)
    order = np.argsort(-share, kind="stable")
    ranked = tuple(
        _group(groups.faults[n], float(share[n]), suspects.get(n, ())) for n in order.tolist()
    )
    by_side: dict[str, float] = {}
    by_place: dict[str, float] = {}
    for group in ranked:
        by_side[group.side] = by_side.get(group.side, 0.0) + group.probability
        by_place[group.place] = by_place.get(group.place, 0.0) + group.probability
    two = sum(
        float(s[p.hypotheses.second >= 0].sum())
        for p, s in zip(belief.parts, belief.shares, strict=True)
    )
    return Ranking(
        ranked,
        belief.none,
        _normal(belief),
        tuple(observations),
        two,
        by_side,
        by_place,
        belief.unread,
    )


def _normal(belief: Belief) -> float:
    return sum(
        float(share[part.hypotheses.first < 0].sum())
        for part, share in zip(belief.parts, belief.shares, strict=True)
    )


def _suspects(belief: Belief, groups: Groups) -> dict[int, tuple[Suspect, ...]]:
    """The likeliest hypotheses of each group; the same fault of two rigs counts once."""
    found: dict[int, dict[tuple[str, str], Suspect]] = {}
    for part, share in zip(belief.parts, belief.shares, strict=True):
        hypotheses = part.hypotheses
        group = groups.of_fault[id(hypotheses)]
        for n in np.argsort(-share)[:400].tolist():
            first, second = int(hypotheses.first[n]), int(hypotheses.second[n])
            if first < 0:
                continue
            fault = hypotheses.faults[first]
            other = hypotheses.faults[second] if second >= 0 else None
            for at, one, two in ((first, fault, other), (second, other, fault)):
                if at >= 0 and one is not None:
                    into = found.setdefault(int(group[at]), {})
                    key = one.key, two.key if two is not None else ""
                    before = into.get(key)
                    more = float(share[n]) + (before.probability if before else 0.0)
                    into[key] = Suspect(one, more, two)
    return {
        n: tuple(sorted(each.values(), key=lambda s: -s.probability)[:SHOWN_SUSPECTS])
        for n, each in found.items()
    }


def _group(fault: RigFault, share: float, suspects: tuple[Suspect, ...]) -> Group:
    words = form_words(fault.place, fault.form)
    return Group(
        fault.side,
        fault.place,
        fault.part,
        fault.form,
        fault.circuit,
        f"{fault.part}: {words}",
        share,
        suspects or (Suspect(fault, share),),
        repair=fault.repair,
    )
