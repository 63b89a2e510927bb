"""VOLT01: 12 V and 24 V trailers share bodies of plugs (SAE J560, ISO 1185)."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import simple_rig, supply, van_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.voltages_differ import RULE
from loomwright.rig.model import ConverterKind, Rig


def on_24_v(rig: Rig) -> Rig:
    heavy = supply(
        nominal_v=24.0, resting_v=25.3, running_v=28.0, idle_v=26.4, low_v=27.0, high_v=28.8
    )
    return replace(rig, vehicle=replace(rig.vehicle, supply=heavy))


def test_a_12_v_trailer_on_a_24_v_truck_is_a_danger() -> None:
    assert only(RULE, unsolved(on_24_v(simple_rig()))).severity is Severity.DANGER


def test_a_step_down_converter_mends_what_it_carries() -> None:
    rig = on_24_v(van_rig(ConverterKind.STEP_DOWN))

    assert not [f for f in found(RULE, unsolved(rig)) if "no step-down" in f.says]


def test_a_24_v_trailer_on_a_12_v_plug_must_be_changed() -> None:
    rig = on_24_v(simple_rig())
    trailer = replace(rig.trailer, nominal_v=24.0)

    assert only(RULE, unsolved(replace(rig, trailer=trailer))).where == "trailer plug"


def test_equal_voltages_pass() -> None:
    assert not found(RULE, unsolved(simple_rig()))
