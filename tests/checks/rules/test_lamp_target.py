"""LAMP04: 12.5 V is the ideal. Source: TMC RP 704C, as reported."""

from tests.checks.builders import case_of, found, load, only, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.lamp_target import RULE


def at(voltage_v: float) -> Work:
    lamp = load("left rear", "left_stop_turn", voltage_v)
    return read(simple_rig(), case_of("left", loads=[lamp]))


def test_under_the_ideal_is_a_note_and_at_it_nothing() -> None:
    assert only(RULE, at(12.2)).severity is Severity.NOTE
    assert not found(RULE, at(12.5))


def test_a_lamp_that_fails_is_not_noted_as_well() -> None:
    assert not found(RULE, at(10.0))
