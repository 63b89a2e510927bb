"""FUSE03: blade fuses open within 5 s at twice their rating, within 600 s at 1.35 times.

Source: ISO 8820-3 bands as printed by fuse sheets. Heat: k²S² with k = 108 for PVC from 80 to
160 °C by 226 sqrt(ln((234.5 + 160) / (234.5 + 80))) (IEC 60949).
"""

import math

import pytest
from tests.checks.builders import (
    case_of,
    found,
    fuse,
    load,
    only,
    part,
    read,
    rung,
    wire,
    wire_part,
)
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.fuse_short import RULE


def shorted(loop_ohm: float, rating_a: float, size: str = "16", ampacity_a: float = 12.0) -> Work:
    """A lamp behind 14 V whose wires and contacts make up this loop."""
    of_wire = wire_part(size)
    ladder = (
        rung(part("fuse", element="tail_fuse", station="fuse"), 0.002, 1.0),
        rung(of_wire, loop_ohm - 0.002, 1.0),
    )
    lamp = load("left rear", "tail", 13.0, ladder=ladder)
    conductors = [wire(of_wire, 1.0, ampacity_a)]
    case = case_of("park", loads=[lamp], fuses=[fuse(rating_a, 1.0)], conductors=conductors)
    return read(simple_rig(), case)


def test_a_long_thin_wire_behind_a_large_fuse_is_a_danger() -> None:
    """At 60 °C copper has 1 + 0.00393 x 40 = 1.157 of its resistance (IEC 60028).

    14 V / (0.002 + 0.398 x 1.157) ohm = 30.3 A through 18 AWG, and a 30 A fuse need not open. The
    wire carries 15 A alone (33 CFR 183.425 Table 5, 80 °C): with heat by the square it comes to
    30 + 50 (30.3 / 15)² = 234 °C, and PVC stands 160 °C in a short circuit.
    """
    finding = only(RULE, shorted(0.4, 30.0, "18", 9.0))

    assert finding.severity is Severity.DANGER
    assert finding.value == pytest.approx(14 / (0.002 + 0.398 * 1.1572))
    assert "may never open" in finding.says
    assert "inf" not in finding.says


def test_a_wire_that_is_only_over_its_ampacity_passes() -> None:
    """14 V / 1.01 ohm = 13.8 A through 16 AWG: 30 + 50 (13.8 / 20)² = 54 °C, over 12 A in a bundle.

    A 15 A fuse on long lamp wire is everyday practice, and no short can overheat the wire.
    """
    assert not found(RULE, shorted(0.875, 15.0))


def test_a_fuse_that_opens_within_a_minute_hurts_wire_far_too_thin_for_it() -> None:
    """14 V / 0.347 ohm = 40.4 A, 1.62 times 25 A: open within 50 s (sheet of fuse at 160 %).

    18 AWG, 0.823 mm², has 0.021 ohm/m: 40.4² x 0.021 = 34 W/m warm 3.45 x 0.823 = 2.84 J/(m K) at
    12 K/s, and 30 K of rise by the square to 50 (40.4 / 15)² = 363 K are reached in 30 s at the
    pace of 363 / 12 s: 30 + 363 (1 - exp(-50 / 30)) = 324 °C.
    """
    assert only(RULE, shorted(0.3, 25.0, "18", 9.0)).severity is Severity.MUST


def test_the_same_minute_does_not_hurt_wire_of_the_usual_size() -> None:
    """24.3 A behind 15 A in 16 AWG that carries 20 A: at most 30 + 50 (24.3 / 20)² = 104 °C."""
    assert not found(RULE, shorted(0.499, 15.0))


def test_a_short_of_more_than_twice_the_rating_passes_where_the_wire_stands_the_heat() -> None:
    """61 A behind 15 A: 30² A² x 5 s = 4500 A²s; 16 AWG stands (108 x 1.309)² = 19,985."""
    stands_a2s = (226 * math.sqrt(math.log((234.5 + 160) / (234.5 + 80))) * 1.309) ** 2

    assert stands_a2s > 4500
    assert not found(RULE, shorted(0.2, 15.0))


def test_a_large_fuse_lets_too_much_heat_through_a_thin_wire() -> None:
    """121 A behind 30 A: 60² x 5 = 18,000 A²s.

    From 60 °C k = 226 sqrt(ln(394.5 / 294.5)) = 122: 18 AWG stands (122 x 0.823)² = 10,100.
    """
    assert only(RULE, shorted(0.1, 30.0, "18", 9.0)).severity is Severity.MUST
