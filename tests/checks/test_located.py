"""Where on the circuit a finding is."""

import pytest
from tests.solved_examples import EXAMPLES, findings_of, work_of

from loomwright.checks.collect import check
from loomwright.checks.located import Location, locate
from loomwright.checks.rule import Finding
from loomwright.electrics.answers import STATIONS
from loomwright.electrics.wiring import wire_up


def located(name: str, rule: str) -> Location:
    work = work_of(name)
    finding = next(each for each in findings_of(name) if each.rule == rule)
    return locate(finding, wire_up(work.rig).parts)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_finding_keeps_its_station_and_names_a_part_there_is(name: str) -> None:
    parts = wire_up(work_of(name).rig).parts
    for finding in findings_of(name):
        place = locate(finding, parts)
        assert place.station in STATIONS
        assert not place.element or place.element in parts
        if place.is_whole_station:
            assert place.station == finding.station


def test_a_part_named_outright_is_found_with_its_circuit() -> None:
    place = located("second-socket-flatbed", "FUSE02")

    assert place == Location("fuse", "tail", "feed_tail_fuse")


def test_a_lamp_is_found_by_the_circuit_that_is_weak() -> None:
    assert located("utility-rewire", "LAMP01").element.endswith("rear_tail")


def test_a_bare_feed_is_found_at_its_wire() -> None:
    assert located("boat-surge-brakes", "FUSE04").element == "feed_battery_wire"


def test_a_whole_station_is_no_single_circuit() -> None:
    place = located("utility-rewire", "JOIN01")

    assert place.is_whole_station or place.station == "branch"


def test_what_is_not_on_the_circuit_names_no_part() -> None:
    finding = next(each for each in check(work_of("utility-rewire")) if each.rule == "LAWS03")
    bare = Finding(
        finding.rule,
        finding.severity,
        "trailer, outside",
        "nothing",
        "nothing",
        "nothing",
        "trade",
        station="load",
    )

    assert locate(bare, wire_up(work_of("utility-rewire").rig).parts).element == ""
