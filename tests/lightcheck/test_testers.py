"""What each tester can see, from the circuit with the tester as its load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from tests.lightcheck.person import person
from tests.rigs import brake_rig, caravan_rig, simple_rig

from loomwright.circuit import Case
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.comparing import judge_losses, socket_losses
from loomwright.lightcheck.judging import judge_all, observe
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing
from loomwright.lightcheck.plan import plan_for
from loomwright.lightcheck.setting import Setting
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.reference import testers as table
from loomwright.reference.testers import find_tester
from loomwright.rig.model import GroundMethod, Join, Rig, SocketFeed


def test_two_rows_of_the_table_as_the_trade_has_them() -> None:
    """A test lamp is a real 21 W bulb; a load box puts 10 A on the charge pin: common practice."""
    assert find_tester("test lamp").lamp_w == 21.0
    assert find_tester("load-box").charge_a == 10.0
    assert {each.key for each in table.testers()} == {
        "eye", "trailer", "test-lamp", "led-tester", "meter", "load-box", "clamp",
    }  # fmt: skip


def test_the_error_of_a_meter_by_hand() -> None:
    """0.5 % of 12 V and two digits of 10 mV: 0.06 + 0.02 V."""
    assert find_tester("meter").off_by(12.0, "V") == pytest.approx(0.08)


def pins(plan: Plan, command: str) -> dict[str, Expectation]:
    step = next(each for each in plan.steps if each.key == command)
    return {
        each.place.pin: each
        for each in step.expectations
        if each.place.kind is PlaceKind.PIN and not each.plugged
    }


def wrong(rig: Rig, tester: str, fault: Case) -> list[Answer]:
    plan = plan_for(rig, tester, samples=100)
    answers = judge_all(plan, person(rig, tester, fault).says(plan))
    return [each for each in answers if each.standing is Standing.WRONG]


WEAK = Case(resistance_ohm={"lead_wire_rear_4_way_tail": 3.0})


def test_only_a_load_shows_a_weak_joint() -> None:
    """3 ohm before a 21 W lamp take a third of its volts; a meter and an LED lose nothing.

    By hand: the lamp takes about 1.75 A at 12 V, so some 4 V are lost; at the LED's 20 mA, 60 mV.
    """
    assert wrong(simple_rig(), "test-lamp", WEAK)
    assert wrong(simple_rig(), "load-box", WEAK)
    assert not wrong(simple_rig(), "led-tester", WEAK)
    bare = wrong(simple_rig(), "meter", WEAK)
    assert bare
    assert all(each.expectation.plugged for each in bare)


def test_an_led_tester_wakes_no_module_and_a_lamp_does() -> None:
    rig = replace(
        simple_rig(), vehicle=replace(simple_rig().vehicle, socket_feed=SocketFeed.MODULE)
    )
    led = pins(plan_for(rig, "led-tester", samples=100), "park")["2"]
    lamp = pins(plan_for(rig, "test-lamp", samples=100), "park")["2"]

    assert led.words[0] is Word.ON
    assert {Word.OFF, Word.PULSED} <= set(led.doubtful)
    assert Word.OFF not in (*lamp.words, *lamp.doubtful)


def test_pulses_are_pulses_to_an_led_and_less_light_to_a_filament() -> None:
    """A tail feed on for 22 % of the time: rms 0.47 of the volts, a filament is dim."""
    base = simple_rig()
    feeds = tuple(
        replace(each, duty=0.22) if each.function == "tail" else each for each in base.vehicle.feeds
    )
    rig = replace(base, vehicle=replace(base.vehicle, feeds=feeds))
    led = pins(plan_for(rig, "led-tester", samples=100), "park")["2"]
    lamp = pins(plan_for(rig, "test-lamp", samples=100), "park")["2"]
    meter = pins(plan_for(rig, "meter", samples=100), "park")["2"]

    assert led.words[0] is Word.PULSED
    assert lamp.words[0] in (Word.GLOW, Word.DIM)
    assert meter.nominal == pytest.approx(0.22 * 12.6, abs=0.4)


def test_a_tester_that_loads_nothing_says_what_it_leaves_untested() -> None:
    plan = plan_for(brake_rig(), "led-tester", samples=100)

    assert any("weak joints" in each for each in plan.not_tested)
    assert any("brake amps" in each for each in plan.not_tested)
    assert any("own lamps" in each for each in plan.not_tested)


def test_a_known_battery_makes_the_bands_narrower() -> None:
    wide = pins(plan_for(simple_rig(), "meter"), "park")["2"]
    known = Setting(battery_v=12.5, air_c=20.0)
    narrow = pins(plan_for(simple_rig(), "meter", setting=known), "park")["2"]

    assert wide.low is not None and wide.high is not None  # noqa: PT018
    assert narrow.low is not None and narrow.high is not None  # noqa: PT018
    assert narrow.high - narrow.low < 0.5 * (wide.high - wide.low)


def test_the_charge_line_under_a_stated_load() -> None:
    """10 A through the feed and home: at the pin it is less than with nothing on it."""
    plan = plan_for(caravan_rig(), "meter+load-box", samples=100)
    step = next(each for each in plan.steps if each.key == "charge")
    volts = {
        each.tester: each.nominal
        for each in step.expectations
        if each.place.pin == "10" and each.quantity is Quantity.VOLTS and not each.plugged
    }
    assert volts["load-box"] is not None
    assert volts["meter"] is not None
    assert 0.1 < volts["meter"] - volts["load-box"] < 3.0


def two_sockets() -> Rig:
    """A second four-way, branched off the first."""
    base = simple_rig()
    (old,) = base.sockets
    new = replace(
        old,
        name="bed 4-way",
        join=Join.BRANCHED,
        joins_from=old.name,
        joint="sealed-butt",
        ground_method=GroundMethod.OWN_RING,
    )
    return replace(base, sockets=(old, new), towing="bed 4-way")


def readings(loss_v: float) -> Iterator[Observation]:
    for loss in socket_losses(two_sockets(), "rear 4-way", "bed 4-way", samples=100):
        for (socket, pin), volts in ((loss.old_pin, 12.0), (loss.new_pin, 12.0 - loss_v)):
            yield Observation(
                loss.command,
                Place(PlaceKind.PIN, socket, pin),
                Quantity.VOLTS,
                value=volts,
                tester="load-box",
                plugged=False,
            )


@pytest.mark.parametrize(
    ("loss_v", "standing"), [(0.05, Standing.RIGHT), (1.5, Standing.WRONG), (0.1, Standing.RIGHT)]
)
def test_an_added_socket_may_lose_a_tenth_of_a_volt_on_lamps(
    loss_v: float, standing: Standing
) -> None:
    """0.1 V on lamps and 0.3 V on brakes over the rear one: common practice."""
    losses = socket_losses(two_sockets(), "rear 4-way", "bed 4-way", samples=100)
    found = judge_losses(losses, readings(loss_v - 1e-9))

    assert len(found) == len(losses) == 3
    assert {each.standing for each in found} == {standing}
    assert all(each.usual_v == 0.1 for each in losses)


def test_the_loss_of_an_added_socket_by_hand() -> None:
    """0.6 m of 16 AWG (13.2 mohm/m) out with a butt, its own ring home: some 0.03 V at 1.7 A."""
    losses = socket_losses(two_sockets(), "rear 4-way", "bed 4-way", samples=100)

    assert all(abs(each.nominal_v) < 0.1 for each in losses)
    assert all(each.most_v < 0.3 for each in losses)


def test_both_sockets_are_named_when_one_is_not_there() -> None:
    with pytest.raises(InvalidInput) as caught:
        socket_losses(two_sockets(), "rear 4-way", "roof")
    assert "bed 4-way" in caught.value.fix
    with pytest.raises(InvalidInput):
        socket_losses(two_sockets(), "rear 4-way", "bed 4-way", "meter")


def test_an_answer_can_be_made_from_any_expectation() -> None:
    each = pins(plan_for(simple_rig(), "meter", samples=100), "park")["2"]
    assert observe(each, 12.0).value == 12.0
