"""JOIN02: a barrel takes the wires it is marked for: red 22-18, blue 16-14, yellow 12-10 AWG.

Source: crimp charts.
"""

from tests.checks.builders import found, only, paired
from tests.rigs import simple_rig

from loomwright.checks.rules.joint_barrel import RULE
from loomwright.hookup.model import End, Hookup, Pair, SpliceChoice, Standing
from loomwright.quantities import WireSize


def spliced(*, fits: bool) -> Hookup:
    left = End("feed", "brake", None, WireSize("awg", "10"), None, "frame")
    right = End("lead", "brake", None, WireSize("awg", "16"), None, "frame")
    splice = SpliceChoice("butt", "yellow", 9, "3:1", fits=fits, note="they need a step-down butt")
    pairs = tuple(
        Pair("splice", "rear 7-way", name, left, right, Standing.SAME, "", "", splice)
        for name in ("brake", "battery")
    )
    return Hookup(pairs, (), ())


def test_splices_of_the_same_sizes_are_told_together() -> None:
    finding = only(RULE, paired(simple_rig(), spliced(fits=False)))

    assert "10 AWG to 16 AWG" in finding.says
    assert "step-down" in finding.fix


def test_a_barrel_that_fits_passes() -> None:
    assert not found(RULE, paired(simple_rig(), spliced(fits=True)))
