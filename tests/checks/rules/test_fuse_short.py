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
    """14 V / 0.4 ohm = 35 A through 18 AWG, and a 30 A fuse need not open.

    The wire carries 15 A alone (33 CFR 183.425 Table 5, 80 °C): with heat by the square it comes
    to 30 + 50 (35 / 15)² = 302 °C.
    """
    finding = only(RULE, shorted(0.4, 30.0, "18", 9.0))

    assert finding.severity is Severity.DANGER
    assert finding.value == pytest.approx(35.0)
    assert "may never open" in finding.says
    assert "inf" not in finding.says


def test_a_wire_that_is_only_over_its_ampacity_should_be_mended() -> None:
    """14 V / 0.875 ohm = 16 A through 16 AWG: 30 + 50 (16 / 20)² = 62 °C, over 12 A in a bundle."""
    assert only(RULE, shorted(0.875, 15.0)).severity is Severity.SHOULD


def test_a_short_of_more_than_twice_the_rating_passes_where_the_wire_stands_the_heat() -> None:
    """70 A behind 15 A: 30² A² x 5 s = 4500 A²s; 16 AWG stands (108 x 1.309)² = 19,985."""
    stands_a2s = (226 * math.sqrt(math.log((234.5 + 160) / (234.5 + 80))) * 1.309) ** 2

    assert stands_a2s > 4500
    assert not found(RULE, shorted(0.2, 15.0))


def test_a_large_fuse_lets_too_much_heat_through_a_thin_wire() -> None:
    """140 A behind 30 A: 60² x 5 = 18,000 A²s; 18 AWG stands (108 x 0.823)² = 7900."""
    assert only(RULE, shorted(0.1, 30.0, "18", 9.0)).severity is Severity.MUST
