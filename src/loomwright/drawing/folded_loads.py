"""The loads of a folded circuit: rungs between the way out and the way home."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.folded_layout import (
    HOME_WORDS_MM,
    HOME_X_MM,
    OUT_X_MM,
    SMALL_MM,
    Fold,
    PlacedFloor,
)
from loomwright.drawing.folded_rails import thickness_mm
from loomwright.drawing.ink import INK, PAPER, SOFT_INK
from loomwright.drawing.lamps import glow_disc, load_mark
from loomwright.drawing.lettering import Label, shortened
from loomwright.drawing.run_loads import LoadLine, is_on, load_lines
from loomwright.drawing.run_marks import WRONG_WAY
from loomwright.drawing.run_plan import LoadMark
from loomwright.drawing.run_strands import flow_of
from loomwright.drawing.shapes import arrowhead, ring
from loomwright.drawing.wires import conductor
from loomwright.quantities import show_length

BRANCH_SHARE = 0.45
DISC_X_MM = 21.0
DISC_MM = 3.2
BACK_X_MM = 11.6
BACK_MM = 4.6
TEXT_X_MM = 27.5
ABOVE_MM = 2.6
BELOW_MM = 5.4
GAP_MM = 2.0


def rung(fold: Fold, placed: PlacedFloor) -> Markup:
    """Draw the branch to a load and its ground wire, to lie below the two rails.

    A load that is marked so lets current back out into its supply: an arrowhead says it.
    """
    mark = placed.floor.load
    if mark is None:
        return Markup("")
    line, y = _line(fold, mark), placed.middle
    live = None if fold.readings.answer is None else is_on(line)
    own = fold.readings.is_home_live(mark)
    home = live if own is None else own
    back = any(each.mark.code == WRONG_WAY for each in placed.marks)
    out = BRANCH_SHARE * thickness_mm(live), flow_of(live, is_home=back)
    drawn = conductor(((OUT_X_MM, y), (DISC_X_MM, y)), mark.branch.colour, *out)
    way_home = BRANCH_SHARE * thickness_mm(home), flow_of(home)
    drawn += conductor(((DISC_X_MM, y), (HOME_X_MM, y)), None, *way_home)
    return drawn + (arrowhead(BACK_X_MM, y, BACK_MM) if back else Markup(""))


def load_marks(fold: Fold, placed: PlacedFloor) -> Markup:
    """Draw one load with its taps, its name and its figures."""
    mark = placed.floor.load
    if mark is None:
        return Markup("")
    line, y = _line(fold, mark), placed.middle
    drawn = ring(OUT_X_MM, y, 1.1, 0.4, fill=INK)
    drawn += ring(HOME_X_MM, y, 1.1, 0.4, fill=PAPER if fold.circuit.by_frame else INK)
    return drawn + _symbol(line, y) + _words(fold, line, y)


def _line(fold: Fold, mark: LoadMark) -> LoadLine:
    (line,) = load_lines(fold.plan, fold.readings, (mark,))
    return line


def _symbol(line: LoadLine, y: float) -> Markup:
    answer = line.answer
    if line.mark.form == "lamp":
        share = None if answer is None else answer.light_share
        if answer is not None and answer.word == "off":
            share = 0.0
        return glow_disc(DISC_X_MM, y, share, line.mark.glow, DISC_MM, is_flashing=line.is_flashing)
    return load_mark(line.mark.form, DISC_X_MM, y, is_on=is_on(line), half=DISC_MM)


def _words(fold: Fold, line: LoadLine, y: float) -> Markup:
    room = HOME_WORDS_MM - TEXT_X_MM
    distance = show_length(line.mark.back_m, fold.plan.rig.units)
    far = Label(distance, HOME_WORDS_MM, y - ABOVE_MM, SMALL_MM, anchor="end", ink=SOFT_INK)
    name = shortened(line.mark.name, room - far.width - GAP_MM, SMALL_MM)
    drawn = far.svg() + Label(name, TEXT_X_MM, y - ABOVE_MM, SMALL_MM).svg()
    if line.answer is None:
        branch = line.figures[1]
        return drawn + Label(branch, TEXT_X_MM, y + BELOW_MM, SMALL_MM, ink=SOFT_INK).svg()
    volts, strength, word = line.figures
    x = TEXT_X_MM
    for text, bold in ((volts, True), (strength, False)):
        if text:
            ink = INK if bold else SOFT_INK
            label = Label(text, x, y + BELOW_MM, SMALL_MM, bold=bold, ink=ink)
            drawn += label.svg()
            x += label.width + GAP_MM
    lit = word != "off"
    ink = INK if lit else SOFT_INK
    end = Label(word, HOME_WORDS_MM, y + BELOW_MM, SMALL_MM, bold=lit, anchor="end", ink=ink)
    return drawn + end.svg()
