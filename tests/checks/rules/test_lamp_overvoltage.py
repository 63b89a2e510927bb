"""LAMP05: 13.5 V and 3 % are 13.905 V. Source: UN Regulation 48, from memory."""

from tests.checks.builders import case_of, found, load, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.lamp_overvoltage import RULE


def at(voltage_v: float) -> Work:
    lamp = load("left rear", "left_stop_turn", voltage_v)
    return read(simple_rig(), case_of("left", loads=[lamp]))


def test_over_the_ceiling_is_noted() -> None:
    assert found(RULE, at(13.95))
    assert not found(RULE, at(13.85))
