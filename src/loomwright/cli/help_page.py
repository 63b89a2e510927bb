"""How help looks: ruled headings, weight for names, no colour."""

from __future__ import annotations

import sys

from cyclopts.help import DefaultFormatter, PanelSpec
from rich.box import Box
from rich.console import Console
from rich.theme import Theme

from loomwright.cli.paint import WIDTH

RULED = Box("────\n" + "    \n" * 7)
"""A heading with a rule to the edge of the page, and nothing round the rest."""

THEME = Theme(
    {
        "cyclopts.name": "bold",
        "cyclopts.required_marker": "bold",
        "cyclopts.choices": "dim",
        "cyclopts.env_var": "dim",
        "cyclopts.default": "dim",
        "cyclopts.required": "bold",
        "cyclopts.border": "dim",
        "cyclopts.usage": "bold",
    }
)


def help_console() -> Console:
    """Return a console in ink, eighty columns wide where nobody says otherwise."""
    width = None if sys.stdout.isatty() else WIDTH
    return Console(theme=THEME, width=width, highlight=False)


def help_formatter() -> DefaultFormatter:
    """Return the layout of each group of commands or options."""
    return DefaultFormatter(panel_spec=PanelSpec(box=RULED, padding=(0, 0)))
