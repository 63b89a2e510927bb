"""Limits against the documents that set them; defaults read as the people's text they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest

from loomwright.invalid import InvalidInput
from loomwright.quantities import (
    read_capacity_ah,
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_resistance_ohm,
    read_share,
    read_temperature_c,
    read_voltage_v,
    read_wire_size,
)
from loomwright.reference.batteries import chemistry
from loomwright.reference.conductors import ampacity_a, insulation
from loomwright.reference.defaults import Variant, default, default_for, defaults
from loomwright.reference.functions import function
from loomwright.reference.fuses import fuse_kind, ratings
from loomwright.reference.joints import joint
from loomwright.reference.lamps import lamp
from loomwright.reference.leds import led, led_form
from loomwright.reference.limits import limit, limits

READERS: dict[str, Callable[[str], object]] = {
    "capacity": read_capacity_ah,
    "chemistry": chemistry,
    "count": int,
    "current": read_current_a,
    "diameter": read_diameter_mm,
    "filament": {"single", "major", "minor"}.__contains__,
    "function": function,
    "fuse_kind": fuse_kind,
    "ground_method": {"old-wire", "own-ring"}.__contains__,
    "inches": float,
    "insulation": insulation,
    "joint": joint,
    "lamp": lamp,
    "mass": read_mass_kg,
    "led_form": led_form,
    "length": read_length_m,
    "power": read_power_w,
    "resistance": read_resistance_ohm,
    "share": read_share,
    "temperature": read_temperature_c,
    "voltage": read_voltage_v,
    "wire_size": read_wire_size,
    "word": str.isprintable,
    "yes_no": {"yes", "no"}.__contains__,
}
VARIANTS: Iterable[Variant | None] = (None, "metric", "heavy", "flat")


@pytest.mark.parametrize(
    ("key", "value", "unit"),
    [
        ("lamp-share-of-design", 85, "%"),
        ("drop-critical", 3, "%"),
        ("drop-lamps", 10, "%"),
        ("connector-voltage-heavy", 12.5, "V"),
        ("abs-voltage", 9.5, "V"),
        ("brake-current-eu", 15, "A"),
        ("brake-voltage-eu", 7, "V"),
        ("ground-drop", 0.1, "V"),
        ("fuse-continuous", 75, "%"),
        ("thinnest-single-wire", 16, "AWG"),
        ("breakaway-hold", 15, "min"),
        ("fuse-distance", 7 * 25.4, "mm"),
    ],
)
def test_limits_are_those_of_their_documents(key: str, value: float, unit: str) -> None:
    """Typed again from the sources.

    13 CCR 1249(c); ABYC E-11 11.14.2.6; SAE J2247; TMC RP 137; 71/320/EEC annex XI; 33 CFR
    183.425; DCMR 18-721; ABYC E-11 (7 in).
    """
    assert limit(key).value == pytest.approx(value, abs=0.5 if unit == "mm" else 1e-9)
    assert limit(key).unit == unit


def test_the_ceiling_of_un_r48_is_three_percent_over_test_voltage() -> None:
    """13.5 V and 28.0 V plus 3 %: UN Regulation 48, from memory."""
    assert limit("lamp-voltage-max-12").value == pytest.approx(13.5 * 1.03, abs=0.01)
    assert limit("lamp-voltage-max-24").value == pytest.approx(28.0 * 1.03, abs=0.01)


def test_a_limit_tests_a_reading() -> None:
    assert limit("magnet-voltage").is_met_by(10.5)
    assert not limit("magnet-voltage").is_met_by(10.2)
    assert not limit("ground-drop").is_met_by(float("nan"))
    assert limit("ground-drop").is_met_by(0.1)
    assert limit("lamp-share-of-design").share == 0.85
    with pytest.raises(ValueError, match="not a share"):
        _ = limit("ground-drop").share
    with pytest.raises(InvalidInput, match="ground-drop"):
        limit("no such limit")


def test_every_limit_stands_once_and_is_above_0() -> None:
    assert len({row.key for row in limits()}) == len(limits())
    assert all(row.value > 0 and row.says for row in limits())


@pytest.mark.parametrize("row", defaults(), ids=lambda row: row.key)
def test_each_default_can_be_read(row: object) -> None:
    value = default(getattr(row, "key", ""))

    assert READERS[value.kind](value.value_text) not in (None, False)
    assert value.says


def test_every_place_of_a_rig_has_a_default_for_every_family() -> None:
    for variant in VARIANTS:
        for part in ("feed", "lead", "cord", "run"):
            for item in ("ground", "tail", "brake", "battery", "coding"):
                size = default_for(part, item, "size", variant)
                assert size.kind == "wire_size"
                if variant == "metric":
                    assert "mm2" in size.value_text
        for part in ("feed", "lead", "cord"):
            assert default_for(part, "tail", "length", variant).kind == "length"
        for item in ("lamp", "brake", "battery", "appliance"):
            for what in ("size", "length", "ground_size", "ground_length"):
                assert default_for("branch", item, what, variant).value_text


def test_the_nearest_default_is_taken() -> None:
    assert default_for("cord", "ground", "size").value_text == "10 AWG"
    assert default_for("cord", "fog", "size").value_text == "14 AWG"
    assert default_for("cord", "fog", "size", "heavy").value_text == "12 AWG"
    assert default_for("converter.channel", "fog", "").value_text == "5 A"
    with pytest.raises(InvalidInput, match="none is stated"):
        default_for("keel", "left", "colour")


def test_default_feeds_obey_the_limits_they_will_be_checked_by() -> None:
    """A fuse no larger than its wire's ampacity (33 CFR 183.425), and of a made rating."""
    for row in defaults():
        part, *rest = row.key.split(".")
        if part == "feed" and rest[-1] == "fuse":
            size = read_wire_size(default_for("feed", rest[0], "size").value_text)
            fuse_a = read_current_a(row.value_text)
            assert fuse_a <= ampacity_a(size, insulation("GXL").max_c, 3), row
            assert fuse_a in ratings("medium")


def test_led_defaults_are_the_typical_currents() -> None:
    for row in defaults():
        part, *rest = row.key.split(".")
        if part == "led" and rest[-1] == "current" and rest[0] not in ("other",):
            assert read_current_a(row.value_text) == pytest.approx(led(rest[0]).usual_a)


def test_filaments_named_as_defaults_exist_in_their_lamp() -> None:
    for row in defaults():
        if row.kind == "lamp":
            filament = default(row.key.removesuffix("key") + "filament").value_text
            assert filament in lamp(row.value_text).filaments
