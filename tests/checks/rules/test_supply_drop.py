"""DROP01: 10 % of 12 V is 1.2 V, 3 % is 0.36 V. Source: ABYC E-11, as quoted."""

from dataclasses import replace

import pytest
from tests.checks.builders import case_of, found, load, only, part, read, rung, wire_part
from tests.rigs import awg, simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.supply_drop import RULE
from loomwright.rig.model import Appliance


def lamp(lost_v: float, supply_v: float = 14.4) -> Work:
    ladder = (rung(wire_part("16"), lost_v),)
    voltage_v = supply_v - lost_v
    reading = load("left rear", "left_stop_turn", voltage_v, supply_drop_v=lost_v, ladder=ladder)
    return read(simple_rig(), case_of("left", loads=[reading]))


@pytest.mark.parametrize(("lost_v", "findings"), [(1.19, 0), (1.21, 1)])
def test_lamps_may_lose_a_tenth(lost_v: float, findings: int) -> None:
    assert len(found(RULE, lamp(lost_v))) == findings


def test_twice_the_budget_must_be_mended() -> None:
    assert only(RULE, lamp(2.5)).severity is Severity.MUST
    assert only(RULE, lamp(1.5)).severity is Severity.SHOULD


def test_a_lamp_under_its_least_voltage_is_left_to_lamp01() -> None:
    assert not found(RULE, lamp(3.0, supply_v=13.0))


def test_electronics_may_lose_3_percent() -> None:
    rig = simple_rig()
    box = Appliance("fridge", "tail", "constant-power", 60, 12, 1, awg("12", 1), awg("12", 1), "")
    rig = replace(rig, trailer=replace(rig.trailer, appliances=(box,)))
    reading = load("fridge", "tail", 13.0, kind="appliance", ladder=(rung(wire_part("12"), 0.4),))

    assert found(RULE, read(rig, case_of("charge", loads=[reading])))


def test_a_heater_that_gets_nearly_its_rated_voltage_passes() -> None:
    """1.5 V is over the tenth, and 95 % of 12 V are 11.4 V."""
    rig = simple_rig()
    box = Appliance("fridge", "tail", "resistance", 170, 12, 1, awg("12", 1), awg("12", 1), "")
    rig = replace(rig, trailer=replace(rig.trailer, appliances=(box,)))
    ladder = (rung(wire_part("12"), 1.5),)

    for voltage_v, findings in ((11.5, 0), (11.3, 1)):
        reading = load("fridge", "tail", voltage_v, kind="appliance", ladder=ladder)
        assert len(found(RULE, read(rig, case_of("charge", loads=[reading])))) == findings


def test_circuits_that_lose_most_in_alike_wires_at_one_place_are_told_together() -> None:
    lamps = [
        load(
            "left rear",
            function,
            12.9,
            ladder=(rung(wire_part("16", function=function, ref=f"trailer.run.{function}"), 1.5),),
        )
        for function in ("left_stop_turn", "right_stop_turn")
    ]

    assert (
        "left stop and turn and right"
        in only(RULE, read(simple_rig(), case_of("hazard", loads=lamps))).says.lower()
    )


def test_what_a_step_down_converter_takes_off_is_no_loss() -> None:
    box = rung(part("converter"), 12.0)
    reading = load("left rear", "left_stop_turn", 13.0, supply_drop_v=12.0, ladder=(box,))

    assert not found(RULE, read(simple_rig(), case_of("left", loads=[reading])))


def test_an_unlit_lamp_has_no_drop() -> None:
    reading = load("left rear", "tail", 1.0, supply_drop_v=12.0, commanded=False)

    assert not found(RULE, read(simple_rig(), case_of("left", loads=[reading])))
