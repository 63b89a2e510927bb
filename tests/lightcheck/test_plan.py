"""The plan: what is held, what is asked of each tester, and where the bands lie."""

from __future__ import annotations

import pytest
from tests.rigs import brake_rig, caravan_rig, simple_rig

from loomwright.circuit import Cancelled
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Plan
from loomwright.lightcheck.plan import plan_for
from loomwright.observations.observation import Quantity
from loomwright.observations.word import Word


def step_keys(plan: Plan) -> list[str]:
    return [step.key for step in plan.steps]


def test_the_commands_of_a_rig_with_brakes() -> None:
    keys = step_keys(plan_for(brake_rig(), "trailer+meter+clamp"))

    for command in ("rest", "park", "left", "right", "brake_pedal", "hazard", "brake_lever"):
        assert command in keys
    assert "park+left" in keys
    assert "park+brake_pedal" in keys
    assert "all" not in keys


def test_a_flashing_function_flashes_and_the_other_side_is_dark() -> None:
    plan = plan_for(simple_rig(), "trailer")
    left = next(step for step in plan.steps if step.key == "left")
    words = {each.place.name: each.words for each in left.expectations}

    assert words["left rear left stop turn"][0] is Word.FLASHING
    assert words["right rear right stop turn"] == (Word.OFF,)


def test_the_same_seed_gives_the_same_plan() -> None:
    one, two = (plan_for(simple_rig(), "meter", seed=7) for _ in range(2))

    assert one == two
    keys = [each.key for step in one.steps for each in step.expectations]
    assert len(keys) == len(set(keys))


def test_progress_is_told_and_a_stop_is_heard() -> None:
    told: list[tuple[int, int]] = []
    plan_for(simple_rig(), "meter", progress=lambda done, total: told.append((done, total)))

    assert told[-1][0] == told[-1][1]
    assert told == sorted(told)
    with pytest.raises(Cancelled):
        plan_for(simple_rig(), "meter", cancelled=lambda: True)


@pytest.mark.parametrize("tester", ["", "nose", "meter+nose"])
def test_an_unknown_tester_is_refused_with_those_there_are(tester: str) -> None:
    with pytest.raises(ExceptionGroup) as caught:
        plan_for(simple_rig(), tester)
    (problem,) = caught.value.exceptions
    assert isinstance(problem, InvalidInput)
    assert "test-lamp" in problem.fix


def test_at_rest_only_what_must_be_live_is_live() -> None:
    """Contact 9 is live with the engine off, contact 10 is not (ISO 11446-1, contact 9 and 10)."""
    rest = plan_for(caravan_rig(), "meter").steps[0]
    volts = {
        each.place.pin: each
        for each in rest.expectations
        if each.quantity is Quantity.VOLTS and not each.plugged
    }

    assert rest.key == "rest"
    assert not volts["9"].is_dark
    assert volts["10"].is_dark
