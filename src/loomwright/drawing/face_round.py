"""A round face: shell, ring of contacts, centre, key, and leaders to labels on both sides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, radians, sin
from typing import Literal

from markupsafe import Markup

from loomwright.drawing.contacts import Form, contact, edge_mm
from loomwright.drawing.face_page import HEADING_MM, WIDTH_MM, View
from loomwright.drawing.ink import HAIRLINE_MM, INK, LINE_MM, PAPER, STRONG_MM
from loomwright.drawing.lettering import Box
from loomwright.drawing.pin_labels import PinLabel, beside
from loomwright.drawing.shapes import ring, rule
from loomwright.drawing.svg import el, points
from loomwright.reference.connectors import Pin

SHELL_MM = 23.0
RING_SHARE = 0.98
CENTRE_X_MM = WIDTH_MM / 2
CENTRE_Y_MM = HEADING_MM + SHELL_MM + 4.0
COLUMN_MM = SHELL_MM + 10.0
LABEL_ROOM_MM = WIDTH_MM / 2 - COLUMN_MM - 1.0
ROW_PITCH_MM = 12.4
LEAN = radians(13)

LabelSide = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class _Seat:
    """A contact on the page, the side its label goes to and where its leader leaves the shell."""

    pin: Pin
    form: Form
    x: float
    y: float
    side: LabelSide
    exit_angle: float

    @property
    def exit(self) -> tuple[float, float]:
        reach = SHELL_MM + 1.6
        return CENTRE_X_MM + reach * cos(self.exit_angle), CENTRE_Y_MM - reach * sin(
            self.exit_angle
        )


def round_face(view: View, labels: Mapping[str, PinLabel]) -> tuple[Markup, float]:
    """Draw the face; also return its height below the heading. [mm]"""
    seats = _seats(view)
    leaders, texts = Markup(""), Markup("")
    for side in ("left", "right"):
        drawn, written = _column(side, [seat for seat in seats if seat.side == side], labels)
        leaders, texts = leaders + drawn, texts + written
    bodies = Markup("").join(
        contact(s.form, s.pin.number, s.x, s.y, (CENTRE_X_MM, CENTRE_Y_MM)) for s in seats
    )
    return _shell(view) + leaders + bodies + texts, 2 * SHELL_MM + 14.0


def round_body(view: View) -> tuple[Markup, Box]:
    """Draw the face without its labels; also return the rectangle it fills."""
    centre = CENTRE_X_MM, CENTRE_Y_MM
    contacts = Markup("").join(
        contact(seat.form, seat.pin.number, seat.x, seat.y, centre) for seat in _seats(view)
    )
    reach = SHELL_MM + 3.0
    box = Box(CENTRE_X_MM - reach, CENTRE_Y_MM - reach, CENTRE_X_MM + reach, CENTRE_Y_MM + reach)
    return _shell(view) + contacts, box


def _shell(view: View) -> Markup:
    drawn = _circle(SHELL_MM, STRONG_MM)
    if not view.is_rear:
        drawn += _circle(SHELL_MM - 1.6, HAIRLINE_MM)
    if view.key_hour is None:
        return drawn
    angle = pi / 2 - view.key_hour * pi / 6
    depth = SHELL_MM - 1.6 if not view.is_rear else SHELL_MM
    across, along = 2.0, 2.6
    x, y = CENTRE_X_MM + depth * cos(angle), CENTRE_Y_MM - depth * sin(angle)
    side = (-sin(angle) * across, -cos(angle) * across)
    inward = (-cos(angle) * along, sin(angle) * along)
    outline = points(
        (x + side[0], y + side[1]),
        (x + side[0] + inward[0], y + side[1] + inward[1]),
        (x - side[0] + inward[0], y - side[1] + inward[1]),
        (x - side[0], y - side[1]),
    )
    drawn += el(
        "path", d=outline, fill=INK if view.is_plug else PAPER, stroke=INK, stroke_width=LINE_MM
    )
    return drawn + (_hinge() if "hinge" in view.connector.row.key_mark and not view.is_plug else "")


def _hinge() -> Markup:
    return Markup("").join(
        el(
            "rect",
            x=CENTRE_X_MM + x,
            y=CENTRE_Y_MM - SHELL_MM - 2.6,
            width=width,
            height=2.3,
            rx=0.8,
            fill=PAPER,
            stroke=INK,
            stroke_width=LINE_MM,
        )
        for x, width in ((-9.0, 5.0), (-4.0, 8.0), (4.0, 5.0))
    )


def _circle(radius: float, width: float) -> Markup:
    return ring(CENTRE_X_MM, CENTRE_Y_MM, radius, width)


def _seats(view: View) -> list[_Seat]:
    places = view.places()
    around = [atan2(y, x) for _, x, y in places if hypot(x, y) > 0.2]
    seats: list[_Seat] = []
    taken: dict[LabelSide, int] = {
        "left": sum(x < -0.05 for _, x, _ in places),
        "right": sum(x > 0.05 for _, x, _ in places),
    }
    for pin, x, y in places:
        side: LabelSide = "left" if x < -0.05 else "right"
        if abs(x) <= 0.05:
            side = "left" if taken["left"] < taken["right"] else "right"
            taken[side] += 1
        angle = _exit_angle(x, y, side, around)
        reach = RING_SHARE * SHELL_MM
        px, py = CENTRE_X_MM + reach * x, CENTRE_Y_MM - reach * y
        seats.append(_Seat(pin, view.form(pin), px, py, side, angle))
    return seats


def _exit_angle(x: float, y: float, side: LabelSide, ring_angles: list[float]) -> float:
    """Angle at which a leader leaves: straight out, past the key, or between two contacts."""
    towards = 0.0 if side == "right" else pi
    if hypot(x, y) <= 0.2:
        around = sorted(angle % (2 * pi) for angle in ring_angles)
        gaps = [
            (a + ((b - a) % (2 * pi)) / 2)
            for a, b in zip(around, around[1:] + around[:1], strict=True)
        ]
        return min(gaps, key=lambda gap: (round(_apart(gap, towards), 3), -sin(gap)))
    angle = atan2(y, x)
    if abs(x) > 0.05:
        return angle
    lean = -LEAN if side == "right" else LEAN
    return angle + (lean if y > 0 else -lean)


def _spread(wanted: list[float]) -> list[float]:
    """Move heights apart to the row pitch, as little as it takes, around the same middle."""
    downwards, upwards = wanted.copy(), wanted.copy()
    for i in range(1, len(wanted)):
        downwards[i] = max(downwards[i], downwards[i - 1] + ROW_PITCH_MM)
        upwards[-1 - i] = min(upwards[-1 - i], upwards[-i] - ROW_PITCH_MM)
    return [(down + up) / 2 for down, up in zip(downwards, upwards, strict=True)]


def _apart(one: float, other: float) -> float:
    return abs((one - other + pi) % (2 * pi) - pi)


def _column(
    side: LabelSide, seats: list[_Seat], labels: Mapping[str, PinLabel]
) -> tuple[Markup, Markup]:
    sign = 1.0 if side == "right" else -1.0
    x = CENTRE_X_MM + sign * COLUMN_MM
    leaders, texts = Markup(""), Markup("")
    in_order = sorted(seats, key=lambda seat: seat.exit[1])
    for seat, y in zip(in_order, _spread([seat.exit[1] for seat in in_order]), strict=True):
        angle = atan2(seat.exit[1] - seat.y, seat.exit[0] - seat.x)
        start = edge_mm(seat.form)
        leaders += rule(
            (seat.x + start * cos(angle), seat.y + start * sin(angle)),
            seat.exit,
            (x - sign * 4.0, y),
            (x - sign * 1.2, y),
            line_mm=HAIRLINE_MM,
        )
        texts += beside(labels[seat.pin.number], x, y, LABEL_ROOM_MM, side)
    return leaders, texts
