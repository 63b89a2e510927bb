"""Ladder and bands: nothing clips or overlaps, and the figures are those of the answer."""

import pytest
from tests.drawing.text_boxes import clipped, overlapping, words_of

from loomwright.drawing.bands import BandLine, band_bars
from loomwright.drawing.ladder import drop_ladder
from loomwright.electrics.answers import Band, LoadAnswer, Part, Path, Rung
from loomwright.quantities import show_current


def rung(place: str, path: Path, drop_v: float) -> Rung:
    return Rung(Part(place, "wire", path, "run", place, "tail", ""), drop_v, 2.0, drop_v / 2.0)


def load(*rungs: Rung, voltage_v: float = 11.0) -> LoadAnswer:
    out_v = sum(each.drop_v for each in rungs if each.part.path == "supply")
    home_v = sum(each.drop_v for each in rungs if each.part.path == "return")
    return LoadAnswer(
        "left rear <tail>", "lamp", "tail", "e", True, voltage_v, 2.0, 0.7, "normal",
        out_v, home_v, "ground", False, rungs,
    )  # fmt: skip


def test_a_ladder_names_every_part_that_matters_and_gathers_the_rest() -> None:
    svg = drop_ladder(
        load(
            rung("feed wire", "supply", 0.9),
            rung("screw", "supply", 0.002),
            rung("joint", "supply", 0.003),
            rung("ground wire & ring", "return", 0.5),
        )
    )

    words = words_of(svg)
    assert "feed wire" in words
    assert "ground wire & ring" in words
    assert "screw" not in words
    assert "2 smaller parts together" in words
    assert {"out 0.905\u00a0V", "home 0.5\u00a0V", "11\u00a0V at the load"} <= set(words)
    assert clipped(svg) == []
    assert overlapping(svg) == []


@pytest.mark.parametrize("voltage_v", [0.0, 0.4, -0.2, 12.6])
def test_a_ladder_of_a_load_that_gets_next_to_nothing_still_fits(voltage_v: float) -> None:
    svg = drop_ladder(load(rung("feed " * 40, "supply", 13.0), voltage_v=voltage_v))

    assert clipped(svg) == []
    assert overlapping(svg) == []


def test_a_ladder_without_parts_is_drawn_empty() -> None:
    assert clipped(drop_ladder(load(voltage_v=0.0))) == []


def test_bands_show_both_ends_and_what_was_measured() -> None:
    svg = band_bars(
        [
            BandLine("pin 3 <tail>", Band(10.7, 11.9, 13.4), 9.2),
            BandLine("pin 5", Band(0.0, 0.0, 0.0)),
        ],
        heading="Park lamps",
    )

    words = words_of(svg)
    assert {"pin 3 <tail>", "10.7\u00a0V", "13.4\u00a0V", "9.2\u00a0V", "Park lamps"} <= set(words)
    assert words.count("0\u00a0V") == 1
    assert clipped(svg) == []
    assert overlapping(svg) == []


def test_bands_take_any_unit() -> None:
    words = words_of(band_bars([BandLine("magnets", Band(10.0, 12.0, 14.0))], show_current))

    assert "12\u00a0A" in words


def test_no_bands_are_an_empty_drawing() -> None:
    assert words_of(band_bars([])) == []
