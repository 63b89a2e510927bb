"""Write src/loomwright/drawing/fonts/advance_widths.csv from the shipped fonts.

Run it after the font files change: `.venv/bin/python tools/write_advance_widths.py`.
The drawing code then knows how wide a label is without opening a font.
"""

import csv
from collections.abc import Iterator
from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).parent.parent / "src" / "loomwright" / "drawing" / "fonts"
COLUMNS = ("codepoint", "regular_em_units", "bold_em_units")
BLOCKS = (
    (0x0020, 0x024F),  # Latin, with the accents of Europe
    (0x0370, 0x03FF),  # Greek: ohm, mu, omega
    (0x2000, 0x215F),  # punctuation, superscripts, currency, letterlike, fractions
    (0x2190, 0x22FF),  # arrows, mathematics
    (0x25A0, 0x27BF),  # shapes, ticks
)


def advance_widths(regular: Path, bold: Path) -> Iterator[tuple[str, int, int]]:
    """Code point (hexadecimal) and advance width in both weights, in font units (1/2048 em)."""
    metrics = [
        (font.getBestCmap(), font["hmtx"].metrics) for font in (TTFont(regular), TTFont(bold))
    ]
    for first, last in BLOCKS:
        for point in range(first, last + 1):
            if all(point in glyphs for glyphs, _ in metrics):
                regular_units, bold_units = (widths[glyphs[point]][0] for glyphs, widths in metrics)
                yield f"{point:04X}", regular_units, bold_units


def write_table(path: Path) -> None:
    """Write the table of both shipped weights to `path` as CSV."""
    with path.open("w", encoding="ascii", newline="") as table:
        rows = csv.writer(table, lineterminator="\n")
        rows.writerow(COLUMNS)
        rows.writerows(advance_widths(FONTS / "Inter-Regular.ttf", FONTS / "Inter-Bold.ttf"))


if __name__ == "__main__":
    write_table(FONTS / "advance_widths.csv")
