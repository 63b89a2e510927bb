"""The graphic constants of every drawing: ink, paper, line weights and one scale of type. [mm]"""

from __future__ import annotations

INK = "#1d2124"
SOFT_INK = "#4b5257"
PAPER = "#ffffff"

HAIRLINE_MM = 0.18
LINE_MM = 0.3
STRONG_MM = 0.6
EDGE_MM = 0.22
"""Width of the ink edge on each side of a conductor."""

SMALL_MM = 2.4
BODY_MM = 2.9
LARGE_MM = 3.8
HEAD_MM = 5.0
