"""LAMP03: 0.3 V between left and right. From memory of the workshop."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, read, solved
from tests.rigs import awg, simple_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.lamp_sides import RULE


def sides(left_v: float, right_v: float) -> Work:
    return read(
        simple_rig(),
        case_of("left", loads=[load("left rear", "left_stop_turn", left_v)]),
        case_of("right", loads=[load("right rear", "right_stop_turn", right_v)]),
    )


def test_each_side_is_read_under_its_own_signal() -> None:
    assert found(RULE, sides(12.0, 12.31))
    assert not found(RULE, sides(12.0, 12.29))


def test_a_long_thin_branch_to_one_side_fails_where_equal_ones_pass() -> None:
    rig = simple_rig()
    left, *others = rig.trailer.lamps
    longer = replace(rig.trailer, lamps=(replace(left, branch=awg("22", 6.0)), *others))

    assert found(RULE, solved(replace(rig, trailer=longer)))
    assert not found(RULE, solved(rig))
