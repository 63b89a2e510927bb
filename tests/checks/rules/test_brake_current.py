"""BRAK02: the EU allows 15 A. Source: Directive 71/320/EEC, annex XI."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, read
from tests.rigs import brake_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.brake_current import RULE
from loomwright.rig.model import BrakeController, Rig


def drawing(each_a: float, rig: Rig, conditions: str = "nominal") -> Work:
    loads = [
        load(brake.name, "brake", 12.0, kind="brake", current_a=each_a)
        for brake in rig.trailer.brakes
    ]
    return read(rig, case_of("brake_lever", conditions, loads=loads))


def test_four_magnets_of_3_9_a_are_over_the_european_limit_and_no_matter_in_the_us() -> None:
    """4 x 3.9 A = 15.6 A."""
    assert found(RULE, drawing(3.9, brake_rig(jurisdiction="EU")))
    assert not found(RULE, drawing(3.9, brake_rig()))
    assert not found(RULE, drawing(3.7, brake_rig(jurisdiction="EU")))


def test_a_small_controller_is_over_its_limit_in_frost() -> None:
    rig = brake_rig()
    small = BrakeController(1.0, 15.0, lever_lights_stop_lamps=True)
    rig = replace(rig, vehicle=replace(rig.vehicle, brake_controller=small))

    finding = only(RULE, drawing(4.5, rig, "heavy"))

    assert finding.value == 18.0
    assert finding.limit == 15.0
