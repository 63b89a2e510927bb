"""WIRE01: ampacity of a wire in its bundle.

33 CFR 183.425 Table 5: 16 AWG with insulation for 80 °C carries 20 A, 14 AWG 25 A; seven to
twenty-four wires in a bundle keep half of it.
"""

import pytest
from tests.checks.builders import case_of, found, only, read, wire, wire_part
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.wire_load import RULE


def carrying(
    current_a: float,
    conditions: str = "nominal",
    ampacity_a: float = 20.0,
    command: str = "park",
) -> Work:
    loaded = wire(wire_part("16"), current_a, ampacity_a)
    return read(simple_rig(), case_of(command, conditions, conductors=[loaded]))


@pytest.mark.parametrize(
    ("current_a", "command", "severity"),
    [
        (25.0, "park", Severity.MUST),
        (31.0, "park", Severity.DANGER),
        (25.0, "brake_pedal", Severity.SHOULD),
        (31.0, "brake_pedal", Severity.MUST),
    ],
)
def test_severity_follows_the_excess_and_how_it_comes_about(
    current_a: float, command: str, severity: Severity
) -> None:
    assert only(RULE, carrying(current_a, command=command)).severity is severity


def test_frost_is_not_held_against_a_table_for_30_degrees() -> None:
    assert not found(RULE, carrying(31.0, "heavy"))


def test_a_fifth_more_for_moments_passes() -> None:
    assert not found(RULE, carrying(23.9, command="brake_pedal"))


def test_within_ampacity_nothing_is_found_whatever_the_direction() -> None:
    assert not found(RULE, carrying(19.9))
    assert not found(RULE, carrying(-19.9))
    assert found(RULE, carrying(-25.0))


def test_the_fix_is_the_smallest_size_that_carries_it_in_the_same_bundle() -> None:
    """11 A in a bundle that halves: 16 AWG carries 10 A, 14 AWG 12.5 A."""
    assert "14 AWG" in only(RULE, carrying(11.0, ampacity_a=10.0)).fix


def test_one_circuit_is_told_once() -> None:
    near = wire(wire_part("16", element="near"), 25.0, 20.0)
    far = wire(wire_part("16", element="far", place="far end"), 30.0, 20.0)

    finding = only(RULE, read(simple_rig(), case_of("park", conductors=[near, far])))

    assert finding.where == "far end"
    assert "1 more wire" in finding.says
