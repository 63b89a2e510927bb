"""JOIN03: 0.1 V across a high-current connection (SAE maxima, as quoted); 2 W is an assumption."""

import pytest
from tests.checks.builders import case_of, found, joint, only, part, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.joint_hot import RULE


def carrying(current_a: float, milliohm: float, command: str = "park") -> Work:
    made = part("contact", station="plug", joint_kind="socket-contact")
    contact = joint(made, milliohm / 1000, current_a)
    return read(simple_rig(), case_of(command, joints=[contact]))


@pytest.mark.parametrize(
    ("current_a", "milliohm", "severity"),
    [
        (15.0, 20.0, Severity.MUST),  # 0.3 V, 4.5 W
        (6.0, 20.0, Severity.SHOULD),  # 0.12 V, 0.7 W
        (2.0, 120.0, Severity.SHOULD),  # 0.24 V, 0.5 W
    ],
)
def test_heat_is_graver_than_drop(current_a: float, milliohm: float, severity: Severity) -> None:
    assert only(RULE, carrying(current_a, milliohm)).severity is severity


def test_a_good_contact_passes_and_small_wires_may_drop_more() -> None:
    assert not found(RULE, carrying(15.0, 2.0))
    assert not found(RULE, carrying(2.0, 80.0))


def test_seconds_of_braking_are_less_grave_than_hours() -> None:
    assert only(RULE, carrying(15.0, 20.0, "brake_pedal")).severity is Severity.SHOULD


def test_a_contact_as_good_as_new_is_told_for_lasting_heat_alone() -> None:
    """40 A in 2 milliohm make 3.2 W: too much current, and nothing to clean."""
    assert not found(RULE, carrying(40.0, 2.0, "brake_pedal"))
    assert "lean" not in only(RULE, carrying(40.0, 2.0)).fix


def test_all_are_told_together_the_worst_first() -> None:
    contacts = [
        joint(
            part("contact", station="plug", element=name, place=name, joint_kind="socket-contact"),
            ohm,
            15.0,
        )
        for name, ohm in (("pin 1", 0.02), ("pin 2", 0.03))
    ]
    finding = only(RULE, read(simple_rig(), case_of("park", joints=contacts)))

    assert finding.where == "pin 2"
    assert "Bad as well: pin 1" in finding.says
