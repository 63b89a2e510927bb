"""CONV02: separate signals on a combined trailer need a converter.

SAE J1239 gives one wire to stop and turn, ISO 1724 a wire to each.
"""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import van_rig

from loomwright.checks.rules.converter_needed import RULE


def test_a_van_without_its_converter_needs_one() -> None:
    rig = van_rig()
    socket = replace(rig.sockets[0], joins_from="vehicle")
    bare = replace(rig, converter=None, sockets=(socket,))

    assert "combine converter" in only(RULE, unsolved(bare)).fix
    assert not found(RULE, unsolved(rig))
