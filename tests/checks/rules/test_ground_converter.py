"""GRND02: a trailer's return through the converter's ground. Common practice."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import awg, van_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.ground_converter import RULE
from loomwright.rig.model import GroundMethod


def test_a_socket_grounded_in_the_old_wire_at_the_converter_is_found() -> None:
    rig = van_rig()
    old = replace(rig.sockets[0], ground_method=GroundMethod.OLD_WIRE, ground=awg("12", 0.5))
    finding = only(RULE, unsolved(replace(rig, sockets=(old,))))

    assert finding.severity is Severity.MUST
    assert not found(RULE, unsolved(rig))
