"""Pages of text: what a person reads on a terminal, in a file, and through a pipe.

Nothing depends on colour: weight and words rank, and both are left out of a pipe without loss.
A number never parts from its unit at the end of a line.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Sequence
from typing import TextIO

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text
from rich.theme import Theme

WIDTH = 80
WIDEST = 100
NARROWEST = 40

THEME = Theme(
    {
        "danger": "bold reverse",
        "must": "bold reverse",
        "should": "bold",
        "note": "default",
        "place": "bold",
        "quiet": "dim",
        "head": "bold",
    }
)

HELD = "\ue000"
"""Stands for a space that must not end a line, while lines are being broken."""

NO_BREAK = re.compile("[\u00a0\u202f]")
UNITS = "AWG|SAE|Ah|mA|A|mV|V|mW|W|mΩ|kΩ|Ω|ohm|mm²|mm|cm|m|ft|in|lb|kg|%|°C|°F"
BEFORE_UNIT = re.compile(rf"(?<=\d) (?=(?:{UNITS})(?![\w²]))")
TRAILING = re.compile(r"[ \t]+$", re.MULTILINE)

PLAIN = str.maketrans(
    {
        "→": ">",
        "─": "-",
        "━": "=",
        "·": "-",
        "Ω": "ohm",
        "²": "2",
        "°": " deg ",
        "±": "+/-",
        "×": "x",
        "µ": "u",
        "’": "'",
        "“": '"',
        "”": '"',
        "…": "...",
        "\u2212": "-",
    }
)
"""What a stream that has no such letters gets instead."""


def words(text: str, style: str = "") -> Text:
    """Return text in which no line ends between a number and its unit."""
    return Text(BEFORE_UNIT.sub(HELD, NO_BREAK.sub(HELD, text)), style=style)


class Page:
    """Prints to standard output, or to the error stream, one paragraph after the other."""

    def __init__(self, *, to_errors: bool = False) -> None:
        self._stream: TextIO = sys.stderr if to_errors else sys.stdout
        on_terminal = self._stream.isatty()
        self._console = Console(file=self._stream, theme=THEME, highlight=False)
        widest = min(max(self._console.width, NARROWEST), WIDEST)
        self.width = widest if on_terminal else WIDTH
        self._console.width = self.width

    def show(self, *what: RenderableType) -> None:
        """Print what is given, each on lines of its own."""
        with self._console.capture() as captured:
            for each in what:
                self._console.print(each)
        text = TRAILING.sub("", captured.get().replace(HELD, " "))
        self._stream.write(text if self._writes(text) else _plain(text, self._stream))

    def line(self, text: str = "", style: str = "", *, indent: int = 0) -> None:
        """Print a paragraph, indented as a whole."""
        self.show(Padding(words(text, style), (0, 0, 0, indent)) if indent else words(text, style))

    def whole(self, text: str) -> None:
        """Print one line as it is, however long: a path in it can be clicked and copied."""
        self._stream.write(text + "\n" if self._writes(text) else _plain(text, self._stream) + "\n")

    def bullet(self, mark: str, text: str, *, indent: int = 0, style: str = "") -> None:
        """Print a paragraph behind a mark that stands alone."""
        grid = Table.grid(padding=(0, 1, 0, 0))
        grid.add_column(no_wrap=True)
        grid.add_column()
        grid.add_row(words(mark, style), words(text, style))
        self.show(Padding(grid, (0, 0, 0, indent)))

    def head(self, text: str, *, heavy: bool = False, style: str = "head") -> None:
        """Print a heading with a rule to the edge of the page."""
        room = self.width - len(text) - 1
        if room <= 0:
            self.line(text, style)
            return
        rule = ("━" if heavy else "─") * room
        self.show(Text.assemble((text, style), " ", (rule, "quiet"), no_wrap=True))

    def ends(self, left: str, right: str, *, indent: int = 0) -> None:
        """Print a place on the left and its code on the right."""
        grid = Table.grid(expand=True)
        grid.add_column(ratio=1)
        grid.add_column(justify="right", no_wrap=True)
        grid.add_row(words(left, "place"), words(f"  {right}", "quiet"))
        self.show(Padding(grid, (0, 0, 0, indent)))

    def _writes(self, text: str) -> bool:
        try:
            text.encode(self._stream.encoding or "utf-8")
        except UnicodeEncodeError:
            return False
        return True


def listing(heads: Sequence[str], rows: Iterable[Sequence[str | Text]], *, right: int = 0) -> Table:
    """Return a table without lines; the last `right` columns hold numbers, kept whole."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="quiet")
    for number, name in enumerate(heads):
        is_number = number >= len(heads) - right
        table.add_column(name, justify="right" if is_number else "left", no_wrap=is_number)
    for row in rows:
        table.add_row(*(words(cell) if isinstance(cell, str) else cell for cell in row))
    return table


def _plain(text: str, stream: TextIO) -> str:
    encoding = stream.encoding or "ascii"
    return text.translate(PLAIN).encode(encoding, "replace").decode(encoding)
