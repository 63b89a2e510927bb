"""CONV01: an output gives its rating and no more. Ratings of the trade, common practice."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, read
from tests.rigs import simple_rig, van_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.converter_load import RULE


def tails(current_a: float) -> Work:
    lamps = [load(f"lamp {n}", "tail", 12.5, current_a=current_a / 4) for n in range(4)]
    return read(van_rig(), case_of("park", loads=lamps))


def test_lamps_of_one_output_are_added_up() -> None:
    """The van's converter gives 6 A to the tail lamps."""
    assert only(RULE, tails(6.4)).limit == 6.0
    assert not found(RULE, tails(5.6))


def test_the_whole_box_has_a_limit_where_one_is_stated() -> None:
    rig = van_rig()
    assert rig.converter is not None
    small = replace(rig, converter=replace(rig.converter, max_current_a=3.0))
    lamp = load("left rear", "tail", 12.5, current_a=4.0)

    assert "whole box" in only(RULE, read(small, case_of("park", loads=[lamp]))).where


def test_without_a_converter_there_is_nothing_to_overload() -> None:
    lamp = load("left rear", "tail", 12.5, current_a=40.0)

    assert not found(RULE, read(simple_rig(), case_of("park", loads=[lamp])))
