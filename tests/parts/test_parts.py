"""Parts and cuts counted by hand on small rigs."""

from dataclasses import replace

import pytest
from tests.rigs import awg, brake_rig, feed, simple_rig, simple_socket, simple_trailer, van_rig

from loomwright.colours import read_colour
from loomwright.hookup import pair
from loomwright.parts import Cut, Item, PartsList, parts_list
from loomwright.quantities import Units, WireSize
from loomwright.rig.model import Feed, GroundMethod, Join, Leg, Live, Returns, Rig, Socket

FOOT_M = 0.3048


def listed(rig: Rig) -> PartsList:
    return parts_list(rig, pair(rig))


def items(rig: Rig, words: str) -> list[Item]:
    return [item for item in listed(rig).items if words in item.what]


def count(rig: Rig, words: str) -> int:
    return sum(item.count for item in items(rig, words))


def cuts(rig: Rig, function: str) -> list[Cut]:
    return [cut for cut in listed(rig).cuts if cut.function == function]


def bed_socket(**changes: object) -> Socket:
    """Eight feet of route in two legs, one drilled hole, 9 ft of lead, 6 in of slack."""
    lead = tuple(
        replace(each, wire=replace(each.wire, length_m=9 * FOOT_M))
        for each in brake_rig().sockets[0].lead
    )
    made = simple_socket(
        name="bed 7-way",
        connector="7-blade",
        join=Join.CUT,
        joins_from="rear 7-way",
        joint="sealed-butt",
        lead=lead,
        legs=(Leg("along the rail", 5 * FOOT_M), Leg("through the bed", 3 * FOOT_M, "bed", 28.0)),
        slack_m=0.5 * FOOT_M,
        ground=awg("10", 2 * FOOT_M),
    )
    return replace(made, **changes)


def bed_rig(**changes: object) -> Rig:
    base = brake_rig()
    socket = bed_socket(**changes)
    return replace(base, sockets=(base.sockets[0], socket), towing="bed 7-way")


def with_new(rig: Rig, *feeds: Feed) -> Rig:
    return replace(rig, vehicle=replace(rig.vehicle, feeds=(*rig.vehicle.feeds, *feeds)))


def test_a_rig_with_nothing_new_needs_nothing() -> None:
    aged = simple_rig(trailer=simple_trailer(condition="aged"))
    found = listed(aged)

    assert [item for item in found.items if "socket" in item.what] == []
    assert not found.cuts


def test_a_new_lead_is_cut_conductor_by_conductor() -> None:
    """Seven pins: six conductors and the ground wire, which is the way from pin 1 to its ring."""
    rig = bed_rig()

    assert len(listed(rig).cuts) == 7
    (ground,) = cuts(rig, "ground")
    assert ground.length_m == pytest.approx(2 * FOOT_M)
    assert ground.size == WireSize("awg", "10")
    (tail,) = cuts(rig, "tail")
    assert (tail.start, tail.end) == ("rear 7-way", "bed 7-way pin 3")


def test_a_lead_that_reaches_is_cut_as_described_and_a_short_one_to_its_route() -> None:
    """Route 5 ft and 3 ft and 6 in of slack: 8 ft 6 in. A 9 ft lead stays 9 ft."""
    short = tuple(
        replace(each, wire=replace(each.wire, length_m=7 * FOOT_M)) for each in bed_socket().lead
    )

    assert cuts(bed_rig(), "tail")[0].length_m == pytest.approx(9 * FOOT_M)
    assert cuts(bed_rig(lead=short), "tail")[0].length_m == pytest.approx(8.5 * FOOT_M)


def test_a_conductor_without_a_feed_ends_capped_and_is_counted() -> None:
    base = bed_rig()
    without = tuple(w for w in base.sockets[0].lead if w.function != "reverse")
    feeds = tuple(each for each in base.vehicle.feeds if each.function != "reverse")
    rig = replace(
        base,
        vehicle=replace(base.vehicle, feeds=feeds),
        sockets=(replace(base.sockets[0], lead=without), base.sockets[1]),
    )

    assert cuts(rig, "reverse")[0].start == "capped end"
    assert count(rig, "end cap") == 1


def test_splices_are_counted_by_barrel() -> None:
    """Four conductors are 14 AWG (blue), brake is 12 and battery 10 AWG (yellow).

    The ground has a ring of its own. Barrels of the trade: common practice.
    """
    rig = bed_rig()

    assert sum(item.count for item in items(rig, "crimped butt") if "blue" in item.what) == 4
    assert sum(item.count for item in items(rig, "crimped butt") if "yellow" in item.what) == 2
    assert count(rig, "ring terminal") == 1


def test_a_plug_in_branch_needs_a_harness_and_no_splices() -> None:
    rig = bed_rig(join=Join.TEE, joint="plug-in", ground_method=GroundMethod.OLD_WIRE)

    assert count(rig, "branch harness") == 1
    assert count(rig, "crimped") == 0


def test_loom_grommets_and_clips_follow_the_route() -> None:
    """Route 8 ft = 2.438 m: nine clips at 300 mm (body builders' manuals) and one at each end."""
    rig = bed_rig()

    (loom,) = items(rig, "split loom")
    assert "8\u00a0ft\u00a06\u00a0in" in loom.what
    assert count(rig, "grommet") == 1
    assert count(rig, "zinc primer") == 1
    assert count(rig, "cushioned clip") == 11


def test_a_route_without_a_hole_needs_no_grommet() -> None:
    rig = bed_rig(legs=(Leg("along the rail", 8 * FOOT_M),))

    assert count(rig, "grommet") == 0
    assert count(rig, "zinc primer") == 0


