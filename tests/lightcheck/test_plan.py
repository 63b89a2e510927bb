"""The plan: what is held, what is asked of each tester, and where the bands lie."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.rigs import brake_rig, caravan_rig, simple_rig

from loomwright.circuit import Cancelled
from loomwright.electrics.commands import COMMANDS
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Plan
from loomwright.lightcheck.plan import plan_for
from loomwright.lightcheck.setting import Setting
from loomwright.observations.observation import Quantity
from loomwright.observations.word import Word
from loomwright.rig.model import Live


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


def test_what_needs_the_engine_is_dead_until_it_runs() -> None:
    """Contact 10 of 13: with the engine running only; contact 9 at all times (ISO 11446-1)."""
    base = caravan_rig()
    feeds = tuple(
        replace(each, live=Live.ENGINE) if each.function == "ignition" else each
        for each in base.vehicle.feeds
    )
    plan = plan_for(replace(base, vehicle=replace(base.vehicle, feeds=feeds)), "meter", samples=100)

    def dark(command: str, pin: str) -> bool:
        step = next(each for each in plan.steps if each.key == command)
        bare = (each for each in step.expectations if not each.plugged)
        return next(each for each in bare if each.place.pin == pin).is_dark

    assert dark("park", "10")
    assert not dark("charge", "10")
    assert not dark("park", "9")


def test_in_reverse_the_engine_never_runs() -> None:
    running = Setting("running")
    plan = plan_for(caravan_rig(), "trailer", setting=running, samples=100)
    reverse = next(each for each in plan.steps if each.key == "reverse")

    assert "Engine off" in reverse.hold
    assert not any(running.runs(c) for c in COMMANDS if c.key in ("rest", "reverse"))
    assert any(running.runs(c) for c in COMMANDS if c.key == "park")
