"""WIRE02: 16 AWG is the least for a single wire. Source: 33 CFR 183.425."""

from dataclasses import replace

import pytest
from tests.checks.builders import found, only, unsolved
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.wire_thin import RULE
from loomwright.quantities import WireSize


def run_of(size: WireSize) -> Work:
    rig = simple_rig()
    run = {**rig.trailer.run, "tail": size}
    return unsolved(replace(rig, trailer=replace(rig.trailer, run=run)))


@pytest.mark.parametrize(
    "size", [WireSize("awg", "16"), WireSize("sae", "16"), WireSize("mm2", "1")]
)
def test_what_is_sold_as_16_gauge_passes(size: WireSize) -> None:
    assert not found(RULE, unsolved(simple_rig()))
    assert not found(RULE, run_of(size))


def test_18_gauge_is_noted_and_thinner_should_be_changed() -> None:
    assert only(RULE, run_of(WireSize("awg", "18"))).severity is Severity.NOTE
    assert only(RULE, run_of(WireSize("awg", "22"))).severity is Severity.SHOULD
