"""LAWS02: US tail lamps 15 to 72 in up, 381 to 1829 mm (49 CFR 571.108 Table I-b)."""

from dataclasses import replace

import pytest
from tests.checks.builders import found, only, unsolved
from tests.rigs import lamp, simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.lamp_place import RULE


def at(height_m: float | None, place: str = "US", colour: str = "red") -> Work:
    rig = simple_rig(jurisdiction=place)
    tail = lamp("tail", "left", 3.0, counts_as=("tail_lamp",), height_m=height_m, colour=colour)
    return unsolved(replace(rig, trailer=replace(rig.trailer, lamps=(tail,))))


@pytest.mark.parametrize("height_m", [0.37, 1.84])
def test_outside_15_to_72_inches_is_found(height_m: float) -> None:
    assert only(RULE, at(height_m)).severity is Severity.MUST


def test_inside_or_unknown_passes() -> None:
    assert not found(RULE, at(0.9))
    assert not found(RULE, at(None))


def test_both_sides_and_every_kind_of_a_housing_are_told_together() -> None:
    rig = simple_rig()
    lamps = tuple(
        lamp(side, side, 3.0, counts_as=("tail_lamp", "stop_lamp"), height_m=0.3)
        for side in ("left", "right")
    )
    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, lamps=lamps))))

    assert "left and right" in finding.says
    assert "tail lamp and stop lamp" in finding.says


def test_a_body_that_forces_it_is_excused_where_the_law_says_so() -> None:
    """UN R48 6.10: 350 to 1500 mm, to 2100 mm where the body forces it. From memory."""
    assert only(RULE, at(1.9, "UN")).severity is Severity.NOTE
    assert only(RULE, at(2.2, "UN")).severity is Severity.MUST


def test_a_tail_lamp_is_red() -> None:
    assert "amber" in only(RULE, at(0.9, colour="amber")).says
