"""COLR01: green is right stop and turn on one seven-way convention, tail on the other.

Source: SAE J2863 colours against those of the trade's traveller wiring.
"""

from tests.checks.builders import found, only, paired
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.colour_trap import RULE
from loomwright.colours import Colour
from loomwright.hookup.model import End, Hookup, Pair, Standing


def joined(function: str, standing: Standing, meaning: str) -> Pair:
    left = End("feed", function, Colour("green"), None, None, "rear")
    right = End("lead", function, Colour("brown"), None, None, "rear")
    meanings = (meaning,) if meaning else ()
    return Pair("splice", "rear 7-way", function, left, right, standing, "", "", meanings=meanings)


def test_traps_of_one_place_are_told_together() -> None:
    trap = "green is right stop and turn on the lead side and tail on the feed side"
    pairs = (
        joined("right_stop_turn", Standing.TRAP, trap),
        joined("tail", Standing.TRAP, "brown is tail"),
    )
    finding = only(RULE, paired(simple_rig(), Hookup(pairs, (), ())))

    assert finding.severity is Severity.SHOULD
    assert "Green is right stop and turn" in finding.says
    assert "tail lamps" in finding.says


def test_brakes_in_a_trap_are_graver() -> None:
    pairs = (joined("brake", Standing.TRAP, "blue is electric brakes here and battery there"),)

    assert only(RULE, paired(simple_rig(), Hookup(pairs, (), ()))).severity is Severity.MUST


def test_colours_that_only_differ_pass() -> None:
    pairs = (joined("tail", Standing.DIFFERENT, ""),)

    assert not found(RULE, paired(simple_rig(), Hookup(pairs, (), ())))
