"""Write the web fonts of the workbench from the shipped typeface.

Run it after the font files change: `.venv/bin/python tools/write_web_fonts.py`. Latin with the
accents of Europe, Greek, arrows and the signs of the trade; the same glyphs as on the job sheet.
"""

from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

ROOT = Path(__file__).parent.parent / "src" / "loomwright"
FONTS = ROOT / "drawing" / "fonts"
TARGET = ROOT / "web" / "static" / "fonts"
WEIGHTS = {"Inter-Regular.ttf": "inter-400.woff2", "Inter-Bold.ttf": "inter-700.woff2"}
BLOCKS = (
    (0x0020, 0x007E),  # Latin
    (0x00A0, 0x017F),  # with the accents of Europe
    (0x0384, 0x03CE),  # Greek: ohm, mu, omega
    (0x2010, 0x205E),  # punctuation
    (0x2070, 0x2089),  # superscripts and subscripts
    (0x2126, 0x2126),  # the ohm sign
    (0x2150, 0x215E),  # fractions
    (0x2190, 0x2199),  # arrows
    (0x2212, 0x2265),  # minus, almost equal, at most, at least
    (0x2713, 0x2717),  # ticks
)
FEATURES = ["calt", "ccmp", "kern", "locl", "mark", "mkmk", "tnum", "zero", "frac", "case"]


def write_subset(source: Path, target: Path) -> None:
    """Write the characters of `BLOCKS` from one font as woff2."""
    options = Options(flavor="woff2", layout_features=FEATURES, hinting=False)
    font = TTFont(source, recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[p for first, last in BLOCKS for p in range(first, last + 1)])
    subsetter.subset(font)
    font.flavor = "woff2"
    font.save(target)


if __name__ == "__main__":
    TARGET.mkdir(parents=True, exist_ok=True)
    for source_name, target_name in WEIGHTS.items():
        write_subset(FONTS / source_name, TARGET / target_name)
