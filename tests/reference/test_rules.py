"""Lamp and wiring rules against the law they are taken from."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.reference.connectors import connector_keys
from loomwright.reference.rules import (
    TESTS,
    Requirement,
    Rule,
    Span,
    jurisdictions,
    rule,
    rules,
    rules_for,
)
from loomwright.reference.trailer_facts import TrailerFacts

INCH_MM = 25.4
FOOT_MM = 304.8
POUND_KG = 0.45359237


def only(key: str) -> Requirement:
    (requirement,) = rule(key).requirements
    return requirement


@pytest.mark.parametrize(
    ("key", "kind", "low_in", "high_in"),
    [
        ("us-108-tail", "tail_lamp", 15, 72),
        ("us-108-stop", "stop_lamp", 15, 72),
        ("us-108-turn", "turn_signal_rear", 15, 83),
        ("us-108-side-front", "side_marker_front", 15, None),
        ("us-108-side-rear-wide", "side_marker_rear", 15, 60),
        ("us-108-reflex-rear", "reflex_rear", 15, 60),
    ],
)
def test_mounting_heights_of_fmvss_108(
    key: str, kind: str, low_in: float, high_in: float | None
) -> None:
    """Heights in inches as printed.

    Source: 49 CFR 571.108, Table I-b (the reflector heights from memory).
    """
    lamp = only(key)

    assert lamp.kind == kind
    assert lamp.min_count == 2
    assert lamp.height_mm is not None
    assert lamp.height_mm.from_mm == pytest.approx(low_in * INCH_MM)
    assert lamp.height_mm.to_mm == (None if high_in is None else pytest.approx(high_in * INCH_MM))


def test_three_identification_lamps_six_to_twelve_inches_apart() -> None:
    """Source: 49 CFR 571.108, Table I-b."""
    lamps = only("us-108-id-rear")

    assert (lamps.min_count, lamps.max_count) == (3, 3)
    assert lamps.colours == ("red",)
    assert lamps.spacing_mm == Span(152.4, 304.8), "6 and 12 inches"


@pytest.mark.parametrize("key", ["us-108-clear-rear", "us-108-clear-front", "us-108-id-rear"])
def test_clearance_lamps_from_eighty_inches(key: str) -> None:
    """Source: 49 CFR 571.108, Table I-b: 80 inches or more overall width."""
    assert rule(key).applies(TrailerFacts(width_mm=80 * INCH_MM)) is True
    assert rule(key).applies(TrailerFacts(width_mm=79.9 * INCH_MM)) is False
    assert rule(key).applies(TrailerFacts()) is None
    assert rule(key).unknown(TrailerFacts()) == ("width_mm",)


def test_intermediate_side_markers_from_thirty_feet() -> None:
    """Source: 49 CFR 571.108, Table I-b: 30 feet or more overall length."""
    assert rule("us-108-side-mid").applies(TrailerFacts(length_mm=30 * FOOT_MM)) is True
    assert rule("us-108-side-mid").applies(TrailerFacts(length_mm=29.9 * FOOT_MM)) is False


def test_brakes_on_all_wheels_above_three_thousand_pounds() -> None:
    """Source: 49 CFR 393.42(a) and (b); commercial vehicles only."""
    above = TrailerFacts(gross_mass_kg=3001 * POUND_KG, commercial=True)
    below = TrailerFacts(gross_mass_kg=2999 * POUND_KG, commercial=True)
    private = TrailerFacts(gross_mass_kg=3001 * POUND_KG, commercial=False)

    assert rule("cmv-393-42-all-wheels").applies(above) is True
    assert rule("cmv-393-42-all-wheels").applies(below) is False
    assert rule("cmv-393-42-all-wheels").applies(private) is False


def test_breakaway_holds_fifteen_minutes() -> None:
    """Source: 49 CFR 393.43(d)."""
    breakaway = only("cmv-393-43-15min")

    assert breakaway.kind == "breakaway"
    assert breakaway.more["hold_minutes"] == {"from": 15}


def test_california_wants_85_percent_of_the_lamp_voltage() -> None:
    """Source: California Code of Regulations, title 13, section 1249(c)."""
    assert only("us-ca-voltage").more["min"] == 0.85


def test_european_electric_brakes_draw_no_more_than_fifteen_amperes() -> None:
    """Source: Directive 71/320/EEC, annex XI, 1.4 and 1.5."""
    assert only("eu-ebrake-current").more["max"] == 15
    assert only("eu-ebrake-volt").more["equals_v"] == 12


def test_british_stop_lamps_four_hundred_millimetres_apart() -> None:
    """350 to 1500 mm up, 2100 mm where forced, 400 mm apart, built from 1971.

    Source: Road Vehicles Lighting Regulations 1989, schedule 12 part I.
    """
    lamps = only("gb-stop")

    assert lamps.height_mm == Span(350, 1500)
    assert lamps.height_if_forced_mm == 2100
    assert lamps.gap_between_mm == Span(400, None)
    assert rule("gb-stop").applies(TrailerFacts(built="1971-01-01")) is True
    assert rule("gb-stop-old").applies(TrailerFacts(built="1970-12-31")) is True
    assert rule("gb-stop").applies(TrailerFacts(built="1970-12-31")) is False


def test_reversing_lamps_by_category() -> None:
    """Mandatory on O2, O3 and O4, optional on O1.

    Source: UN R48 6.4, 03 series, after the memo of the Finnish transport ministry.
    """
    assert rule("un-48-reversing").applies(TrailerFacts(un_category="O2")) is True
    assert rule("un-48-reversing").applies(TrailerFacts(un_category="O1")) is False


def test_wiring_is_held_every_600_mm_in_australia() -> None:
    """Source: Vehicle Standards Bulletin 1, wiring clause, as quoted."""
    assert only("au-wire-support").more["interval_mm"] == {"to": 600}


def test_a_false_fact_outweighs_an_unknown_one() -> None:
    """Conditions are joined by 'and': one that fails settles it, whatever the others are.

    Source: three-valued logic (Kleene).
    """
    conspicuity = rule("us-108-conspicuity")

    assert conspicuity.applies(TrailerFacts(width_mm=1800)) is False
    assert conspicuity.applies(TrailerFacts(width_mm=2500)) is None
    assert (
        conspicuity.applies(
            TrailerFacts(width_mm=2500, gross_mass_kg=6000, trailer_kind="box", built="2020-01-01")
        )
        is True
    )


def test_rules_for_one_unit_leave_out_those_for_the_other() -> None:
    trailer, vehicle = TrailerFacts(unit="trailer"), TrailerFacts(unit="tow_vehicle")

    assert rule("us-108-flasher-load").applies(vehicle) is True
    assert rule("us-108-flasher-load").applies(trailer) is False
    assert rule("us-108-turn").applies(vehicle) is False
    assert rule("us-108-flasher-load").applies(TrailerFacts()) is True


def test_the_rules_of_a_state_hold_the_federal_ones() -> None:
    texts = {one.key for one in rules_for("us-ca")}

    assert {one.key for one in rules_for("US")} < texts
    assert "us-ca-voltage" in texts
    assert "us-wa-15min" not in texts
    with pytest.raises(InvalidInput, match="US-CA"):
        rules_for("US-C")
    with pytest.raises(InvalidInput, match="us-108-tail"):
        rule("us-108-tails")


def test_there_are_as_many_rules_as_were_gathered() -> None:
    """One hundred and forty rules were gathered."""
    assert len(rules()) == 140


@pytest.mark.parametrize("one", rules(), ids=lambda one: one.key)
def test_each_rule_is_well_formed(one: Rule) -> None:
    known = TrailerFacts.__dataclass_fields__

    assert one.row.jurisdiction in {place.key for place in jurisdictions()}
    assert one.applies(TrailerFacts()) in (True, False, None)
    assert set(one.unknown(TrailerFacts())) <= set(known)
    for condition in one.conditions:
        assert condition.fact in known
        assert condition.test in TESTS
        if condition.fact == "connector":
            assert isinstance(condition.limit, tuple)
            assert set(condition.limit) <= set(connector_keys())
    for requirement in one.requirements:
        for span in (requirement.height_mm, requirement.edge_mm, requirement.spacing_mm):
            if span is not None and span.from_mm is not None and span.to_mm is not None:
                assert 0 < span.from_mm < span.to_mm < 3000
        if requirement.max_count is not None:
            assert requirement.min_count is not None
            assert requirement.min_count <= requirement.max_count


def test_facts_that_cannot_be_used_say_so() -> None:
    with pytest.raises(InvalidInput, match=r"trailer\.width_mm"):
        TrailerFacts(width_mm=float("nan"))
    with pytest.raises(InvalidInput, match=r"2024-05-31"):
        TrailerFacts(built="May 2020")
    assert not Span(381, 1828.8).holds(380)
    assert Span(381, None).holds(5000)
