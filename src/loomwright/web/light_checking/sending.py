"""Keeping what a device sends, waking the others, and telling how a check stands."""

from __future__ import annotations

import secrets
from typing import Any

from fastapi import Request
from starlette.exceptions import HTTPException

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Answer, Plan, Standing
from loomwright.lightcheck.plain import answer_to_plain
from loomwright.store.checks import TOPIC
from loomwright.store.checks_values import Given, KeptAnswer, LightCheck, latest
from loomwright.web.light_checking.giving import Said, answers_of
from loomwright.web.light_checking.judging import together
from loomwright.web.light_checking.step_view import said
from loomwright.web.workbench import Workbench, workbench

FINE = (Standing.RIGHT, Standing.USUAL)


def check_numbered(request: Request, rig_id: str, number: int) -> LightCheck:
    """Return the light check an address names.

    Raises
    ------
    HTTPException
        404, if there is none, or it is another rig's.
    """
    try:
        found = workbench(request).store.checks.numbered(number)
    except InvalidInput as unknown:
        raise HTTPException(404, "light check") from unknown
    if found.rig_id != rig_id:
        raise HTTPException(404, "light check")
    return found


def answers_in(bench: Workbench, check: LightCheck) -> dict[str, KeptAnswer]:
    """Return what holds for each expectation of a check that was answered."""
    return latest(bench.store.checks.answers(check))


def keep(
    bench: Workbench,
    check: LightCheck,
    sent: tuple[Said, ...],
    who: str,
    *,
    step: int | None = None,
    key: str = "",
    age_s: float = 0.0,
) -> LightCheck:
    """Keep what was sent, and let the other devices know.

    Parameters
    ----------
    bench : Workbench
        Where it is kept.
    check : LightCheck
        The check it belongs to.
    sent : tuple of Said
        The answers.
    who : str
        Who sent them.
    step : int, optional
        The step to go to.
    key : str
        Mark of the sender; one is made up if there is none.
    age_s : float
        How long ago it was given. [s]

    Raises
    ------
    InvalidInput, ExceptionGroup
        If anything in it cannot be used; then nothing of it is kept.
    """
    answers = _judged(bench, check, sent) if sent else ()
    given = Given(key or secrets.token_hex(16), answers, step, age_s)
    kept = bench.store.checks.give(check.id, given, who)
    bench.following.wake(check.id)
    return kept


def _judged(bench: Workbench, check: LightCheck, sent: tuple[Said, ...]) -> tuple[Answer, ...]:
    usual = bench.store.usual.usual_for(check.vehicle)
    answers = answers_of(sent, check.plan, usual)
    return together(answers, check.plan, answers_in(bench, check))


def after(plan: Plan, step: int, answers: dict[str, KeptAnswer]) -> int:
    """Return the step after a step that is all answered as expected, else the same."""
    if step >= len(plan.steps):
        return step
    mine = [answers.get(each.key) for each in plan.steps[step].expectations]
    fine = all(kept is not None and kept.answer.standing in FINE for kept in mine)
    return step + 1 if fine else step


def state_of(bench: Workbench, check: LightCheck) -> dict[str, Any]:
    """Return how a check stands, as plain values: for devices and programs."""
    seq = bench.store.events.newest()
    answers = answers_in(bench, check)
    return {
        "id": check.id,
        "number": check.number,
        "rig": check.rig_id,
        "version": check.version,
        "title": check.title,
        "stage": str(check.stage),
        "tester": check.plan.tester,
        "people": check.plan.people,
        "step": check.step,
        "steps": len(check.plan.steps),
        "walks": check.plan.walks,
        "begun_at": check.begun_at.isoformat(),
        "begun_by": check.begun_by,
        "ended_at": None if check.ended_at is None else check.ended_at.isoformat(),
        "seq": seq,
        "answers": [
            {**answer_to_plain(kept.answer), "found": said(kept.answer), "at": kept.at.isoformat()}
            for kept in answers.values()
        ],
        "topic": f"{TOPIC}/{check.id}",
    }
