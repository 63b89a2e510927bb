"""Fuses against data sheets, the standard's windows, and service charts."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.colours import read_colour
from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.conductors import withstand_a2s
from loomwright.reference.fuses import (
    CONTINUOUS_SHARE,
    CONTINUOUS_SHARE_MOST,
    HOT_FACTOR,
    FuseResistance,
    breakers,
    cold_resistance,
    cold_resistance_ohm,
    colour,
    fuse_kind,
    fuse_kinds,
    melting_a2s,
    melting_i2t,
    next_rating_a,
    opening_band,
    ratings,
    resistance_ohm,
    temperature_factor,
)
from loomwright.tables import read_rows

BANDED = ("medium", "miniature", "high-current", "supplementary")


def test_service_charts_turn_millivolts_into_amperes() -> None:
    """1 mV on a 10 A medium fuse: 130 mA; on a 15 A miniature fuse: 218 mA. Two charts."""
    assert 0.001 / cold_resistance_ohm("medium", 10) == pytest.approx(0.130, abs=0.001)
    assert 0.001 / cold_resistance_ohm("miniature", 15) == pytest.approx(0.218, abs=0.001)


@pytest.mark.parametrize(
    ("kind", "rating_a", "drop_mv"),
    [("medium", 20, 98), ("medium", 40, 96), ("high-current", 40, 75)],
)
def test_hot_resistance_from_the_printed_drops(kind: str, rating_a: float, drop_mv: float) -> None:
    """Drop at rated current, data sheets: 1.34 to 1.67 times the cold resistance."""
    hot_ohm = drop_mv / 1000 / rating_a

    assert 1.3 < hot_ohm / cold_resistance_ohm(kind, rating_a) < 1.7
    assert resistance_ohm(kind, rating_a, 1.0) == pytest.approx(hot_ohm, rel=0.13)
    assert resistance_ohm(kind, rating_a) == cold_resistance_ohm(kind, rating_a)
    assert 1.34 < HOT_FACTOR < 1.67


def test_printed_resistances() -> None:
    """Medium 20 A: 3.38 milliohm; high-current 30 A: 1.9 milliohm. Data sheets, typed again."""
    assert cold_resistance_ohm("medium", 20) == pytest.approx(0.00338)
    assert cold_resistance_ohm("high-current", 30) == pytest.approx(0.0019)


def test_a_rating_without_a_row_is_interpolated_and_says_so() -> None:
    between = cold_resistance("miniature", 3)

    assert between.interpolated
    assert cold_resistance_ohm("miniature", 5) < between.value < cold_resistance_ohm("miniature", 2)
    assert not cold_resistance("miniature", 5).interpolated
    assert cold_resistance("high-current", 100).value < cold_resistance_ohm("high-current", 80)


def test_larger_fuses_have_less_resistance() -> None:
    for kind in fuse_kinds():
        ohms = [cold_resistance_ohm(kind.key, rating) for rating in ratings(kind.key)]
        assert ohms == sorted(ohms, reverse=True)


def test_every_row_of_resistance_has_about_the_same_drop() -> None:
    """Rating times cold resistance: 35 to 125 mV for blade fuses (range of the sheets)."""
    for row in read_rows("loomwright.reference", "fuse_resistances", FuseResistance):
        assert 35 <= row.rating_a * row.cold_mohm <= 125, row


def test_melting() -> None:
    """Medium 20 A: 520, miniature 15 A: 308, high-current 40 A: 8500 A2s, typical melting."""
    assert melting_i2t("medium", 20) == 520
    assert melting_i2t("miniature", 15) == 308
    assert melting_a2s("high-current", 40).value == 8500
    assert melting_a2s("medium", 30).interpolated
    assert 520 < melting_i2t("medium", 30) < 3300


def test_even_thin_wire_outlives_a_small_fuse() -> None:
    """0.35 mm2 in PVC withstands 1,620 A2s from 70 °C; a 15 A miniature fuse melts at 308."""
    assert withstand_a2s(WireSize("mm2", "0.35"), "thin-wall") > melting_i2t("miniature", 15)


@pytest.mark.parametrize(
    ("kind", "ratio", "min_s", "max_s"),
    [
        ("medium", 1.10, 360_000, math.inf),
        ("medium", 1.60, 0.25, 50),
        ("medium", 2.00, 0.15, 5),
        ("miniature", 2.00, 0.15, 5),
        ("miniature", 3.50, 0.08, 0.5),
        ("miniature", 6.00, 0.03, 0.1),
        ("high-current", 1.35, 60, 1800),
        ("high-current", 3.50, 0.2, 7),
        ("supplementary", 1.35, 0, 3600),
        ("supplementary", 2.00, 0, 120),
    ],
)
def test_published_windows(kind: str, ratio: float, min_s: float, max_s: float) -> None:
    """ISO 8820-3 and data sheets; UL/CSA 248-14 for supplementary fuses to 30 A. Typed again."""
    band = opening_band(kind, ratio)

    assert (band.min_s, band.max_s) == (min_s, max_s)


def test_where_sheets_disagree_the_wider_window_stands() -> None:
    """At 135 %: 600 s on 32 V sheets, 1800 s on the 58 V sheet. At 200 %: 50 or 60 s."""
    assert opening_band("medium", 1.35).max_s == 1800
    assert opening_band("high-current", 2.0).max_s == 60


@given(st.sampled_from(BANDED), st.floats(0, 20), st.floats(0, 20))
def test_more_current_never_opens_a_fuse_later(kind: str, one: float, other: float) -> None:
    less, more = opening_band(kind, min(one, other)), opening_band(kind, max(one, other))

    assert more.min_s <= less.min_s
    assert more.max_s <= less.max_s
    assert less.min_s <= less.max_s


def test_a_fuse_holds_its_rating_and_no_window_is_interpolated() -> None:
    assert opening_band("medium", 0.9).min_s == 360_000
    assert opening_band("medium", 1.2).min_s == 0.75
    assert opening_band("medium", 1.2).max_s == math.inf
    assert opening_band("medium", 1.8).max_s == 50


@pytest.mark.parametrize(
    ("rating_a", "word"), [(5, "tan"), (10, "red"), (15, "blue"), (20, "yellow"), (30, "green")]
)
def test_colours(rating_a: float, word: str) -> None:
    """SAE J1284 and ISO 8820-3, from memory."""
    assert colour(rating_a) == word
    assert colour(rating_a, "miniature") == word


def test_every_colour_is_one_of_ours() -> None:
    for kind in fuse_kinds():
        for rating_a in ratings(kind.key):
            assert read_colour(colour(rating_a, kind.key)).base == colour(rating_a, kind.key)


@pytest.mark.parametrize(("load_a", "rating_a"), [(7.5, 10), (10, 15)])
def test_the_next_fuse_for_a_load(load_a: float, rating_a: float) -> None:
    """10 A fuse carries 7.5 A at 25 °C; 10 A of load asks for 12.5 A, so 15 A. Fuse guides."""
    assert next_rating_a("medium", load_a / CONTINUOUS_SHARE_MOST) == rating_a
    assert 10 * CONTINUOUS_SHARE == 7.5


def test_temperature() -> None:
    """A 25 A miniature fuse rerates to 22.75 A at 85.41 °C and 23.1 A at 76.25 °C."""
    assert 25 * temperature_factor(85.41) == pytest.approx(22.75, abs=0.1)
    assert 25 * temperature_factor(76.25) == pytest.approx(23.1, abs=0.1)
    assert temperature_factor(25) == 1


@pytest.mark.parametrize(
    "call",
    [
        lambda: fuse_kind("glass"),
        lambda: ratings("glass"),
        lambda: colour(12.5),
        lambda: next_rating_a("medium", 45),
        lambda: opening_band("medium", -1),
        lambda: opening_band("glass", 1),
        lambda: temperature_factor(200),
        lambda: cold_resistance("medium", 0),
    ],
)
def test_what_there_is_not_is_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(InvalidInput):
        call()


def test_breakers_are_the_three_types_of_sae_j553() -> None:
    assert [row.source for row in breakers()] == [f"sae-j553: type {n}" for n in (1, 2, 3)]
