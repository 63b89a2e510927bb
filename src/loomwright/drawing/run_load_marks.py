"""The loads at the far end of the run, drawn: mark on its rail, name and figures in columns."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.ink import INK, SMALL_MM, SOFT_INK
from loomwright.drawing.lamps import glow_disc, load_mark
from loomwright.drawing.lettering import Label
from loomwright.drawing.run_layout import Scene
from loomwright.drawing.run_loads import (
    GAP_MM,
    RAIL_STEP_MM,
    SYMBOL_X_MM,
    TEXT_X_MM,
    LoadLine,
    column_widths,
    is_on,
)


def load_text(line: LoadLine, scene: Scene, y: float) -> Markup:
    """Write name and figures in their columns."""
    baseline = y + 0.36 * SMALL_MM
    every = [each for lines in scene.lines.values() for each in lines]
    rails = max((each.rail for each in every), default=0)
    names, *widths = column_widths(every)
    x = scene.x.loads.left + SYMBOL_X_MM + RAIL_STEP_MM * rails + TEXT_X_MM
    drawn = Label(line.name, x, baseline, SMALL_MM).svg()
    x += names
    lit = line.answer is None or line.answer.word != "off"
    for number, (figure, width) in enumerate(zip(line.figures, widths, strict=True)):
        if width:
            x += GAP_MM + width
        if figure:
            strong = number != 1 and lit
            at = x - width if number == 2 else x
            drawn += Label(
                figure,
                at,
                baseline,
                SMALL_MM,
                bold=strong,
                anchor="start" if number == 2 else "end",
                ink=INK if strong else SOFT_INK,
            ).svg()
    return drawn


def load_symbol(line: LoadLine, x: float, y: float) -> Markup:
    """Draw the load at the end of its branch."""
    answer = line.answer
    if line.mark.form == "lamp":
        share = None if answer is None else answer.light_share
        if answer is not None and answer.word == "off":
            share = 0.0
        return glow_disc(x, y, share, line.mark.glow, is_flashing=line.is_flashing)
    return load_mark(line.mark.form, x, y, is_on=is_on(line))


def rail_x(scene: Scene, number: int) -> float:
    """Return where the rail of a return runs down."""
    return scene.x.loads.left + SYMBOL_X_MM + RAIL_STEP_MM * number
