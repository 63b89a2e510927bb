"""The pictures of the page on the solver are what its numbers give today."""

import pytest
from tests.docs.pages import ROOT
from tools.draw_docs import without_letters
from tools.draw_solver import pictures

FOLDER = ROOT / "docs" / "pictures"


@pytest.mark.parametrize("name", sorted(pictures()))
def test_a_picture_is_what_is_drawn_today(name: str) -> None:
    """Draw it again with `python -m tools.draw_solver` when the solver has changed."""
    kept = (FOLDER / name).read_text("utf-8")

    assert without_letters(kept) == pictures()[name]
    assert "<title>" in kept
    assert "<desc>" in kept
