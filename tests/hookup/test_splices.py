"""Barrels are chosen by the copper they hold.

Circular mils by hand from ASTM B258 diameters in mils, squared: 10 AWG 101.9² = 10 380,
12 AWG 80.8² = 6 530, 14 AWG 64.1² = 4 110, 16 AWG 50.8² = 2 580, 18 AWG 40.3² = 1 620.
Barrels of the trade (common practice): red 22-16, blue 16-14, yellow 12-10; a barrel takes from
its thinnest wire up to just below the next barrel's, so red ends at 3 260, blue at 5 180 and
yellow at 13 100 circular mils.
"""

import pytest

from loomwright.hookup.splices import ring_choice, splice_choice
from loomwright.quantities import WireSize, read_wire_size


def size(text: str) -> WireSize:
    return read_wire_size(text, "size")


@pytest.mark.parametrize(
    ("left", "right", "colour"),
    [
        ("18 AWG", "18 AWG", "red"),
        ("16 AWG", "18 AWG", "red"),
        ("14 AWG", "16 AWG", "blue"),
        ("12 AWG", "10 AWG", "yellow"),
    ],
)
def test_two_wires_of_one_barrel_take_a_plain_butt(left: str, right: str, colour: str) -> None:
    chosen = splice_choice("sealed-butt", size(left), size(right))

    assert chosen.fits
    assert chosen.kind == "sealed-butt"
    assert chosen.barrel.startswith(f"{colour}, ")


@pytest.mark.parametrize(
    ("left", "right"),
    [("10 AWG", "14 AWG"), ("12 AWG", "16 AWG"), ("18 AWG", "14 AWG")],
)
def test_wires_too_far_apart_need_a_step_down(left: str, right: str) -> None:
    """12 holds 6 530 circular mils, above blue; 16 holds 2 580, below yellow."""
    chosen = splice_choice("sealed-butt", size(left), size(right))

    assert not chosen.fits
    assert chosen.kind == "step-down-butt"
    assert "step-down" in chosen.note


def test_a_step_down_that_is_already_chosen_fits() -> None:
    chosen = splice_choice("step-down-butt", size("12 AWG"), size("16 AWG"))

    assert chosen.fits
    assert "yellow" in chosen.barrel


def test_a_wire_that_goes_on_shares_a_barrel_end_with_the_new_one() -> None:
    """Three 14 AWG ends: 4 110 on one side (blue), 8 220 on the other (yellow): step down."""
    plain = splice_choice("sealed-butt", size("14 AWG"), size("14 AWG"))
    branch = splice_choice("sealed-butt", size("14 AWG"), size("14 AWG"), through=True)

    assert plain.fits
    assert not branch.fits
    assert branch.barrel.startswith("blue to yellow") or branch.barrel.startswith("yellow to blue")


def test_three_ends_of_16_awg_still_share_one_blue_barrel() -> None:
    """2 x 2 580 = 5 160, just below where blue ends."""
    branch = splice_choice("sealed-butt", size("16 AWG"), size("16 AWG"), through=True)

    assert branch.fits
    assert branch.barrel.startswith("blue, ")


def test_wires_thicker_than_any_barrel_are_told_where_to_go() -> None:
    chosen = splice_choice("sealed-butt", size("4/0 AWG"), size("4/0 AWG"))

    assert not chosen.fits
    assert chosen.barrel == ""
    assert "stud" in chosen.note


@pytest.mark.parametrize("kind", ["terminal-block", "wire-nut", "piercing-tap", "plug-in"])
def test_joints_without_a_barrel_name_none(kind: str) -> None:
    chosen = splice_choice(kind, size("14 AWG"), size("10 AWG"))

    assert (chosen.barrel, chosen.strip_mm, chosen.shrink) == ("", None, "")


def test_a_converter_keeps_its_own_lead() -> None:
    chosen = splice_choice("sealed-butt", size("14 AWG"), None)

    assert chosen.barrel == ""
    assert "in hand" in chosen.note


@pytest.mark.parametrize(
    ("wire", "colour"), [("18 AWG", "red"), ("14 AWG", "blue"), ("10 AWG", "yellow")]
)
def test_a_ring_takes_the_barrel_of_its_wire(wire: str, colour: str) -> None:
    assert ring_choice(size(wire)).barrel.startswith(colour)


def test_every_sleeve_named_slides_over_the_thicker_wire() -> None:
    """12 AWG is 3.7 to 4.6 mm over its insulation, so a sleeve below 4.8 mm cannot be right.

    Source: SAE J1128, thin and thick wall, from memory.
    """
    chosen = splice_choice("sealed-butt", size("12 AWG"), size("12 AWG"))
    supplied_mm = float(chosen.shrink.split("tube, ")[1].split(" ")[0])

    assert supplied_mm >= 4.8
