"""LAWS01: Table I-b of 49 CFR 571.108, and UN R48 from memory."""

import re
from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import lamp, simple_rig

from loomwright.checks.law import KINDS
from loomwright.checks.rule import Work
from loomwright.checks.rules.lamps_required import RULE
from loomwright.rig.model import Assumption

NARROW = (
    ("tail_lamp", "stop_lamp", "turn_signal_rear", "side_marker_rear"),
    ("side_marker_front",),
)
WIDE = (("clearance_front",), ("clearance_rear",))


def fitted(*kinds: tuple[str, ...], width_m: float = 1.6, place: str = "US") -> Work:
    """Two of each lamp, a plate lamp, on a 6 m trailer."""
    lamps = [
        lamp(f"{n} {side}", side, 3.0, counts_as=counts)
        for n, counts in enumerate(kinds)
        for side in ("left", "right")
    ]
    lamps.append(lamp("plate", "left", 3.0, counts_as=("plate_lamp",)))
    rig = simple_rig(jurisdiction=place)
    trailer = replace(rig.trailer, lamps=tuple(lamps), width_m=width_m, length_m=5.5)
    return unsolved(replace(rig, trailer=trailer))


def missing(work: Work) -> set[str]:
    """Kinds of lamp that the finding names."""
    said = "".join(finding.says for finding in found(RULE, work))
    return {kind for kind in KINDS.values() if re.search(rf"\b{kind}s? \(", said)}


def test_the_smallest_us_set_passes_on_a_trailer_under_80_inches() -> None:
    assert missing(fitted(*NARROW)) == set()


def test_80_inches_add_clearance_and_identification_lamps() -> None:
    """2032 mm are 80 in."""
    wanted = {"front clearance lamp", "rear clearance lamp", "rear identification lamp"}

    assert missing(fitted(*NARROW, width_m=2.032)) == wanted
    assert missing(fitted(*NARROW, *WIDE, width_m=2.032)) == {"rear identification lamp"}


def test_a_bar_counts_for_the_lamps_it_holds() -> None:
    work = fitted(*NARROW, *WIDE, width_m=2.5)
    bar = lamp("bar", "centre", 5.0, counts_as=("identification_rear",) * 3)
    lamps = (*work.rig.trailer.lamps, bar)

    whole = replace(work.rig, trailer=replace(work.rig.trailer, lamps=lamps))

    assert missing(unsolved(whole)) == set()


def test_europe_asks_for_a_rear_fog_lamp_and_no_side_markers_on_short_trailers() -> None:
    assert "rear fog lamp" in missing(fitted(*NARROW, place="EU"))
    assert "front side marker" not in missing(fitted(NARROW[0], place="EU"))


def test_all_missing_kinds_are_told_together_with_their_number() -> None:
    """One housing less: a tail, a stop and a turn lamp and a side marker of the two asked for."""
    work = fitted(*NARROW)
    one_less = replace(work.rig.trailer, lamps=work.rig.trailer.lamps[1:])

    finding = only(RULE, unsolved(replace(work.rig, trailer=one_less)))

    assert (finding.value, finding.limit) == (None, None)
    assert "1 red tail lamp more (49 CFR 571.108" in finding.says


def test_a_width_that_was_only_assumed_asks_for_nothing() -> None:
    work = fitted(*NARROW, width_m=2.5)
    assumed = Assumption("trailer.width", "98 in", "usual", "assumption", "memory")

    assert missing(work)
    assert not found(RULE, unsolved(replace(work.rig, assumptions=(assumed,))))
