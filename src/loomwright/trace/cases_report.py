"""The score of a file of cases as plain values, for other programs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from loomwright.reference.fault_kinds import fault_kind
from loomwright.trace.cases import CaseScore, share_within

FORMAT: Final = "loomwright-trace-cases/1"
FIRST: Final = (1, 3, 5)
SHOWN: Final = 8


def cases_report(scores: Sequence[CaseScore]) -> dict[str, Any]:
    """Return the score of some cases as plain values.

    Parameters
    ----------
    scores : sequence of CaseScore
        One for each case, at least one.
    """
    return {
        "format": FORMAT,
        "count": len(scores),
        "share": {
            "accepted": _shares([each.rank for each in scores]),
            "expected": _shares([each.rank_expected for each in scores]),
            "place": _shares([each.rank_place for each in scores]),
        },
        "cases": [_case(each) for each in scores],
    }


def _shares(ranks: Sequence[int]) -> dict[str, float]:
    return {f"first_{first}": share_within(ranks, first) for first in FIRST}


def _case(score: CaseScore) -> dict[str, Any]:
    case = score.case
    return {
        "case": case.key,
        "title": case.title,
        "detail": case.detail,
        "place": case.place,
        "form": case.form,
        "rank": score.rank,
        "rank_expected": score.rank_expected,
        "rank_place": score.rank_place,
        "expected": list(case.expected),
        "accepted": list(case.accepted),
        "skipped": list(case.skipped),
        "ranked": [
            {
                "fault": each.key,
                "title": fault_kind(each.key).title,
                "place": each.place,
                "form": each.form,
                "probability": each.probability,
            }
            for each in score.ranked[:SHOWN]
        ],
    }
