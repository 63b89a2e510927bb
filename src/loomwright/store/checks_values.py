"""What comes out of the store for a light check, and what goes in."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from functools import lru_cache
from typing import Any

from sqlalchemy import Row

from loomwright.lightcheck.model import Answer, Plan
from loomwright.lightcheck.plain import answer_from_plain, plan_from_plain


class Stage(StrEnum):
    """When a check is made: for itself, or on either side of the work, to compare."""

    PLAIN = "plain"
    BEFORE = "before"
    AFTER = "after"


@dataclass(frozen=True, slots=True)
class NewCheck:
    """A light check about to begin: for which rig and version, under which title, by which plan."""

    rig_id: str
    version: int
    title: str
    stage: Stage
    plan: Plan


@dataclass(frozen=True, slots=True)
class LightCheck:
    """A light check.

    `number` counts the checks of the shop from 1; `step` is the step that is held now, counted
    from 0, and as large as the number of steps when all were gone through.
    """

    id: str
    number: int
    rig_id: str
    version: int
    title: str
    stage: Stage
    vehicle: str
    plan: Plan
    step: int
    begun_at: datetime
    begun_by: str
    ended_at: datetime | None
    ended_by: str | None


@dataclass(frozen=True, slots=True)
class Given:
    """What one device sends at once.

    Attributes
    ----------
    key : str
        Mark of the sender: what is sent again after a lost answer counts once.
    answers : tuple of Answer
        To expectations of the plan.
    step : int or None
        The step to go to; None to stay.
    age_s : float
        How long ago it was given: it may have waited on the device for the link. [s]
    """

    key: str
    answers: tuple[Answer, ...] = ()
    step: int | None = None
    age_s: float = 0.0


@dataclass(frozen=True, slots=True)
class KeptAnswer:
    """An answer as it is kept: `number` in the order of arrival, `at` when it was given."""

    number: int
    answer: Answer
    at: datetime
    kept_at: datetime
    who: str


def check_of(row: Row[Any]) -> LightCheck:
    """Return the light check a row holds."""
    said = {name: row._mapping[name] for name in LightCheck.__slots__}
    return LightCheck(**{**said, "stage": Stage(row.stage), "plan": _plan(row.plan)})


@lru_cache(maxsize=16)
def _plan(text: str) -> Plan:
    """Return the plan a text holds; a device that follows asks for the same one many times."""
    return plan_from_plain(json.loads(text))


def kept_of(row: Row[Any], plan: Plan) -> KeptAnswer:
    """Return the answer a row holds."""
    said = {
        "expectation": row.expectation,
        "observation": None if row.observation is None else json.loads(row.observation),
        "standing": row.standing,
        "says": row.says,
    }
    answer = answer_from_plain(said, plan)
    return KeptAnswer(row.number, answer, row.at, row.kept_at, row.who)


def latest(kept: Sequence[KeptAnswer]) -> dict[str, KeptAnswer]:
    """Return what holds for each expectation: the answer that was given last."""
    in_order = sorted(kept, key=lambda each: (each.at, each.number))
    return {each.answer.expectation.key: each for each in in_order}
