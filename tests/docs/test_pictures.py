"""The pictures of the docs are what the program draws today."""

from functools import cache

import pytest
from tests.docs.pages import ROOT, every_page, links
from tools.draw_docs import pictures, without_letters

FOLDER = ROOT / "docs" / "pictures"
NAMES = ("face.svg", "ladder.svg", "run.svg", "wire-side.svg")
"""Written down, for to draw them takes a solved rig: too long for collecting tests."""

LARGEST_BYTES = 200_000


@cache
def drawn() -> dict[str, str]:
    return pictures()


def test_every_picture_that_is_drawn_is_named_above() -> None:
    assert sorted(drawn()) == [*NAMES]


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_is_what_is_drawn_today(name: str) -> None:
    """Draw it again with `python -m tools.draw_docs` when a drawing has changed."""
    kept = (FOLDER / name).read_text("utf-8")

    assert without_letters(kept) == drawn()[name]


@pytest.mark.parametrize("name", NAMES)
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
