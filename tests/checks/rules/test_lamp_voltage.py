"""LAMP01: 85 % of design voltage, engine running. Source: 13 CCR 1249(c).

A 1157 has its major filament made for 12.8 V and its minor one for 14.0 V (SAE J573), so the
least voltages are 0.85 x 12.8 = 10.88 V and 0.85 x 14.0 = 11.90 V.
"""

from dataclasses import replace

import pytest
from tests.checks.builders import case_of, found, load, only, read, rung, solved, wire_part
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.lamp_voltage import RULE
from loomwright.quantities import WireSize


def at(voltage_v: float, function: str = "left_stop_turn", conditions: str = "nominal") -> Work:
    lamp = load("left rear", function, voltage_v)
    return read(simple_rig(), case_of("left", conditions, loads=[lamp]))


@pytest.mark.parametrize(
    ("function", "voltage_v", "findings"),
    [
        ("left_stop_turn", 10.87, 1),
        ("left_stop_turn", 10.89, 0),
        ("tail", 11.89, 1),
        ("tail", 11.91, 0),
    ],
)
def test_the_least_is_85_percent_of_the_filaments_own_design_voltage(
    function: str, voltage_v: float, findings: int
) -> None:
    assert len(found(RULE, at(voltage_v, function))) == findings


def test_what_only_a_hot_day_brings_is_a_note() -> None:
    assert only(RULE, at(10.0)).severity is Severity.MUST
    assert only(RULE, at(10.0, conditions="dim")).severity is Severity.NOTE


def test_circuits_with_one_cause_are_told_together() -> None:
    """One bad ground dims both; a second cause is a second finding."""
    shared = rung(wire_part("16", path="return", function="ground", ref="trailer.run.ground"), 2.0)
    own = rung(wire_part("16", function="tail", ref="trailer.run.tail"), 3.0)
    lamps = [
        load("left rear", "left_stop_turn", 9.88, ladder=(shared,)),
        load("right rear", "right_stop_turn", 9.88, ladder=(shared,)),
        load("left rear", "tail", 9.88, ladder=(shared, own)),
    ]

    assert len(found(RULE, read(simple_rig(), case_of("hazard", loads=lamps)))) == 2


def test_the_fix_names_the_size_that_is_enough() -> None:
    """1.0 V of the 16 AWG wire must go, of 2.0 V: half the resistance, three gauges on, 12 AWG.

    Three AWG numbers double the copper (ASTM B258); sizes offered go by two, so 14 AWG, with
    1.59 times the copper, is not enough.
    """
    thin = rung(wire_part("16"), 2.0)
    lamp = load("left rear", "left_stop_turn", 9.88, ladder=(thin,))

    finding = only(RULE, read(simple_rig(), case_of("left", loads=[lamp])))

    assert "12 AWG" in finding.fix


def test_a_rig_with_thin_wire_fails_and_the_same_with_thick_wire_passes() -> None:
    rig = simple_rig()
    thin = replace(
        rig.trailer, run=dict.fromkeys(rig.trailer.run, WireSize("awg", "24")), length_m=9.0
    )

    assert found(RULE, solved(replace(rig, trailer=thin)))
    assert not [f for f in found(RULE, solved(rig)) if f.severity is Severity.MUST]
