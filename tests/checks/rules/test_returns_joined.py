"""RETN01: returns 3, 11 and 13 stay apart. Source: ISO 11446-1, contact allocation."""

from dataclasses import replace

import pytest
from tests.checks.builders import found, only, unsolved
from tests.rigs import caravan_rig, simple_rig

from loomwright.checks.rules.returns_joined import RULE


@pytest.mark.parametrize("group", [("3", "11"), ("3", "11", "13"), ("ground", "ground_battery")])
def test_joined_returns_are_found_by_pin_and_by_function(group: tuple[str, ...]) -> None:
    rig = caravan_rig(jurisdiction="GB")
    joined = replace(rig, trailer=replace(rig.trailer, joined_returns=(group,)))

    assert "3" in only(RULE, unsolved(joined)).says


def test_returns_apart_pass_and_one_ground_has_nothing_to_part() -> None:
    assert not found(RULE, unsolved(caravan_rig(jurisdiction="GB")))
    assert not found(RULE, unsolved(simple_rig()))
