"""Insulation colours, read as any manual writes them and never guessed."""

from __future__ import annotations

from loomwright.colours.colour import Colour, Pattern, colour_names
from loomwright.colours.legends import legends
from loomwright.colours.reading import AmbiguousColour, read_colour

__all__ = ["AmbiguousColour", "Colour", "Pattern", "colour_names", "legends", "read_colour"]
