"""A colour is shown so that it reads back, and never without letters that can be read."""

from __future__ import annotations

from itertools import product

import pytest

from loomwright.colours import Colour, Pattern, colour_names, read_colour
from loomwright.invalid import InvalidInput

PATTERNS: tuple[Pattern, ...] = ("stripe", "dots", "hash")
ALL = [Colour(base) for base in colour_names()] + [
    Colour(base, stripe, pattern)
    for base, stripe, pattern in product(colour_names(), colour_names(), PATTERNS)
]
IEC_LETTERS = {
    "black": "BK",
    "brown": "BN",
    "red": "RD",
    "orange": "OG",
    "yellow": "YE",
    "green": "GN",
    "blue": "BU",
    "violet": "VT",
    "grey": "GY",
    "white": "WH",
    "pink": "PK",
    "gold": "GD",
    "turquoise": "TQ",
    "silver": "SR",
}


def test_every_colour_reads_back_from_its_code() -> None:
    assert [colour for colour in ALL if read_colour(colour.code) != colour] == []


def test_every_colour_reads_back_from_its_words() -> None:
    assert [colour for colour in ALL if read_colour(colour.words) != colour] == []


def test_no_two_colours_share_a_code_or_words() -> None:
    assert len({colour.code for colour in ALL}) == len(ALL)
    assert len({colour.words for colour in ALL}) == len(ALL)


@pytest.mark.parametrize(("name", "letters"), IEC_LETTERS.items())
def test_codes_are_the_letters_of_the_standard(name: str, letters: str) -> None:
    """IEC 60757, table 1 (from memory)."""
    assert Colour(name).code == letters


@pytest.mark.parametrize(("base", "stripe"), [*product(IEC_LETTERS, IEC_LETTERS)])
def test_letters_of_the_standard_read_run_together(base: str, stripe: str) -> None:
    """IEC 60757 joins two colours without a separator, as in RDBU (an extract of the standard)."""
    assert read_colour(IEC_LETTERS[base] + IEC_LETTERS[stripe]) == Colour(base, stripe)


def test_a_colour_is_said_as_on_the_sheet() -> None:
    colour = Colour("green", "violet")

    assert colour.code == "GN/VT"
    assert colour.words == "green with violet stripe"
    assert Colour("light_green", "black").code == "LTGN/BK"
    assert Colour("light_green", "black", "dots").words == "light green with black dots"


@pytest.mark.parametrize("name", colour_names())
def test_the_label_ink_reads_on_its_swatch(name: str) -> None:
    """Contrast of text: 4.5 to 1 at least, by the formula of WCAG 2.2, success criterion 1.4.3.

    Black or white, whichever is the better of the two.
    """
    colour = Colour(name)
    chosen = _contrast(colour.ink_rgb, colour.base_rgb)

    assert colour.ink_rgb in {"#000000", "#FFFFFF"}
    assert chosen >= 4.5
    assert chosen == max(_contrast(ink, colour.base_rgb) for ink in ("#000000", "#FFFFFF"))


def test_no_two_swatches_are_the_same() -> None:
    assert len({Colour(name).base_rgb for name in colour_names()}) == len(colour_names())


def test_a_plain_wire_has_no_stripe_swatch() -> None:
    assert Colour("red").stripe_rgb is None
    assert Colour("red", "white").stripe_rgb == Colour("white").base_rgb


@pytest.mark.parametrize(
    ("base", "stripe", "pattern"),
    [("mauve", None, "stripe"), ("red", "mauve", "stripe"), ("red", None, "dots")],
)
def test_a_colour_that_cannot_be_is_refused(
    base: str, stripe: str | None, pattern: Pattern
) -> None:
    with pytest.raises(InvalidInput, match=r"^colour\."):
        Colour(base, stripe, pattern)


def _contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, WCAG 2.2."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(rgb: str) -> float:
    """Relative luminance, WCAG 2.2."""
    shares = [int(rgb[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
