"""LAWS04: British rules ask when a trailer was built (RVLR 1989 Schedule 12)."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import simple_rig

from loomwright.checks.rules.facts_missing import RULE


def test_a_british_trailer_without_a_date_cannot_be_judged_whole() -> None:
    rig = simple_rig(jurisdiction="GB")
    dated = replace(rig, trailer=replace(rig.trailer, built="2010-05-01"))

    finding = only(RULE, unsolved(rig))

    assert "date it was built" in finding.fix
    assert "stop lamp" in finding.says
    assert not found(RULE, unsolved(dated))
