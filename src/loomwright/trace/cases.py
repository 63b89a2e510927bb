"""Judge trace by cases met in practice: how high the true cause ranks in the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from loomwright.trace.cases_rank import KindShare, rank_kinds
from loomwright.trace.cases_read import Case
from loomwright.trace.cases_rig import answers_of
from loomwright.trace.cases_stand import Stand, make_stand
from loomwright.trace.typical import rigs_for

RIGS = 5
"""How many typical rigs stand for what a case leaves open."""


@dataclass(frozen=True, slots=True)
class CaseScore:
    """How a case came out.

    Ranks count from 1 and are 0 where nothing accepted is ranked at all: `rank` of the first
    accepted kind, `rank_expected` of the first that counts as the right answer itself,
    `rank_place` of the place of the cause among places.
    """

    case: Case
    ranked: tuple[KindShare, ...]
    rank: int
    rank_expected: int
    rank_place: int


class Stands:
    """Typical rigs with their faults solved, kept for the next case with the same answers."""

    def __init__(self) -> None:
        self._kept: dict[tuple[tuple[str, str], ...], Stand] = {}

    def of(self, case: Case) -> tuple[Stand, ...]:
        """Return the rigs that stand for a case."""
        found = []
        for typical in rigs_for(answers_of(case), RIGS):
            key = tuple(typical.answers.items())
            if key not in self._kept:
                self._kept[key] = make_stand(typical)
            found.append(replace(self._kept[key], typical=typical))
        return tuple(found)


def score(case: Case, stands: Sequence[Stand] = ()) -> CaseScore:
    """Return how high the true cause of a case ranks.

    Parameters
    ----------
    case : Case
        The case.
    stands : sequence of Stand
        Typical rigs for it, as `Stands` keeps them.
    """
    ranked = rank_kinds(case, stands)
    keys = [each.key for each in ranked]
    return CaseScore(
        case=case,
        ranked=ranked,
        rank=_first(keys, (*case.expected, *case.accepted)),
        rank_expected=_first(keys, case.expected),
        rank_place=_place_rank(ranked, case.place),
    )


def share_within(ranks: Iterable[int], first: int) -> float:
    """Return the share of ranks that are among the first so many; 0 counts as none."""
    listed = list(ranks)
    return sum(0 < rank <= first for rank in listed) / len(listed)


def _first(keys: list[str], accepted: Iterable[str]) -> int:
    return min((keys.index(key) + 1 for key in accepted if key in keys), default=0)


def _place_rank(ranked: tuple[KindShare, ...], place: str) -> int:
    sums: dict[str, float] = {}
    for each in ranked:
        sums[each.place] = sums.get(each.place, 0.0) + each.probability
    places = sorted(sums, key=lambda name: -sums[name])
    return places.index(place) + 1 if place in places else 0
