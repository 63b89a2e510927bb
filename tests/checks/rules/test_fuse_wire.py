"""FUSE02: a fuse at most the ampacity of its wire, up to 150 % where needed. ABYC E-11.

33 CFR 183.425 Table 5: 16 AWG at 80 °C carries 20 A; four to six in a bundle keep 60 %, 12 A.
"""

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
from loomwright.checks.rules.fuse_wire import RULE


def protected(
    rating_a: float, ampacity_a: float = 12.0, ref: str = "trailer.run.tail", station: str = "run"
) -> Work:
    of_fuse = part("fuse", element="tail_fuse", station="fuse")
    of_wire = wire_part("16", ref=ref, station=station)
    ladder = (rung(of_fuse, 0.02), rung(of_wire, 0.2))
    lamp = load("left rear", "tail", 13.0, ladder=ladder)
    case = case_of(
        "park",
        loads=[lamp],
        fuses=[fuse(rating_a, 2.0)],
        conductors=[wire(of_wire, 2.0, ampacity_a)],
    )
    return read(simple_rig(), case)


@pytest.mark.parametrize(
    ("rating_a", "severity"),
    [(20.0, Severity.SHOULD), (40.0, Severity.SHOULD)],
)
def test_severity_follows_the_excess(rating_a: float, severity: Severity) -> None:
    assert only(RULE, protected(rating_a)).severity is severity


def test_a_fuse_over_twice_the_wire_alone_in_air_must_be_changed() -> None:
    """2 x 20 A = 40 A."""
    assert only(RULE, protected(50.0)).severity is Severity.MUST


def test_up_to_150_percent_passes_and_the_fix_names_a_fuse_within_ampacity() -> None:
    """18 A are 150 % of 12 A."""
    assert not found(RULE, protected(15.0))
    assert not found(RULE, protected(18.0))
    assert "10" in only(RULE, protected(20.0)).fix


def test_a_branch_to_one_load_is_left_to_the_short_circuit_rule() -> None:
    assert not found(RULE, protected(30.0, station="branch"))


def test_wires_behind_a_powered_converter_are_not_counted_to_its_fuse() -> None:
    assert not found(RULE, protected(30.0, ref="converter.channel.tail"))
