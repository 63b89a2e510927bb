from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from loomwright.drawing.lettering import Label, shortened, text_width_mm, wrapped

FONTS = files("loomwright.drawing") / "fonts"


@pytest.mark.parametrize(("weight", "bold"), [("Regular", False), ("Bold", True)])
def test_a_text_is_as_wide_as_the_font_says(weight: str, bold: bool) -> None:
    """Source: the shipped font's own hmtx table, read by fontTools."""
    font = TTFont(str(FONTS / f"Inter-{weight}.ttf"))
    names, metrics = font.getBestCmap(), font["hmtx"].metrics
    text = "W106 GN/YE 0.75\u00a0mm² 14.1\u00a0V Ω"

    expected = 3.0 * sum(metrics[names[ord(c)]][0] for c in text) / font["head"].unitsPerEm
    assert text_width_mm(text, 3.0, bold=bold) == pytest.approx(expected)


def test_a_label_fills_its_box_by_its_anchor() -> None:
    middle = Label("tail", 10.0, 5.0, anchor="middle").box

    assert (middle.left + middle.right) / 2 == pytest.approx(10.0)
    assert Label("tail", 10.0, 5.0, anchor="end").box.right == pytest.approx(10.0)


@given(st.text(max_size=60), st.floats(3.0, 60.0))
def test_a_shortened_text_fits(text: str, width: float) -> None:
    assert text_width_mm(shortened(text, width, 2.4), 2.4) <= width or len(text) <= 1


def test_wrapping_keeps_a_number_with_its_unit() -> None:
    assert wrapped("left stop 0.75\u00a0mm²", 12.0, 2.4) == ("left stop", "0.75\u00a0mm²")
