"""The fonts we carry are the files named in THIRD_PARTY.md, with their licence beside them."""

import csv
import hashlib
import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

ROOT = Path(__file__).parents[2]
FONTS = ROOT / "src" / "loomwright" / "drawing" / "fonts"
CARRIED = re.findall(
    r"^\| `([^`]+)` \|.*\| `([0-9a-f]{64})` \|$", (ROOT / "THIRD_PARTY.md").read_text("utf-8"), re.M
)


@pytest.mark.parametrize(("name", "sha256"), CARRIED)
def test_a_carried_file_is_the_one_written_down(name: str, sha256: str) -> None:
    assert hashlib.sha256((ROOT / name).read_bytes()).hexdigest() == sha256


def test_each_font_we_carry_is_written_down_with_its_licence_beside_it() -> None:
    fonts = {str(path.relative_to(ROOT).as_posix()) for path in (ROOT / "src").rglob("*.ttf")}

    assert fonts == {name for name, _ in CARRIED}
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONTS / "OFL.txt").read_text("utf-8")


@pytest.mark.parametrize(
    ("file", "column"),
    [("Inter-Regular.ttf", "regular_em_units"), ("Inter-Bold.ttf", "bold_em_units")],
)
def test_the_width_table_agrees_with_the_font(file: str, column: str) -> None:
    """Every width is the font's own; the font's `head` table says 2048 units to the em."""
    font = TTFont(FONTS / file)
    glyphs, widths = font.getBestCmap(), font["hmtx"].metrics
    with (FONTS / "advance_widths.csv").open(encoding="ascii", newline="") as table:
        rows = list(csv.DictReader(table))

    assert font["head"].unitsPerEm == 2048
    assert {int(row["codepoint"], 16): int(row[column]) for row in rows} == {
        point: widths[glyphs[point]][0] for point in (int(row["codepoint"], 16) for row in rows)
    }


def test_the_width_table_holds_what_labels_need() -> None:
    with (FONTS / "advance_widths.csv").open(encoding="ascii", newline="") as table:
        held = {chr(int(row["codepoint"], 16)) for row in csv.DictReader(table)}

    assert not set("ABCXYZ abcxyz 0123456789 Ω→≤≥²µ°×–\u00a0½⅜éäß()/+-#%.,:;'\"") - held
