"""Every mend that is offered removes its finding, or brings its number nearer to the limit."""

import pytest
from tests.solved_examples import EXAMPLES, findings_of, job_of, text_of, work_of

from loomwright.changes.change import changed
from loomwright.changes.mends import MENDS, mend_for
from loomwright.checks.collect import check
from loomwright.checks.rule import Finding, Work
from loomwright.electrics.solved import answers
from loomwright.hookup.pairing import pair
from loomwright.reference.conductors import area_mm2
from loomwright.rig.model import GroundMethod, Live, Returns
from loomwright.rig.read import read_job, read_rig


def surveyed(text: str) -> Work:
    rig = read_rig(text)
    return Work(rig, pair(rig), answers(rig))


def told(finding: Finding) -> tuple[str, str, str, str]:
    """What makes two findings of two states the same: rule, place, command, circuits."""
    return finding.rule, finding.where, finding.command, finding.says.partition(":")[0]


def excess(finding: Finding) -> float:
    """How far a number is beyond its limit, whichever side that is."""
    assert finding.value is not None
    assert finding.limit is not None
    return abs(finding.value - finding.limit)


def mended(name: str, finding: Finding) -> Work:
    change = mend_for(finding, work_of(name), job_of(name))
    assert change is not None
    return surveyed(changed(text_of(name), change.edits))


def found(name: str, rule: str) -> Finding:
    return next(each for each in findings_of(name) if each.rule == rule)


@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_mend_removes_its_finding_or_lessens_it(name: str) -> None:
    offered = 0
    for finding in findings_of(name):
        change = mend_for(finding, work_of(name), job_of(name))
        if change is None:
            continue
        offered += 1
        after = check(surveyed(changed(text_of(name), change.edits)))
        same = [each for each in after if told(each) == told(finding)]
        as_grave = [each for each in same if each.severity.rank <= finding.severity.rank]
        assert all(excess(each) < excess(finding) for each in as_grave), finding.says
    assert offered > 2


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_mend_says_what_to_do_and_where_it_stands(name: str) -> None:
    for finding in findings_of(name):
        change = mend_for(finding, work_of(name), job_of(name))
        if change is not None:
            assert change.edits
            assert change.says.endswith(".")
            assert len({edit.path for edit in change.edits}) == len(change.edits)


def test_only_rules_that_there_are_have_mends() -> None:
    from loomwright.checks.collect import rules

    assert set(MENDS) <= {rule.code for rule in rules()}


def test_a_drop_on_the_way_home_by_a_bad_joint_is_mended_by_an_own_ring() -> None:
    """A ring on clean frame metal in place of an old ground is common practice."""
    after = mended("second-socket-flatbed", found("second-socket-flatbed", "DROP02"))

    assert after.rig.towing_socket.ground_method is GroundMethod.OWN_RING


def test_a_frame_return_is_mended_by_a_wire_as_thick_as_the_thickest_feed() -> None:
    before = work_of("horse-trailer-van").rig.trailer
    after = mended("horse-trailer-van", found("horse-trailer-van", "GRND04")).rig.trailer

    assert after.returns is Returns.WIRE
    fed = [size for function, size in before.run.items() if function != "ground"]
    assert area_mm2(after.run["ground"]) >= max(area_mm2(size) for size in fed)


def test_a_bare_feed_gets_a_fuse_that_its_thinnest_wire_stands() -> None:
    """ABYC E-11, 11.10: no fuse above the ampacity of the wire it protects."""
    after = mended("boat-surge-brakes", found("boat-surge-brakes", "FUSE04"))
    feed = after.rig.vehicle.feed_for("battery")

    assert feed is not None
    assert feed.fuse is not None
    wires = [
        wire
        for wire in after.answers.at("all").conductors
        if wire.part.function == "battery" and wire.part.path == "supply"
    ]
    assert feed.fuse.rating_a <= min(wire.ampacity_a for wire in wires)


def test_both_sides_are_mended_alike() -> None:
    finding = next(
        each
        for each in findings_of("second-socket-flatbed")
        if each.rule == "LAMP01" and "left stop" in each.says.lower()
    )
    trailer = mended("second-socket-flatbed", finding).rig.trailer

    assert trailer.run["left_stop_turn"] == trailer.run["right_stop_turn"]


def test_comments_and_order_of_the_job_file_are_kept() -> None:
    finding = found("utility-rewire", "JOIN01")
    change = mend_for(finding, work_of("utility-rewire"), job_of("utility-rewire"))
    assert change is not None
    before = text_of("utility-rewire").splitlines()
    after = changed(text_of("utility-rewire"), change.edits).splitlines()

    assert [line for line in after if line in before] == [line for line in before if line in after]
    assert [line for line in before if line.startswith("#")] == [
        line for line in after if line.startswith("#")
    ]


