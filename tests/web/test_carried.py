"""What the workbench carries of others: the very files, their licence beside them."""

import hashlib
import tomllib
from importlib.resources import files
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from tools.write_web_fonts import BLOCKS, FONTS, TARGET, WEIGHTS

VENDOR = files("loomwright.web").joinpath("static", "vendor")
LIST = "VENDOR.toml"
CARRIED = tomllib.loads(VENDOR.joinpath(LIST).read_text("utf-8"))["file"]


@pytest.mark.parametrize("row", CARRIED, ids=lambda row: row["name"])
def test_a_carried_script_is_the_one_written_down(row: dict[str, Any]) -> None:
    assert hashlib.sha256(VENDOR.joinpath(row["name"]).read_bytes()).hexdigest() == row["sha256"]


def test_every_carried_file_is_written_down_with_version_and_licence() -> None:
    there = {path.name for path in VENDOR.iterdir()}

    assert there == {row["name"] for row in CARRIED} | {LIST}
    assert all(row["version"] and row["licence"] and row["from"] for row in CARRIED)
    assert "Zero-Clause BSD" in VENDOR.joinpath("htmx.LICENSE.txt").read_text("utf-8")


@pytest.mark.parametrize(("source", "web"), WEIGHTS.items())
def test_the_web_font_has_the_letters_and_widths_of_the_shipped_one(source: str, web: str) -> None:
    whole, part = TTFont(FONTS / source), TTFont(TARGET / web)
    wanted = {point for first, last in BLOCKS for point in range(first, last + 1)}
    letters, shown = whole.getBestCmap(), part.getBestCmap()

    assert set(shown) == wanted & set(letters)
    assert {part["hmtx"][shown[point]][0] for point in map(ord, "a4Ω→≤²µ½")} == {
        whole["hmtx"][letters[point]][0] for point in map(ord, "a4Ω→≤²µ½")
    }
