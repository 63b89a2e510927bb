"""VINS01: the check digit of 49 CFR 565.15(c).

1M8GDM9AXKP042788 is the worked example of the regulation's literature, with check digit X.
"""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.vin_digit import RULE


def with_vin(vin: str) -> Work:
    rig = simple_rig()
    return unsolved(replace(rig, vehicle=replace(rig.vehicle, vin=vin)))


def test_a_right_number_passes_and_a_wrong_one_is_noted() -> None:
    assert not found(RULE, with_vin("1M8GDM9AXKP042788"))
    assert only(RULE, with_vin("1M8GDM9A1KP042788")).severity is Severity.NOTE


def test_no_number_is_no_finding() -> None:
    assert not found(RULE, with_vin(""))