def test_what_must_be_measured_first_is_not_offered() -> None:
    """A contact or a screw is cleaned and measured; no part replaces it unseen."""
    contacts = [
        each
        for each in findings_of("caravan-thirteen-pin")
        if each.rule == "JOIN03" and each.where.startswith(("contact", "screw", "ring"))
    ]
    assert contacts
    for finding in contacts:
        job = job_of("caravan-thirteen-pin")
        assert mend_for(finding, work_of("caravan-thirteen-pin"), job) is None


def test_a_lead_that_is_too_short_is_cut_anew_with_its_slack() -> None:
    """Route and slack as the rig states them: 4 ft 2 in and 12 in; cut to the half foot."""
    name = "boat-surge-brakes"
    before = found(name, "LEAD01")
    after = mended(name, before)

    assert before.limit is not None
    lead_m = min(wire.wire.length_m for wire in after.rig.towing_socket.lead)
    assert before.limit <= lead_m <= before.limit + 0.1524  # half a foot
    assert "LEAD01" not in {each.rule for each in check(after)}


def test_a_breakaway_battery_is_mended_by_one_that_holds_for_a_quarter_of_an_hour() -> None:
    """49 CFR 393.43(d): the brakes hold for at least 15 minutes."""
    after = mended("horse-trailer-van", found("horse-trailer-van", "AWAY01"))

    assert after.rig.trailer.breakaway is not None
    assert after.rig.trailer.breakaway.capacity_ah == 9.0
    assert "AWAY01" not in {each.rule for each in check(after)}


def test_a_feed_that_drains_the_vehicle_is_mended_by_a_relay() -> None:
    """A relay closed by the running engine parts the batteries when parked: common practice."""
    after = mended("caravan-thirteen-pin", found("caravan-thirteen-pin", "CHRG02"))

    feed = after.rig.vehicle.feed_for("battery")
    assert feed is not None
    assert feed.live is Live.ENGINE
    assert "CHRG02" not in {each.rule for each in check(after)}


def test_a_charger_is_offered_only_where_the_line_carries_it() -> None:
    """By hand: 15 A from 14.1 V through the 0.37 ohm of the example leave 8.5 V; it stops at 12 V.

    With thick wire, new contacts and a ground wire of its own, less than 0.1 ohm is left: 12.6 V.
    """
    name = "horse-trailer-van"
    text = text_of(name)
    assert mend_for(found(name, "CHRG01"), work_of(name), job_of(name)) is None

    thick = text.replace('condition = "aged"', 'condition = "new"')
    thick = thick.replace('returns = "frame"', 'returns = "wire"')
    for wire in ('"16 AWG"', '"14 AWG"', '"12 AWG"', '"10 AWG"'):
        thick = thick.replace(wire, '"4 AWG"')
    thick = thick.replace("[vehicle.supply]\n", "[vehicle.supply]\nmanaged = true\n")
    work = surveyed(thick)
    reading = work.answers.at("charge").load(work.rig.trailer.battery.name)
    finding = next((each for each in check(work) if each.rule == "CHRG01"), None)
    way_ohm = (reading.supply_drop_v + reading.return_drop_v) / reading.current_a

    assert way_ohm < 0.14
    assert finding is not None
    change = mend_for(finding, work, read_job(thick))
    assert change is not None
    after = surveyed(changed(thick, change.edits))
    assert after.rig.trailer.battery.charger_max_input_a == 15.0
    drawn = after.answers.at("charge").load(reading.name)
    assert drawn.voltage_v * drawn.current_a == pytest.approx(180.0, rel=1e-3)
    assert drawn.voltage_v > 12.0


def test_colours_that_mislead_at_the_plug_are_mended_by_another_cord() -> None:
    """Green is right stop and turn by the one convention, tail by the other.

    Source: both conventions of the seven-way blade as vendors print them (trade-7-blade).
    """
    after = mended("horse-trailer-van", found("horse-trailer-van", "COLR01"))

    cord = {wire.function: wire.wire.colour for wire in after.rig.trailer.cord}
    assert cord["right_stop_turn"].base == "green"
    assert cord["tail"].base == "brown"
    assert "COLR01" not in {each.rule for each in check(after)}


@pytest.mark.parametrize("name", ["caravan-thirteen-pin", "second-socket-flatbed"])
def test_no_cord_or_lead_is_offered_where_each_would_mislead(name: str) -> None:
    """A vehicle's loom is no cord, and old looms keep their colours whatever the lead has."""
    assert mend_for(found(name, "COLR01"), work_of(name), job_of(name)) is None


def test_returns_tied_together_are_mended_by_taking_them_apart() -> None:
    """ISO 11446-1 keeps pins 3, 11 and 13 apart on the trailer's side."""
    after = mended("caravan-thirteen-pin", found("caravan-thirteen-pin", "RETN01"))

    assert after.rig.trailer.joined_returns == ()
    assert "RETN01" not in {each.rule for each in check(after)}
