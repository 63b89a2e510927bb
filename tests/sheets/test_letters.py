"""Every letter of the sheet is in the fonts that we ship: a missing one would never warn."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from tests.sheets.jobs import job, words_of

import loomwright.drawing
from loomwright import examples
from loomwright.sheets.job import content

FONTS = Path(loomwright.drawing.__file__).parent / "fonts"


def letters(value: object) -> Iterator[str]:
    """Every letter of every text in the content, drawings included."""
    match value:
        case str():
            yield from value
        case dict():
            for each in value.values():
                yield from letters(each)
        case list() | tuple():
            for each in value:
                yield from letters(each)


@pytest.mark.parametrize("font", ["Inter-Regular.ttf", "Inter-Bold.ttf"])
@pytest.mark.parametrize("name", examples.names())
def test_every_letter_is_in_the_font(name: str, font: str) -> None:
    held = set(TTFont(FONTS / font).getBestCmap())
    used = {letter for letter in letters(content(*job(name))) if letter not in "\n\t"}

    assert {letter for letter in used if ord(letter) not in held} == set()


@pytest.mark.parametrize("name", examples.names())
def test_nothing_of_the_templates_is_lost(name: str) -> None:
    """Words that only the templates hold come back out of the PDF."""
    shown = words_of(name)

    for words in ("Job sheet", "Before you start", "The faces", "The run", "Every finding"):
        assert words in shown
