"""LAWS03: reflectors of 49 CFR 571.108 Table I-b; conspicuity marking from 80 in and 10,000 lb."""

from dataclasses import replace

from tests.checks.builders import only, unsolved
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.reflectors import RULE


def test_the_reminder_lists_what_this_trailer_needs() -> None:
    finding = only(RULE, unsolved(simple_rig()))

    assert finding.severity is Severity.NOTE
    assert "2 rear reflectors" in finding.says
    assert "marking" not in finding.says


def test_a_wide_heavy_trailer_needs_marking_as_well() -> None:
    rig = simple_rig()
    heavy = replace(
        rig.trailer, width_m=2.5, gross_mass_kg=5000.0, built="2015-01-01", kind="flatbed"
    )

    assert "marking" in only(RULE, unsolved(replace(rig, trailer=heavy))).says
