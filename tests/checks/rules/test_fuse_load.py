"""FUSE01: at most 75 % for hours, 80 % by the 125 % rule. Source: fuse selection guides."""

import pytest
from tests.checks.builders import case_of, found, fuse, only, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.fuse_load import RULE


def loaded(current_a: float, function: str = "tail") -> Work:
    return read(simple_rig(), case_of("park", fuses=[fuse(15.0, current_a, function)]))


@pytest.mark.parametrize(
    ("function", "current_a", "severity"),
    [
        ("tail", 12.5, Severity.SHOULD),
        ("brake", 12.5, Severity.NOTE),
        ("brake", 15.5, Severity.MUST),
    ],
)
def test_what_is_on_for_moments_may_load_its_fuse_further(
    function: str, current_a: float, severity: Severity
) -> None:
    assert only(RULE, loaded(current_a, function)).severity is severity


def test_80_percent_passes() -> None:
    assert not found(RULE, loaded(12.0))


def test_the_fix_is_the_next_rating_over_the_current_by_75_percent() -> None:
    """13 A / 0.75 = 17.3 A: a 20 A fuse (ISO 8820-3 ratings 15, 20, 25)."""
    assert "20" in only(RULE, loaded(13.0)).fix
