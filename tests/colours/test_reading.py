"""Colours are read as any manual writes them; letters that collide are refused, never guessed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.colours import AmbiguousColour, Colour, legends, read_colour
from loomwright.invalid import InvalidInput


@pytest.mark.parametrize(
    ("text", "colour"),
    [
        ("Light green/black", Colour("light_green", "black")),
        ("brown/white", Colour("brown", "white")),
        ("BROWN / WHITE", Colour("brown", "white")),
        ("dk blue with white stripe", Colour("dark_blue", "white")),
        ("red w/yellow tracer", Colour("red", "yellow")),
        ("green, violet stripe", Colour("green", "violet")),
        ("green & yellow", Colour("green", "yellow")),
        ("yellow stripe on red", Colour("red", "yellow")),
        ("green with violet dots", Colour("green", "violet", "dots")),
        ("brown with an orange hash mark", Colour("brown", "orange", "hash")),
        ("light_green/black", Colour("light_green", "black")),
        ("Purple", Colour("violet")),
        ("gray", Colour("grey")),
        ("schwarz/weiß", Colour("black", "white")),
        ("hellblau-rot", Colour("light_blue", "red")),
        ("grün mit gelb", Colour("green", "yellow")),
        ("vert clair", Colour("light_green")),
        ("azul con rojo", Colour("blue", "red")),
    ],
)
def test_plain_words_are_read(text: str, colour: Colour) -> None:
    """Meanings are dictionary words; first the base, then the tracer (common practice)."""
    assert read_colour(text) == colour


@pytest.mark.parametrize(
    ("text", "colour"),
    [
        ("GNVT", Colour("green", "violet")),
        ("GN/VT", Colour("green", "violet")),
        ("gn/vt", Colour("green", "violet")),
        ("BK-YE", Colour("black", "yellow")),
        ("RDBU", Colour("red", "blue")),
        ("GNYE", Colour("green", "yellow")),
        ("D-GN/WH", Colour("dark_green", "white")),
        ("L-BU", Colour("light_blue")),
        ("LT GRN w/ BLK", Colour("light_green", "black")),
        ("LT. GREEN/BLACK", Colour("light_green", "black")),
        ("DK BLU-ORG", Colour("dark_blue", "orange")),
        ("BLK WHT", Colour("black", "white")),
        ("LB/YL", Colour("light_blue", "yellow")),
        ("BLK/YE", Colour("black", "yellow")),
        ("BR", Colour("brown")),
        ("LG", Colour("light_green")),
        ("WG", Colour("white", "green")),
        ("B/Y", Colour("black", "yellow")),
        ("BR/O D", Colour("brown", "orange", "dots")),
        ("BR/O-H", Colour("brown", "orange", "hash")),
    ],
)
def test_codes_on_which_all_legends_agree_are_read(text: str, colour: Colour) -> None:
    """IEC 60757 letters from memory; the rest as service manuals print them (common practice)."""
    assert read_colour(text) == colour


@pytest.mark.parametrize(
    "text",
    [
        *("18 LB/YL", "18AWG LB/YL", "18 ga LB/YL", "#18 LB/YL", "0.35 LB/YL", "0,5 LB/YL"),
        *("0.85LB/YL", "2.5 mm² LB/YL", "1/0 LB/YL"),
    ],
)
def test_a_wire_size_in_front_is_passed_over(text: str) -> None:
    """A size may stand before the colour in service tables (common practice)."""
    assert read_colour(text) == Colour("light_blue", "yellow")


@pytest.mark.parametrize("text", ["400 red", "4021 red", "333.5 red", "red 2 blue"])
def test_a_number_that_is_no_wire_size_is_not_passed_over(text: str) -> None:
    with pytest.raises(InvalidInput):
        read_colour(text)


@pytest.mark.parametrize(
    ("text", "meanings"),
    [
        ("B", {"black", "white"}),
        ("G", {"green", "yellow"}),
        ("GR", {"grey", "green"}),
        ("LI", {"violet", "pink"}),
        ("N", {"brown", "natural", "black"}),
        ("P", {"pink", "violet"}),
        ("S", {"grey", "pink"}),
        ("SB", {"black", "light_blue"}),
        ("V", {"violet", "green"}),
    ],
)
def test_letters_that_collide_are_refused_with_every_meaning(text: str, meanings: set[str]) -> None:
    """The nine collisions among the legends gathered for the tables (common practice)."""
    with pytest.raises(AmbiguousColour) as refused:
        read_colour(text, field="feed.colour")

    assert {colour.base for colour, _ in refused.value.candidates} == meanings
    assert refused.value.field == "feed.colour"
    for colour, says in refused.value.candidates:
        assert colour.words in refused.value.fix
        assert set(says.split(", ")) <= set(legends())


@pytest.mark.parametrize("text", ["G/R", "GB", "GR/YEL", "GR/YE", "BLK/P", "L-B", "LGR", "red/gr"])
def test_a_stripe_does_not_hide_a_collision(text: str) -> None:
    with pytest.raises(AmbiguousColour):
        read_colour(text)


def test_a_complaint_moved_to_its_document_keeps_its_candidates() -> None:
    with pytest.raises(AmbiguousColour) as refused:
        read_colour("SB")
    moved = refused.value.at("feed.colour", file="job.toml", line=7)

    assert isinstance(moved, AmbiguousColour)
    assert moved.candidates == refused.value.candidates


@pytest.mark.parametrize(
    ("text", "legend", "colour"),
    [
        ("B", "italy", Colour("white")),
        ("B", "japan-1", Colour("black")),
        ("GR", "us-1982", Colour("green")),
        ("GR/YEL", "us-1982", Colour("green", "yellow")),
        ("GR", "japan-2", Colour("grey")),
        ("P", "uk-au7", Colour("violet")),
        ("N/R", "uk-au7", Colour("brown", "red")),
        ("SB/W", "sweden-1998", Colour("black", "white")),
        ("SB/W", "japan-3", Colour("light_blue", "white")),
        ("BR", "uk-au7", Colour("black", "red")),
        ("GY", "uk-au7", Colour("green", "yellow")),
        ("BR/OD", "us-1982", Colour("brown", "orange", "dots")),
        ("BK", "japan-1", Colour("black")),
        ("GN/VT", "italy", Colour("green", "violet")),
        ("yellow", "italy", Colour("yellow")),
    ],
)
def test_a_named_legend_settles_it(text: str, legend: str, colour: Colour) -> None:
    """BS AU 7 letters: N brown, S slate, P purple, combined without a sign (from memory)."""
    assert read_colour(text, legend=legend) == colour


def test_an_unknown_legend_is_refused_naming_those_known() -> None:
    with pytest.raises(InvalidInput, match="japan-1") as refused:
        read_colour("B", legend="mars")

    assert refused.value.field == "legend"


@pytest.mark.parametrize(
    ("text", "advice"),
    [
        ("", "GN/VT"),
        ("light red", "GN/VT"),
        ("violet stripe", "green with violet stripe"),
        ("red/white/blue", "GN/VT"),
        ("yelow", "did you mean yellow"),
        ("BK*", "usual tracer"),
    ],
)
def test_what_is_no_colour_is_refused_with_advice(text: str, advice: str) -> None:
    with pytest.raises(InvalidInput) as refused:
        read_colour(text)

    assert not isinstance(refused.value, AmbiguousColour)
    assert advice in refused.value.fix


@given(text=st.text(max_size=16) | st.text("BKRDGNYEWVTLPSU/- w123.,", max_size=16))
def test_any_text_is_read_or_refused_and_what_is_read_reads_back(text: str) -> None:
    try:
        colour = read_colour(text)
    except InvalidInput:
        return
    assert read_colour(colour.code) == colour
