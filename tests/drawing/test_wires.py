import re

import pytest
from tests.drawing.text_boxes import SVG, clipped, parsed, words_of

from loomwright.colours import Colour
from loomwright.colours.colour import canonical_colours
from loomwright.drawing.ink import INK, PAPER, SOFT_INK
from loomwright.drawing.wires import wire_swatch


@pytest.mark.parametrize(
    "colour",
    [
        Colour("white"),
        Colour("black", "white"),
        Colour("yellow", "red", "dots"),
        Colour("light_green", "dark_blue", "hash"),
        None,
    ],
)
def test_a_swatch_shows_the_code_whole_beside_the_band(colour: Colour | None) -> None:
    svg = wire_swatch(colour)

    assert words_of(svg) == ["?" if colour is None else colour.code]
    assert clipped(svg) == []


@pytest.mark.parametrize("base", ["white", "yellow", "black"])
def test_a_band_has_an_ink_edge_on_any_ground(base: str) -> None:
    band = parsed(wire_swatch(Colour(base))).find(f".//{SVG}rect")

    assert band is not None
    assert band.attrib["stroke"] == "#1d2124"


def test_no_insulation_is_written_like_an_ink_that_turns_in_the_dark() -> None:
    """A page turns ink and paper by how they are written; a conductor keeps its colours."""
    turned = {INK, SOFT_INK, PAPER}
    colours = [Colour(base, "black" if base != "black" else None) for base in canonical_colours()]

    for colour in colours:
        strokes = re.findall(r'stroke="(#\w+)"', wire_swatch(colour))
        kept = [stroke for stroke in strokes if stroke not in turned]
        assert kept == [
            colour.base_rgb,
            *([] if colour.stripe_rgb is None else [colour.stripe_rgb]),
        ]


def test_stripe_dots_and_hash_differ_without_colour() -> None:
    drawings = {
        wire_swatch(Colour("white", "red", pattern)) for pattern in ("stripe", "dots", "hash")
    }

    assert len(drawings) == 3
