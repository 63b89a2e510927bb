"""The face of a socket as it is probed: which pins are live, to be read at arm's length."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.ink import INK, LINE_MM, PAPER, SOFT_INK, STRONG_MM
from loomwright.drawing.lettering import Box, Label, shortened, text_width_mm
from loomwright.drawing.shapes import outline, ring
from loomwright.drawing.svg import document
from loomwright.reference.connectors import Connector, Pin

WIDTH_MM = 100.0
SHELL_MM = 38.0
PIN_MM = 6.4
NUMBER_MM = 5.6
WORD_MM = 4.4
SMALL_MM = 3.6
LEAST_MM = 3.0
TOP_MM = 8.0
ROW_MM = 24.0
MOST_IN_A_ROW = 5


@dataclass(frozen=True, slots=True)
class PinShows:
    """What is found at a pin: a word or volts, and whether that means it is live."""

    says: str
    is_live: bool


def probed_face(connector: Connector, shown: Mapping[str, PinShows], says: str = "") -> str:
    """Return the face of a socket with its live pins solid, looking into the socket.

    Parameters
    ----------
    connector : Connector
        What is drawn; where its layout is not confirmed the pins stand in a row.
    shown : mapping of str to PinShows
        What is found at each pin, by its number.
    says : str
        Read aloud in place of the drawing; what is live, if left out.

    Returns
    -------
    str
        SVG, 100 mm wide.
    """
    is_round = connector.is_layout_known and connector.row.shape == "round"
    places = _round(connector) if is_round else _rows(connector)
    bottom = max(y for _, _, y in places) + PIN_MM + 8.0
    head = "Looking into the socket" if connector.is_layout_known else "By the numbers moulded in"
    drawn = Label(head, 2.0, 5.0, SMALL_MM, ink=SOFT_INK).svg() + _shell(places, is_round=is_round)
    for pin, x, y in places:
        drawn += _pin(pin, x, y, shown.get(pin.number), _room_mm(places, x, y))
    return document(
        WIDTH_MM,
        max(bottom, TOP_MM + 2 * SHELL_MM + 2.0) if is_round else bottom,
        drawn,
        title=connector.title,
        says=says or _says(shown),
    )


def _says(shown: Mapping[str, PinShows]) -> str:
    live = [f"pin {number} {each.says}" for number, each in shown.items() if each.is_live]
    return ("Live: " + ", ".join(live)) if live else "No pin is live"


Placed = list[tuple[Pin, float, float]]


def _round(connector: Connector) -> Placed:
    reach = SHELL_MM - PIN_MM - 8.0
    widest = max((x * x + y * y) ** 0.5 for _, x, y in connector.face())
    return [
        (pin, WIDTH_MM / 2 + x / widest * reach, TOP_MM + SHELL_MM - 1.5 - y / widest * reach)
        for pin, x, y in connector.face()
    ]


def _rows(connector: Connector) -> Placed:
    """Put the pins where they are in a flat face; a plain list is broken, for large numbers."""
    face = connector.face()
    top = TOP_MM + PIN_MM + 4.0
    if connector.is_layout_known:
        heights = sorted({y for _, _, y in face}, reverse=True)
        reach = max(abs(x) for _, x, _ in face)
        edge = WIDTH_MM / 2 - PIN_MM - 4.0
        return [
            (pin, WIDTH_MM / 2 + x / reach * edge, top + ROW_MM * heights.index(y))
            for pin, x, y in face
        ]
    step = (WIDTH_MM - 16.0) / MOST_IN_A_ROW
    return [
        (
            pin,
            8.0 + step * (number % MOST_IN_A_ROW + 0.5),
            top + ROW_MM * (number // MOST_IN_A_ROW),
        )
        for number, (pin, _, _) in enumerate(face)
    ]


def _shell(places: Placed, *, is_round: bool) -> Markup:
    if is_round:
        middle = TOP_MM + SHELL_MM
        return ring(WIDTH_MM / 2, middle, SHELL_MM, STRONG_MM) + ring(
            WIDTH_MM / 2, middle, SHELL_MM - 1.8, LINE_MM
        )
    top = min(y for _, _, y in places) - PIN_MM - 3.0
    bottom = max(y for _, _, y in places) + PIN_MM + 7.0
    return outline(Box(2.0, top, WIDTH_MM - 2.0, bottom), STRONG_MM, 3.0)


def _room_mm(places: Placed, x: float, y: float) -> float:
    """Return how wide a word below a pin may be before it meets its neighbours'."""
    apart = [abs(x - other) for _, other, at in places if other != x and abs(at - y) < WORD_MM]
    return min([*apart, 26.0]) - 1.0


def _pin(pin: Pin, x: float, y: float, shows: PinShows | None, room_mm: float) -> Markup:
    live = shows is not None and shows.is_live
    radius = min(PIN_MM, 0.45 * (room_mm + 1.0))
    drawn = ring(x, y, radius, STRONG_MM, fill=INK if live else PAPER)
    wide = text_width_mm(pin.number, NUMBER_MM, bold=True)
    size = min(NUMBER_MM, NUMBER_MM * 1.4 * radius / wide)
    ink = PAPER if live else INK
    drawn += Label(pin.number, x, y + 0.36 * size, size, True, "middle", ink).svg()
    if shows is None:
        return drawn
    word = WORD_MM if live else SMALL_MM
    word = max(LEAST_MM, min(word, word * room_mm / text_width_mm(shows.says, word, bold=live)))
    said = shortened(shows.says, room_mm, word, bold=live)
    under = y + PIN_MM + 4.6
    return drawn + Label(said, x, under, word, live, "middle", INK if live else SOFT_INK).svg()
