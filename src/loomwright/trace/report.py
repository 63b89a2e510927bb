"""A ranking and the next step as plain values, for other programs."""

from __future__ import annotations

from typing import Any, Final

from loomwright.observations.observation import to_plain
from loomwright.rig.model import Rig
from loomwright.trace.model import Advice, Flow, Group, Question, Ranking

FORMAT: Final = "loomwright/trace"
VERSION: Final = 1
SHOWN: Final = 12


def trace_report(rig: Rig, ranking: Ranking, advice: Advice, shown: int = SHOWN) -> dict[str, Any]:
    """Return what is known of a rig's fault as plain values.

    Parameters
    ----------
    rig : Rig
        The rig.
    ranking : Ranking
        What may be wrong.
    advice : Advice
        What to do next.
    shown : int
        How many groups are told in full.
    """
    return {
        "format": FORMAT,
        "version": VERSION,
        "rig": rig.name,
        "observations": [to_plain(each) for each in ranking.observations],
        "unread": [to_plain(each) for each in ranking.unread],
        "faults": [_group(group) for group in ranking.groups[:shown]],
        "others": sum(group.probability for group in ranking.groups[shown:]),
        "none_of_these": ranking.none,
        "normal": ranking.normal,
        "two_at_once": ranking.two,
        "by_side": dict(ranking.by_side),
        "by_place": dict(ranking.by_place),
        "next": [_question(each) for each in advice.questions],
        "repair": None if advice.repair is None else advice.repair.title,
        "retest": list(advice.retest),
        "watch": advice.watch,
    }


def _group(group: Group) -> dict[str, Any]:
    return {
        "side": group.side,
        "place": group.place,
        "part": group.part,
        "form": group.form,
        "circuit": group.circuit,
        "title": group.title,
        "probability": group.probability,
        "repair": group.repair,
        "suspects": [
            {
                "key": each.fault.key,
                "title": each.fault.title,
                "probability": each.probability,
                "size_ohm": each.fault.size_ohm,
                "second": None if each.second is None else each.second.key,
            }
            for each in group.suspects
        ],
        "reasons": [
            {
                "observation": to_plain(each.observation),
                "factor": each.factor,
                "expected": each.expected,
                "says": each.says,
            }
            for each in group.reasons
        ],
        "flow": None if group.flow is None else _flow(group.flow),
    }


def _flow(flow: Flow) -> dict[str, Any]:
    return {
        "command": flow.command,
        "currents_a": dict(flow.currents_a),
        "backwards": list(flow.backwards),
        "opened": list(flow.opened),
        "says": flow.says,
    }


def _question(question: Question) -> dict[str, Any]:
    return {
        "key": question.key,
        "says": question.says,
        "command": question.command,
        "minutes": question.minutes,
        "information_bit": question.information_bit,
        "needs": list(question.needs),
        "caution": question.caution,
        "outcomes": [
            {
                "says": each.says,
                "probability": each.probability,
                "means": list(each.means),
                "observations": [to_plain(one) for one in each.observations],
            }
            for each in question.outcomes
        ],
    }
