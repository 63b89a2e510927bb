"""Tests of a repair: each command that showed the fault is held again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from loomwright.electrics.commands import commands_for
from loomwright.observations.observation import Observation
from loomwright.trace.asked import CAUTIONS
from loomwright.trace.efforts import LOOK_MIN
from loomwright.trace.model import Advice, Outcome, Question
from loomwright.web.tracing.right import right_seen

if TYPE_CHECKING:
    from loomwright.trace.engine import Trace
    from loomwright.web.tracing.talk import Told

RIGHT = "every lamp as it should be"
MOST_TESTS = 4


def commands_to_retest(
    trace: Trace, advice: Advice, seen: Sequence[Observation]
) -> tuple[str, ...]:
    """Return the keys of the commands that showed what is repaired; else those that were held.

    Parameters
    ----------
    trace : Trace
        The rig, solved.
    advice : Advice
        With its repair, and what is to be tested after it.
    seen : sequence of Observation
        What was seen before the repair.
    """
    keys = {each.title: each.key for each in commands_for(trace.rigs[0][0])}
    titles = [each.partition(":")[0] for each in advice.retest]
    showed = [keys[title] for title in titles if title in keys]
    held = dict.fromkeys(each.command for each in seen if each.command in keys.values())
    return tuple(showed or held)[:MOST_TESTS]


def tests_to_do(trace: Trace, told: Told, questions: Sequence[Question]) -> tuple[Question, ...]:
    """Return the tests of the last repair that are still to do.

    Parameters
    ----------
    trace : Trace
        The rig, solved.
    told : Told
        How far the conversation is.
    questions : sequence of Question
        What would be asked anyway: a look under the same command lends its answers.
    """
    seen = {each.command for each in told.observations}
    if not all(said.is_right for said in told.said):
        return ()
    known = {question.key: question for question in questions}
    keys = [key for key in told.retest if key not in seen and f"test_{key}" not in told.passed]
    return tuple(_test(trace, key, known) for key in keys)


def _test(trace: Trace, command: str, known: Mapping[str, Question]) -> Question:
    titles = {each.key: each.title for each in commands_for(trace.rigs[0][0])}
    right = Outcome(RIGHT, 1.0, ("the repair holds here",), right_seen(trace, command))
    asked = known.get(f"look_{command}")
    others = () if asked is None else tuple(o for o in asked.outcomes if o.says != RIGHT)
    return Question(
        f"test_{command}",
        f"Hold: {titles[command]}. Walk round and look at every lamp.",
        command,
        LOOK_MIN if asked is None else asked.minutes,
        0.0,
        () if asked is None else asked.needs,
        (right, *others),
        CAUTIONS.get(command, ""),
    )
