"""LAMP02: half the light is dim. A working assumption; light goes with V^3.4 (IES Handbook)."""

from tests.checks.builders import case_of, found, load, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.lamp_light import RULE


def with_light(share: float, voltage_v: float = 12.0) -> Work:
    lamp = load("left rear", "left_stop_turn", voltage_v, light_share=share)
    return read(simple_rig(), case_of("left", loads=[lamp]))


def test_a_lamp_with_good_voltage_and_little_light_is_found() -> None:
    assert found(RULE, with_light(0.49))
    assert not found(RULE, with_light(0.51))


def test_a_lamp_with_too_little_voltage_is_left_to_lamp01() -> None:
    assert not found(RULE, with_light(0.3, voltage_v=10.0))