@pytest.mark.parametrize(
    ("units", "near", "loom"),
    [
        (Units.US, "within 7\u00a0in of the source", "8\u00a0ft\u00a06\u00a0in"),
        (Units.METRIC, "within 178\u00a0mm of the source", "2.59\u00a0m"),
    ],
)
def test_distances_are_told_in_the_units_of_the_rig(units: Units, near: str, loom: str) -> None:
    """7 in or 178 mm: ABYC E-11, from memory."""
    new = feed("ignition", wire=awg("12", 7.0), live=Live.ENGINE, new=True)
    rig = replace(with_new(bed_rig(), new), units=units)

    (fuse,) = items(rig, "in a sealed holder")
    assert near in fuse.purpose
    assert loom in items(rig, "split loom")[0].what


def test_a_new_feed_brings_fuse_ring_relay_and_wire() -> None:
    new = feed("ignition", wire=awg("12", 7.0), live=Live.ENGINE, new=True)
    rig = with_new(bed_rig(), new)

    assert items(rig, "in a sealed holder")[0].what.startswith("15\u00a0A blade fuse")
    assert count(rig, "ring terminal for 12 AWG") == 1
    assert items(rig, "relay")[0].what == "12\u00a0V relay with socket, 15\u00a0A or more"
    assert [(cut.start, cut.length_m) for cut in cuts(rig, "ignition")] == [("battery", 7.0)]


def test_a_new_feed_without_a_fuse_still_brings_one() -> None:
    rig = with_new(bed_rig(), feed("ignition", fuse=None, live=Live.ALWAYS, new=True))

    assert "none is described" in items(rig, "in a sealed holder")[0].what


def test_a_new_brake_wire_starts_at_the_controller() -> None:
    base = bed_rig()
    feeds = tuple(
        replace(each, new=True) if each.function == "brake" else each for each in base.vehicle.feeds
    )
    rig = replace(base, vehicle=replace(base.vehicle, feeds=feeds))

    assert "brake controller" in {cut.start for cut in cuts(rig, "brake")}
    assert count(rig, "ring terminal for") == 0


def test_a_converter_brings_itself_its_fuse_its_wires_and_its_taps() -> None:
    """Inputs left, right, stop and tail and its supply are tapped; its ground has a ring."""
    rig = van_rig()

    assert count(rig, "powered combine converter") == 1
    assert count(rig, "insulation-piercing tap") == 5
    own = [cut for cut in listed(rig).cuts if "converter" in (cut.start, cut.end)]
    assert sorted(cut.function for cut in own) == [
        "battery",
        "ground",
        "left_stop_turn",
        "right_stop_turn",
        "tail",
    ]


def test_a_trailer_wired_anew_is_cut_from_plug_to_farthest_lamp() -> None:
    """By hand: 4 cores, 4 runs, 6 branches and 4 grounds are 18 cuts.

    Runs of 3.5 m for tail, left, right and ground; a branch for each light, two rear lamps with
    two and two markers with one; a ground for each lamp.
    """
    found = listed(simple_rig())
    runs = [cut for cut in found.cuts if cut.start == "junction"]

    assert len(found.cuts) == 18
    assert {cut.function: cut.length_m for cut in runs} == {
        "tail": 3.5,
        "left_stop_turn": 3.5,
        "right_stop_turn": 3.5,
        "ground": 3.5,
    }


def test_a_trailer_wired_anew_counts_its_joints() -> None:
    """Four at the junction; six branch taps and four grounds along the run."""
    rig = simple_rig()
    at_nose = [item for item in items(rig, "crimped") if item.purpose.startswith("junction")]
    along = [item for item in items(rig, "crimped") if item.purpose.startswith("loads")]

    assert sum(item.count for item in at_nose) == 4
    assert sum(item.count for item in along) == 10


def test_a_trailer_that_returns_by_its_frame_has_screws_and_no_ground_run() -> None:
    rig = simple_rig(trailer=simple_trailer(returns=Returns.FRAME))
    runs = {cut.function for cut in listed(rig).cuts if cut.start == "junction"}

    assert "ground" not in runs
    assert count(rig, "screw into the frame") == 4


def test_clips_of_a_trailer_follow_its_frame() -> None:
    """3.5 m at 450 mm (ABYC E-11) is eight clips, and one at each end."""
    assert count(simple_rig(), "cushioned clip") == 10


def test_a_block_at_the_junction_is_one_part_with_a_way_for_each_core() -> None:
    """Four cores: a stud block takes eight rings, two to a stud; a screw block wants a box."""
    studs = simple_rig(trailer=simple_trailer(junction="stud-block"))
    screws = simple_rig(trailer=simple_trailer(junction="terminal-block"))

    assert items(studs, "stud block")[0].what.endswith(", 4 ways")
    assert count(studs, "ring terminal") == 8
    assert count(screws, "closed box with cable glands") == 1
    assert count(simple_rig(), "closed box") == 0


def test_lengths_of_one_size_and_colour_add_up() -> None:
    brown = read_colour("brown")
    one = Cut("tail", WireSize("awg", "16"), brown, "a", "b", 1.5)
    other = Cut("tail", WireSize("awg", "16"), brown, "c", "d", 2.25)
    third = Cut("tail", WireSize("awg", "14"), brown, "c", "d", 9.0)

    found = PartsList(items=(), cuts=(one, other, third))

    assert found.length_m(WireSize("awg", "16"), brown) == pytest.approx(3.75)
