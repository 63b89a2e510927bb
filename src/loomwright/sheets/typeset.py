"""Sets a sheet as a PDF: data as JSON, text as text, our own fonts, the same bytes everywhere."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import ExitStack
from functools import cache
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Literal

from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    import typst

Paper = Literal["letter", "a4"]
PAPER_MM: Mapping[str, tuple[float, float]] = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
Content = Mapping[str, object]
Kind = Literal["job", "handover", "photo"]

TEMPLATES: dict[Kind, tuple[str, ...]] = {
    "job": ("look.typ", "joints.typ", "work.typ", "record.typ", "sheet.typ"),
    "handover": ("look.typ", "handover_parts.typ", "handover.typ"),
    "photo": ("photo.typ",),
}
"""Files of each kind of sheet, in the order they are read."""

FONT_FILES = ("Inter-Regular.ttf", "Inter-Bold.ttf")
NOT_IN_FONT = "?"
EPOCH = 0
SCREEN_PPI = 110.0
"""Fine enough to read a page on a screen, and light enough for a shop's network."""


def page_size(paper: Paper) -> dict[str, float]:
    """Return the width and the height of a paper, as every sheet takes them. [mm]

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    if paper not in PAPER_MM:
        raise InvalidInput("paper", paper, f"use one of {', '.join(PAPER_MM)}")
    width_mm, height_mm = PAPER_MM[paper]
    return {"width_mm": width_mm, "height_mm": height_mm}


def set_pdf(content: Content, kind: Kind = "job", raw: Mapping[str, str] | None = None) -> bytes:
    """Return the sheet with this content as a tagged PDF.

    Parameters
    ----------
    content : mapping
        Everything the template shows, as values JSON takes. Text is shown as it stands; a
        letter the fonts lack shows as a question mark, a control character as a space.
    kind : str
        Which sheet.
    raw : mapping, optional
        What the template takes exactly as it is: drawings, files that travel with the sheet.

    Raises
    ------
    RuntimeError
        If the typesetter warns: the template is ours, so a warning is a bug in it.
    """
    (pdf,) = _compiled(content, "pdf", kind, raw or {})
    return pdf


def set_pages(
    content: Content, kind: Kind = "job", raw: Mapping[str, str] | None = None
) -> tuple[bytes, ...]:
    """Return the pages of the sheet with this content as pictures to look at, each a PNG.

    Parameters
    ----------
    content : mapping
        As for `set_pdf`.
    kind : str
        Which sheet.
    raw : mapping, optional
        What the template takes exactly as it is.

    Raises
    ------
    RuntimeError
        If the typesetter warns.
    """
    return _compiled(content, "png", kind, raw or {})


def _compiled(
    content: Content, form: Literal["pdf", "png"], kind: Kind, raw: Mapping[str, str]
) -> tuple[bytes, ...]:
    """Set the sheet: as one document, or a picture for each page."""
    pages, warnings = _compiler().compile_with_warnings(
        _template(kind),
        sys_inputs={**raw, "data": json.dumps(_printable(content), ensure_ascii=False)},
        format=form,
        ppi=SCREEN_PPI,
        timestamp=EPOCH,
        pdf_standards=["ua-1"] if form == "pdf" else None,
    )
    if warnings:
        raise RuntimeError("the typesetter warns: " + "; ".join(each.message for each in warnings))
    if pages is None:
        raise TypeError("the typesetter gave nothing")
    return (pages,) if isinstance(pages, bytes) else tuple(pages)


@cache
def _compiler() -> typst.Compiler:
    """The one compiler of this process: reading the fonts is most of its cost."""
    import typst

    with ExitStack() as opened:
        fonts = [str(opened.enter_context(as_file(font))) for font in _fonts()]
        folders = sorted({font.rpartition("/")[0] or font.rpartition("\\")[0] for font in fonts})
        ours = typst.Fonts(include_system_fonts=False, font_paths=folders)
        return typst.Compiler(font_paths=ours, ignore_system_fonts=True)


def _fonts() -> Iterator[Traversable]:
    folder = files("loomwright.drawing") / "fonts"
    yield from (folder / name for name in FONT_FILES)


@cache
def _template(kind: Kind) -> bytes:
    folder = files("loomwright.sheets")
    return b"\n".join((folder / name).read_bytes() for name in TEMPLATES[kind])


@cache
def _letters() -> frozenset[str]:
    """Every letter the fonts are known to have."""
    table = files("loomwright.drawing") / "fonts" / "advance_widths.csv"
    lines = table.read_text(encoding="ascii").split()[1:]
    return frozenset(chr(int(line.partition(",")[0], 16)) for line in lines)


def _printable(value: object) -> object:
    """Return the content with every letter printable."""
    match value:
        case str():
            return "".join(_letter(each) for each in value)
        case Mapping():
            return {key: _printable(each) for key, each in value.items()}
        case list() | tuple():
            return [_printable(each) for each in value]
        case _:
            return value


def _letter(letter: str) -> str:
    if letter in _letters():
        return letter
    return " " if letter.isspace() or ord(letter) < ord(" ") else NOT_IN_FONT
