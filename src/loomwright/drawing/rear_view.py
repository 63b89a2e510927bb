"""The rear of the trailer as one stands behind it: which lamps light, how, and in what colour."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from loomwright.drawing.ink import INK, LINE_MM, PAPER, SOFT_INK, STRONG_MM
from loomwright.drawing.lamps import glow_disc
from loomwright.drawing.lettering import Box, Label, shortened, text_width_mm
from loomwright.drawing.rear_view_places import HEIGHT_MM, WIDTH_MM, Seat, body_of, seats_of
from loomwright.drawing.shapes import outline, rule
from loomwright.drawing.svg import document
from loomwright.observations.word import Word
from loomwright.rig.model import Trailer

WORD_MM = 4.4
QUIET_MM = 3.6
LINE_STEP_MM = 4.8
SHARES = {
    Word.OFF: 0.0,
    Word.GLOW: 0.05,
    Word.DIM: 0.25,
    Word.PULSED: 0.6,
    Word.FLASHING_DIM: 0.25,
    Word.BRIGHT: 1.3,
}
"""How large the glow of a word is drawn; 1 for the others."""
STRENGTH = (
    Word.FLASHING,
    Word.FLASHING_FAST,
    Word.FLASHING_DIM,
    Word.FLICKER,
    Word.COMES_AND_GOES,
    Word.BRIGHT,
    Word.NORMAL,
    Word.ON,
    Word.PULSED,
    Word.DIM,
    Word.GLOW,
)
"""Which of the lights behind one lens the eye sees."""
FLASHES = (Word.FLASHING, Word.FLASHING_FAST, Word.FLASHING_DIM, Word.FLICKER)


@dataclass(frozen=True, slots=True)
class Lens:
    """One lens as it is drawn: where, in which colour, what is seen in it, and if that is wrong."""

    seat: Seat
    word: Word | None
    is_wrong: bool = False


def rear_view(
    trailer: Trailer, seen: Mapping[str, Word], says: str = "", wrong: Collection[str] = ()
) -> str:
    """Return a drawing of the trailer's rear with its lamps lit.

    Parameters
    ----------
    trailer : Trailer
        Whose rear it is; lamps on its sides and front stand below it.
    seen : mapping of str to Word
        What each load shows, by its name; lamps that are not named are drawn without a word.
    says : str
        Read aloud in place of the drawing; what lights, if left out.
    wrong : collection of str
        Loads that do not show what they must: their word stands in a solid block.

    Returns
    -------
    str
        SVG, 100 mm wide.

    Notes
    -----
    Where a lamp stands follows from its side and from the lamps it counts as; the job file does
    not say more. It is a picture of which lamp is meant, not of where to drill.
    """
    lenses = [_lens(seat, seen, wrong) for seat in seats_of(trailer)]
    written: list[Box] = []
    marks = Markup("").join(_mark(lens) for lens in lenses)
    words = Markup("").join(_written(lens, written) for lens in lenses)
    feet = [lens.seat.y + lens.seat.radius for lens in lenses]
    bottom = max([HEIGHT_MM, *(foot + 1.5 for foot in (*feet, *(box.bottom for box in written)))])
    head = Markup("")
    if any(lens.seat.slot == "away" for lens in lenses):
        head = Label("On the sides and in front", 4.0, 83.4, QUIET_MM, ink=SOFT_INK).svg()
    return document(
        WIDTH_MM,
        bottom,
        _rear(trailer),
        head,
        marks,
        words,
        title=f"Rear of {trailer.name}",
        says=says or _says(lenses),
        top_mm=max(body_of(trailer).top - 7.0, 0.0),
    )


def _lens(seat: Seat, seen: Mapping[str, Word], wrong: Collection[str]) -> Lens:
    word = _word(seat, seen)
    is_wrong = any(load in wrong and seen.get(load) is word for load in seat.loads)
    return Lens(seat, word, is_wrong and word is not None)


def _word(seat: Seat, seen: Mapping[str, Word]) -> Word | None:
    """Return what the eye sees through a lens with several lights behind it."""
    found = [seen[load] for load in seat.loads if load in seen]
    if not found:
        return None
    return min(found, key=lambda word: STRENGTH.index(word) if word in STRENGTH else 99)


def _says(lenses: list[Lens]) -> str:
    lit = [f"{lens.seat.name} {lens.word}" for lens in lenses if lens.word not in (None, Word.OFF)]
    wrong = [f"{lens.seat.name} {lens.word}" for lens in lenses if lens.is_wrong]
    said = ("Lights: " + ", ".join(lit)) if lit else "Nothing lights"
    return f"{said}. Wrong: {', '.join(wrong)}" if wrong else said


def _rear(trailer: Trailer) -> Markup:
    body = body_of(trailer)
    tyres = [Box(x, body.bottom, x + 9.0, 76.0) for x in (22.0, 69.0)]
    drawn = Markup("").join(outline(tyre, STRONG_MM, 1.5) + _tread(tyre) for tyre in tyres)
    drawn += outline(body, STRONG_MM, 1.5)
    drawn += rule((4.0, 76.0), (96.0, 76.0), line_mm=LINE_MM)
    drawn += Label("LEFT", 4.0, 73.4, WORD_MM, bold=True).svg()
    return drawn + Label("RIGHT", 96.0, 73.4, WORD_MM, bold=True, anchor="end").svg()


def _tread(tyre: Box) -> Markup:
    steps = range(1, int(tyre.height // 3.0))
    return Markup("").join(
        rule((tyre.left, tyre.top + 3.0 * n), (tyre.right, tyre.top + 3.0 * n)) for n in steps
    )


def _mark(lens: Lens) -> Markup:
    seat, word = lens.seat, lens.word
    share = None if word is None else SHARES.get(word, 1.0)
    drawn = Markup("")
    if seat.is_plate:
        drawn += outline(Box(seat.x - 8.0, seat.y + 2.6, seat.x + 8.0, seat.y + 8.6), LINE_MM, 0.8)
    for x in seat.xs:
        drawn += glow_disc(x, seat.y, share, seat.colour, seat.radius, is_flashing=word in FLASHES)
    return drawn


def _written(lens: Lens, written: list[Box]) -> Markup:
    """Write the word below its lens, lower if another word stands there."""
    seat, word = lens.seat, lens.word
    if seat.slot == "away":
        return _beside(lens, written)
    if word is None:
        return Markup("")
    loud = word is not Word.OFF or lens.is_wrong
    size = WORD_MM if loud else QUIET_MM
    half = text_width_mm(str(word), size, bold=loud) / 2
    x = min(max(seat.x, half + 2.0), WIDTH_MM - half - 2.0)
    label = Label(
        str(word),
        x,
        seat.y + seat.radius + (10.6 if seat.is_plate else 5.4),
        size,
        bold=loud,
        anchor="middle",
        ink=INK if loud else SOFT_INK,
    )
    label = _free(label, seat.y - seat.radius - 2.2, written)
    written.append(label.box)
    return _blocked(label) if lens.is_wrong else label.svg()


def _blocked(label: Label) -> Markup:
    """Draw a word in a solid block."""
    return outline(label.box.grown(0.9), LINE_MM, 0.5, fill=INK) + replace(label, ink=PAPER).svg()


def _beside(lens: Lens, written: list[Box]) -> Markup:
    """Write the name of a lamp that is not at the rear beside it, and its word below that."""
    seat, word = lens.seat, lens.word
    x = seat.x + seat.radius + 2.6
    room = WIDTH_MM / 2 - 2 * seat.radius - 8.0
    name = Label(shortened(seat.name, room, QUIET_MM), x, seat.y - 0.6, QUIET_MM)
    written.append(name.box)
    if word is None:
        return name.svg()
    loud = word is not Word.OFF or lens.is_wrong
    said = Label(
        str(word), x, seat.y + 4.2, QUIET_MM + 0.4 * loud, loud, ink=INK if loud else SOFT_INK
    )
    written.append(said.box)
    return name.svg() + (_blocked(said) if lens.is_wrong else said.svg())


def _free(label: Label, above_mm: float, written: list[Box]) -> Label:
    """Return a label where no other stands: below its lens, above it, or lower and lower."""

    def is_free(tried: Label) -> bool:
        return not any(tried.box.grown(0.6).overlaps(other) for other in written)

    above = replace(label, y=above_mm)
    if not is_free(label) and is_free(above):
        return above
    while not is_free(label):
        label = replace(label, y=label.y + LINE_STEP_MM)
    return label
