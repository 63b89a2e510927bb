"""TRAP01: grave traps are findings to mend, the others notes."""

from tests.checks.builders import found, only, paired
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.trap_met import RULE
from loomwright.hookup.model import Hookup, TrapFound


def met(key: str, *, grave: bool) -> Hookup:
    trap = TrapFound(
        key, "A trap", "trailer plug", "It bites.", "Measure it.", grave, "trade-5-flat"
    )
    return Hookup((), (), (trap,))


def test_severity_follows_the_trap() -> None:
    rig = simple_rig()

    assert only(RULE, paired(rig, met("fifth-wire", grave=True))).severity is Severity.DANGER
    assert only(RULE, paired(rig, met("two-whites", grave=True))).severity is Severity.MUST
    assert only(RULE, paired(rig, met("two-whites", grave=False))).severity is Severity.NOTE


def test_a_trap_that_lies_beside_nearly_every_job_is_not_told() -> None:
    assert not found(RULE, paired(simple_rig(), met("mirror", grave=False)))


def test_a_grave_trap_with_a_rule_of_its_own_is_told_there() -> None:
    assert not found(RULE, paired(simple_rig(), met("unfused-supply", grave=True)))
