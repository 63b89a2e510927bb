"""The pictures of the docs are what the program draws today."""

import pytest
from tests.docs.pages import ROOT, every_page, links
from tools.draw_docs import pictures, without_letters

FOLDER = ROOT / "docs" / "pictures"
LARGEST_BYTES = 200_000


@pytest.mark.parametrize("name", sorted(pictures()))
def test_a_picture_is_what_is_drawn_today(name: str) -> None:
    """Draw it again with `python -m tools.draw_docs` when a drawing has changed."""
    kept = (FOLDER / name).read_text("utf-8")

    assert without_letters(kept) == pictures()[name]


@pytest.mark.parametrize("name", sorted(pictures()))
def test_a_picture_stands_alone(name: str) -> None:
    """It carries its letters and fetches nothing, has a title, and is not heavy."""
    kept = (FOLDER / name).read_text("utf-8")

    assert kept.count("@font-face") == 2
    assert "url(http" not in kept
    assert "<title>" in kept
    assert "<desc>" in kept
    assert len(kept.encode()) < LARGEST_BYTES


def test_every_picture_is_shown_on_a_page() -> None:
    shown = {
        (path.parent / target).resolve()
        for path in every_page()
        for target in links(path.read_text("utf-8"))
    }

    assert [path.name for path in sorted(FOLDER.iterdir()) if path.resolve() not in shown] == []
