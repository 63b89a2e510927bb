"""Brake amps against the published chart, and what a low reading says of the magnets."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.lightcheck.person import person
from tests.rigs import brake, brake_rig

from loomwright.circuit import Case
from loomwright.lightcheck.judging import judge, judge_all, observe
from loomwright.lightcheck.model import Expectation, Plan, Standing
from loomwright.lightcheck.plan import BREAKAWAY_PULLED, plan_for
from loomwright.lightcheck.setting import Setting
from loomwright.observations.observation import Quantity
from loomwright.rig.model import Breakaway, Rig

SETTING = Setting(battery_v=12.7, air_c=20.0)


def braked(magnets: int, size_in: float = 12.0) -> Rig:
    """A trailer with so many magnets, and a breakaway battery."""
    base = brake_rig()
    brakes = tuple(
        brake(f"brake {n}", 1 + n // 2, "right" if n % 2 else "left", 3.0, size_in=size_in)
        for n in range(magnets)
    )
    kit = Breakaway(5.0, "battery", 0.5)
    return replace(base, trailer=replace(base.trailer, brakes=brakes, breakaway=kit))


def amps(plan: Plan, command: str) -> Expectation:
    step = next(each for each in plan.steps if each.key == command)
    return next(each for each in step.expectations if each.quantity is Quantity.AMPS)


def pin_v(plan: Plan, command: str) -> Expectation:
    step = next(each for each in plan.steps if each.key == command)
    return next(
        each
        for each in step.expectations
        if each.quantity is Quantity.VOLTS and each.plugged and "brakes" in each.title
    )


@pytest.mark.parametrize(
    ("magnets", "size_in", "low_a", "high_a"),
    [
        (2, 10.0, 7.5, 8.2),
        (4, 10.0, 15.0, 16.3),
        (6, 12.0, 22.6, 24.5),
        (2, 7.0, 6.3, 6.8),
        (4, 7.0, 12.6, 13.7),
        (6, 7.0, 19.0, 20.6),
    ],
)
def test_amps_of_the_published_chart(
    magnets: int, size_in: float, low_a: float, high_a: float
) -> None:
    """The chart gives amps at 12 and at 13 V at the magnets, at 20 °C: a seller's help page.

    Amps per volt at the brake pin are those of the chart less what the trailer's own wires
    take; these are 12 AWG runs of some 5 m and 14 AWG branches, 2 to 9 % of the magnets' ohms.
    """
    plan = plan_for(braked(magnets, size_in), "meter+clamp", setting=SETTING)
    nominal_a, nominal_v = amps(plan, "brake_lever").nominal, pin_v(plan, "brake_lever").nominal
    assert nominal_a is not None
    assert nominal_v is not None

    per_volt = nominal_a / nominal_v
    assert 0.85 * low_a / 12.0 < per_volt < high_a / 13.0


def test_the_band_covers_what_a_magnet_may_be_off() -> None:
    """Magnets are within some 10 % of their figure, so four lie within some 6 % together."""
    each = amps(plan_for(braked(4), "clamp", setting=SETTING), "brake_lever")

    assert each.count == 4
    assert each.low is not None
    assert each.high is not None
    assert each.nominal is not None
    assert 0.85 < each.low / each.nominal < 0.97
    assert 1.03 < each.high / each.nominal < 1.15


@pytest.mark.parametrize(("magnets", "said"), [(2, "one of two"), (4, "one of four")])
def test_one_magnet_out_is_counted(magnets: int, said: str) -> None:
    """By hand: of n equal magnets, n - 1 draw (n - 1) / n of the current but for the wires."""
    rig = braked(magnets)
    plan = plan_for(rig, "meter+clamp", setting=SETTING)
    wrong = Case(resistance_ohm={"brake_brake_0_branch": math.inf})
    answers = judge_all(plan, person(rig, "meter+clamp", wrong, SETTING).says(plan))
    found = next(each for each in answers if each.expectation.key == amps(plan, "brake_lever").key)

    assert found.standing is Standing.WRONG
    assert f"{said} magnets is out" in found.says


def test_low_volts_are_not_taken_for_a_magnet() -> None:
    """A magnet is close to a resistance: low volts mean low current and weak brakes."""
    rig = braked(4)
    plan = plan_for(rig, "meter+clamp", setting=SETTING)
    wrong = Case(resistance_ohm={"lead_wire_rear_7_way_brake": 0.3})
    answers = judge_all(plan, person(rig, "meter+clamp", wrong, SETTING).says(plan))
    found = next(each for each in answers if each.expectation.key == amps(plan, "brake_lever").key)

    assert found.standing is Standing.WRONG
    assert "volts at the pin are low" in found.says


def test_no_current_is_open_ahead_of_the_split() -> None:
    each = amps(plan_for(braked(4), "clamp", setting=SETTING), "brake_pedal")

    assert "open ahead of the split" in judge(each, observe(each, 0.1)).says
    assert "more than all magnets" in judge(each, observe(each, 40.0)).says


def test_the_breakaway_draws_about_twelve_amps_with_four_magnets() -> None:
    """About 12 A with four magnets from the trailer's battery: a column on trailer electricity.

    By hand: a small battery of 12.6 V and some 0.1 ohm before four magnets of 3.2 ohm in
    parallel, 12.6 / (0.1 + 0.8) = 14 A, less the wires.
    """
    rig = braked(4)
    plan = plan_for(rig, "trailer+clamp")
    each = amps(plan, "breakaway")
    step = next(step for step in plan.steps if step.key == "breakaway")

    assert each.nominal == pytest.approx(12.0, abs=2.5)
    assert not each.plugged
    assert "chocked" in step.caution
    assert all("within a minute" in place.note for place in step.expectations)
    found = person(rig, "clamp").answer(each, BREAKAWAY_PULLED)
    assert judge(each, found).standing in (Standing.RIGHT, Standing.DOUBTFUL)
