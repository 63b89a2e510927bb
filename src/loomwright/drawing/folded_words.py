"""What is written beside each side of a folded circuit's floors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from loomwright.drawing.folded_layout import (
    HOME_END_MM,
    HOME_WORDS_MM,
    OUT_END_MM,
    OUT_WORDS_MM,
    SMALL_MM,
    Fold,
)
from loomwright.drawing.folded_plan import FRAME, Floor, Half
from loomwright.drawing.function_words import function_words
from loomwright.drawing.lettering import text_width_mm
from loomwright.drawing.run_plan import CONVERTER_ROW
from loomwright.drawing.run_readings import RETURN_SHOWN_FROM_V, SHOWN_FROM_V
from loomwright.drawing.wires import colour_code
from loomwright.electrics.harness import CHASSIS
from loomwright.quantities import show_current, show_length, show_share


@dataclass(frozen=True, slots=True)
class Word:
    """A piece of a line; what is read under the command is bold."""

    text: str
    bold: bool = False

    @property
    def width(self) -> float:
        """Advance width. [mm]"""
        return text_width_mm(self.text, SMALL_MM, bold=self.bold)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of words."""

    words: tuple[Word, ...]
    GAP_MM: ClassVar[float] = 1.5

    @property
    def width(self) -> float:
        """Width with the gaps between words. [mm]"""
        return sum(each.width for each in self.words) + self.GAP_MM * (len(self.words) - 1)


def half_lines(fold: Fold, floor: Floor, half: Half, *, is_home: bool) -> tuple[Line, ...]:
    """Return the lines beside one side of a floor."""
    match half.form:
        case "wire":
            return _wire_lines(fold, half, is_home=is_home)
        case "fuse":
            return _fuse_lines(fold, half)
        case "box" if floor.kind == "station":
            return _box_lines(fold, half)
        case "body" if floor.title == "feed" or floor.kind == "stretch":
            return _body_lines(fold, floor, half)
        case "joint" | "ring" | "open" | "pin" | "screw":
            return _station_lines(fold, half, is_home=is_home)
        case _:
            return ()


def _wire_lines(fold: Fold, half: Half, *, is_home: bool) -> tuple[Line, ...]:
    """Code, size, length and current, in as few lines as they fit."""
    if half.wire is None:
        return ()
    words = []
    if half.wire.colour is not None:
        words.append(Word(colour_code(half.wire.colour), bold=True))
    words.append(Word(str(half.wire.size).replace(" ", "\u00a0")))
    words.append(Word(show_length(half.wire.length_m, fold.plan.rig.units)))
    amps = fold.readings.amps(half.ref)
    if amps is not None:
        words.append(Word(show_current(amps), bold=True))
    room = HOME_WORDS_MM - HOME_END_MM if is_home else OUT_END_MM - OUT_WORDS_MM
    return broken(words, room)


def broken(words: list[Word], room: float) -> tuple[Line, ...]:
    """Break words into lines no wider than the room, two to a line at most."""
    lines: list[Line] = []
    for word in words:
        if lines and len(lines[-1].words) < 2:
            longer = Line((*lines[-1].words, word))
            if longer.width <= room:
                lines[-1] = longer
                continue
        lines.append(Line((word,)))
    return tuple(lines)


def _fuse_lines(fold: Fold, half: Half) -> tuple[Line, ...]:
    place = "converter" if half.ref == f"{CONVERTER_ROW}.feed" else "feed_"
    answer = fold.readings.fuse(half.function, place)
    first = Line((Word("fuse"),))
    if answer is None or half.fuse is None:
        return (first,)
    if answer.opened:
        return (first, Line((Word("open", bold=True),)))
    share = show_share(round(answer.share, 2))
    return (first, Line((Word(f"{share} of its rating", bold=False),)))


def _box_lines(fold: Fold, half: Half) -> tuple[Line, ...]:
    """Name of the converter, and what it takes or gives in this circuit."""
    box = fold.plan.rig.converter
    name = "converter" if box is None else box.name
    lines = [Line((Word(name, bold=True),))]
    if half.ref.startswith("converter.channel."):
        lines.append(Line((Word(f"gives {function_words(half.function)}"),)))
        volts = fold.readings.volts(half.node)
        lines += [Line((Word(volts, bold=True),))] if volts else []
    elif half.ref == "converter.ground":
        lines.append(Line((Word("its own supply"),)))
    else:
        lines.append(Line((Word(f"senses {function_words(half.function)}"),)))
    return tuple(lines)


def _body_lines(fold: Fold, floor: Floor, half: Half) -> tuple[Line, ...]:
    if half.says == FRAME:
        return (Line((Word("trailer frame"),)), Line((Word("is the return"),)))
    if floor.title != "feed":
        return ()
    volts = fold.readings.volts(CHASSIS, RETURN_SHOWN_FROM_V)
    lines = [Line((Word("vehicle chassis"),))]
    return (*lines, Line((Word(volts, bold=True),))) if volts else tuple(lines)


def _station_lines(fold: Fold, half: Half, *, is_home: bool) -> tuple[Line, ...]:
    lines = []
    if half.form == "joint" or (half.form == "open" and half.station != "plug"):
        lines.append(Line((Word(half.says.replace("-", " ")),)))
    elif half.form == "open":
        lines.append(Line((Word("meets nothing"),)))
    elif half.form == "ring" and half.says != FRAME:
        lines.append(Line((Word("ring on chassis"),)))
    least = RETURN_SHOWN_FROM_V if is_home else SHOWN_FROM_V
    volts = fold.readings.volts(half.node, least) if half.node else ""
    if volts:
        lines.append(Line((Word(volts, bold=True),)))
    return tuple(lines)
