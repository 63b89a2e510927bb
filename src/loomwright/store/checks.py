"""Light checks: the plan, where it stands, and every answer, none of which is overwritten."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, Row, func, insert, select, update

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Plan, Standing
from loomwright.lightcheck.plain import answer_to_plain, plan_to_plain
from loomwright.store import rig_rows as rows
from loomwright.store.access import Access
from loomwright.store.checks_usual import remember
from loomwright.store.checks_values import (
    Given,
    KeptAnswer,
    LightCheck,
    NewCheck,
    Stage,
    check_of,
    kept_of,
)
from loomwright.store.entry import checked_key, checked_name, findable, within
from loomwright.store.events import Happening, add_event
from loomwright.store.tables import EVENTS, LIGHT_ANSWERS, LIGHT_CHECKS

TOPIC = "light-check"
LONGEST_WAIT_S = 30 * 86400.0
AT_ONCE_S = 5.0
"""What is no older came straight; the order of arrival holds, not a few slow packets."""


@dataclass(frozen=True, slots=True)
class LightChecks:
    """The light checks of a store."""

    access: Access

    def begin(self, new: NewCheck, who: str) -> LightCheck:
        """Keep a light check that begins now, at the first step of its plan.

        Parameters
        ----------
        new : NewCheck
            The rig, its version, and the plan.
        who : str
            Who begins it.

        Raises
        ------
        InvalidInput
            If there is no such rig or version, the plan has no step, or an entry cannot be used.
        """
        who, at = checked_name(who, "who"), self.access.at()
        if not new.plan.steps:
            raise InvalidInput("plan", "no steps", "give the rig a lamp or a pin to check")
        values = {
            "id": self.access.new_id(),
            "rig_id": new.rig_id,
            "version": new.version,
            "title": checked_name(new.title, "title"),
            "stage": str(new.stage),
            "tester": new.plan.tester,
            "people": new.plan.people,
            "plan": json.dumps(plan_to_plain(new.plan), sort_keys=True, allow_nan=False),
            "step": 0,
            "begun_at": at,
            "begun_by": who,
        }
        with self.access.writing() as connection:
            rig = rows.rig_row(connection, new.rig_id)
            rows.version_row(connection, new.rig_id, new.version)
            highest = select(func.coalesce(func.max(LIGHT_CHECKS.c.number), 0))
            values["number"] = connection.execute(highest).scalar_one() + 1
            values["vehicle"] = rig.vehicle
            added = insert(LIGHT_CHECKS).values(values).returning(LIGHT_CHECKS)
            row = connection.execute(added).one()
            self._tell(connection, row.id, {"what": "begun", "step": 0}, who)
            return check_of(row)

    def check(self, check_id: str) -> LightCheck:
        """Return a light check.

        Raises
        ------
        InvalidInput
            If there is none of this id.
        """
        with self.access.reading() as connection:
            return check_of(_row(connection, check_id))

    def numbered(self, number: int) -> LightCheck:
        """Return the light check of a number.

        Raises
        ------
        InvalidInput
            If there is none.
        """
        wanted = select(LIGHT_CHECKS).where(LIGHT_CHECKS.c.number == within(number))
        with self.access.reading() as connection:
            row = connection.execute(wanted).first()
        if row is None:
            raise InvalidInput("light check", number, "choose a light check from the list")
        return check_of(row)

    def checks_of(self, rig_id: str) -> tuple[LightCheck, ...]:
        """Return the light checks of a rig, the newest first."""
        mine = select(LIGHT_CHECKS).where(LIGHT_CHECKS.c.rig_id == findable(rig_id))
        with self.access.reading() as connection:
            found = connection.execute(mine.order_by(LIGHT_CHECKS.c.number.desc()))
            return tuple(check_of(row) for row in found)

    def answers(self, check: LightCheck) -> tuple[KeptAnswer, ...]:
        """Return every answer of a light check, in the order of arrival; `latest` sorts them."""
        mine = select(LIGHT_ANSWERS).where(LIGHT_ANSWERS.c.check_id == check.id)
        with self.access.reading() as connection:
            found = connection.execute(mine.order_by(LIGHT_ANSWERS.c.number))
            return tuple(kept_of(row, check.plan) for row in found)

    def before(self, check: LightCheck) -> LightCheck | None:
        """Return the newest check before the work that a check after it is compared with."""
        return next(
            (
                each
                for each in self.checks_of(check.rig_id)
                if each.stage is Stage.BEFORE and each.number < check.number
            ),
            None,
        )

    def give(self, check_id: str, given: Given, who: str) -> LightCheck:
        """Keep what a device sends, once for each key; also after the check was ended.

        Parameters
        ----------
        check_id : str
            Which check.
        given : Given
            Answers, and the step to go to. An answer that is normal for this vehicle is
            remembered for the next check of such a vehicle.
        who : str
            Who gave them.

        Returns
        -------
        LightCheck
            As it is now.

        Raises
        ------
        InvalidInput
            If there is no such check, or an entry cannot be used.
        """
        who, at = checked_name(who, "who"), self.access.at()
        with self.access.writing() as connection:
            row = _row(connection, check_id)
            if self._has(connection, check_id, checked_key(given.key)):
                return check_of(row)
            check = check_of(row)
            step = check.step if given.step is None else _step(given.step, check.plan)
            times = {"at": at - _age(given.age_s), "kept_at": at, "who": who}
            self._add(connection, check, given, times)
            for answer in given.answers:
                if answer.standing is Standing.USUAL and answer.observation is not None:
                    remember(connection, self.access, check, answer.observation, who)
            moved = update(LIGHT_CHECKS).where(LIGHT_CHECKS.c.id == check.id).values(step=step)
            row = connection.execute(moved.returning(LIGHT_CHECKS)).one()
            answers = [answer_to_plain(each) for each in given.answers]
            said = {"what": "answered" if answers else "moved", "step": step, "answers": answers}
            self._tell(connection, check.id, said, who, given.key)
            return check_of(row)

    def end(self, check_id: str, who: str) -> LightCheck:
        """Note that a light check is over; nothing happens if it is already.

        Parameters
        ----------
        check_id : str
            Which check.
        who : str
            Who ends it.

        Raises
        ------
        InvalidInput
            If there is no such check, or `who` is no name.
        """
        who, at = checked_name(who, "who"), self.access.at()
        with self.access.writing() as connection:
            row = _row(connection, check_id)
            if row.ended_at is None:
                mine = update(LIGHT_CHECKS).where(LIGHT_CHECKS.c.id == row.id)
                over = mine.values(ended_at=at, ended_by=who).returning(LIGHT_CHECKS)
                row = connection.execute(over).one()
                self._tell(connection, row.id, {"what": "ended", "step": row.step}, who)
            return check_of(row)

    def _add(
        self, connection: Connection, check: LightCheck, given: Given, times: Mapping[str, Any]
    ) -> None:
        mine = LIGHT_ANSWERS.c.check_id == check.id
        highest = select(func.coalesce(func.max(LIGHT_ANSWERS.c.number), 0)).where(mine)
        first = connection.execute(highest).scalar_one() + 1
        values = [
            {
                "check_id": check.id,
                "number": number,
                "expectation": _key_in(said["expectation"], check.plan),
                "observation": None
                if said["observation"] is None
                else json.dumps(said["observation"], sort_keys=True, allow_nan=False),
                "standing": said["standing"],
                "says": said["says"],
                "key": given.key,
                **times,
            }
            for number, said in enumerate(map(answer_to_plain, given.answers), start=first)
        ]
        if values:
            connection.execute(insert(LIGHT_ANSWERS), values)

    def _has(self, connection: Connection, check_id: str, key: str) -> bool:
        """Return whether this was kept already.

        Raises
        ------
        InvalidInput
            If the key was used for something else.
        """
        wanted = select(EVENTS.c.topic).where(EVENTS.c.key == key)
        topic = connection.execute(wanted).scalar_one_or_none()
        if topic not in (None, f"{TOPIC}/{check_id}"):
            raise InvalidInput("key", key, "give each sending a mark of its own")
        return topic is not None

    def _tell(
        self,
        connection: Connection,
        check_id: str,
        said: Mapping[str, Any],
        who: str,
        key: str | None = None,
    ) -> None:
        add_event(connection, self.access, Happening(f"{TOPIC}/{check_id}", said, who, key))


def _row(connection: Connection, check_id: str) -> Row[Any]:
    wanted = select(LIGHT_CHECKS).where(LIGHT_CHECKS.c.id == findable(check_id))
    row = connection.execute(wanted).first()
    if row is None:
        raise InvalidInput("light check", check_id, "choose a light check from the list")
    return row


def _step(step: int, plan: Plan) -> int:
    if not 0 <= step <= len(plan.steps):
        raise InvalidInput("step", step, f"give a step from 0 to {len(plan.steps)}")
    return step


def _key_in(key: str, plan: Plan) -> str:
    try:
        return plan.expectation(key).key
    except KeyError:
        raise InvalidInput("expectation", key, "name an expectation of the plan") from None


def _age(seconds: float) -> timedelta:
    """Return how long an answer waited; a device whose clock was set meanwhile says nonsense."""
    if not math.isfinite(seconds):
        raise InvalidInput("age_s", seconds, "give the seconds since the answer was given")
    return timedelta(seconds=0.0 if seconds < AT_ONCE_S else min(seconds, LONGEST_WAIT_S))


def is_over(check: LightCheck) -> bool:
    """Return whether a check was gone through or ended."""
    return check.ended_at is not None or check.step >= len(check.plan.steps)


def last_use(check: LightCheck, kept: tuple[KeptAnswer, ...]) -> datetime:
    """Return when something was last done in a check."""
    return max([check.ended_at or check.begun_at, *(each.kept_at for each in kept)])
