"""Consoles and the few styles of terminal output; all of it reads without colour too."""

from __future__ import annotations

import sys

from rich.console import Console
from rich.theme import Theme

WIDTH = 80

THEME = Theme(
    {
        "danger": "bold reverse",
        "must": "bold reverse",
        "should": "bold",
        "note": "default",
        "place": "underline",
        "quiet": "dim",
        "head": "bold",
    }
)


def console(*, to_errors: bool = False) -> Console:
    """Return a console of 80 columns at least where the output is not a terminal."""
    stream = sys.stderr if to_errors else sys.stdout
    width = None if stream.isatty() else WIDTH
    return Console(file=stream, theme=THEME, width=width, highlight=False, soft_wrap=False)
