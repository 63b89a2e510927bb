"""A flat face: contacts in one or two rows, with the labels above and below."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from markupsafe import Markup

from loomwright.drawing.contacts import RADIUS_MM, Form, contact
from loomwright.drawing.face_page import HEADING_MM, WIDTH_MM, View
from loomwright.drawing.ink import HAIRLINE_MM, LINE_MM, STRONG_MM
from loomwright.drawing.lettering import Box
from loomwright.drawing.pin_labels import PinLabel, under, under_height_mm
from loomwright.drawing.shapes import outline, rule
from loomwright.reference.connectors import Pin

WIDEST_PITCH_MM = 25.0
ROOM_MM = WIDTH_MM - 18.0
ROW_GAP_MM = 10.0
INSET_MM = 1.4
LEADER_MM = 3.0
SHROUD_FAMILIES = ("4-flat", "5-flat")

Row = list[tuple[Pin, float]]


def flat_face(view: View, labels: Mapping[str, PinLabel]) -> tuple[Markup, float]:
    """Draw the face; also return its height below the heading. [mm]"""
    rows, pitch = _rows(view)
    room = pitch - 1.6
    above = 0.0
    if len(rows) > 1:
        above = max(under_height_mm(labels[pin.number], room) for pin, _ in rows[0]) + LEADER_MM
    top = HEADING_MM + above + 1.0
    bottom = top + ROW_GAP_MM * len(rows) + 2.0
    xs = [x for row in rows for _, x in row]
    edge = min(pitch / 2, 7.0)
    drawn = _body(view, Box(min(xs) - edge, top, max(xs) + edge, bottom), rows[-1])
    deepest = 0.0
    for index, row in enumerate(rows):
        y = top + 1.0 + ROW_GAP_MM * (index + 0.5)
        for pin, x in row:
            drawn += contact(view.form(pin), pin.number, x, y, (x, y))
            label = labels[pin.number]
            if index == 0 and len(rows) > 1:
                tall = under_height_mm(label, room)
                drawn += under(label, x, top - LEADER_MM - tall, room)[0]
                drawn += _leader(x, y - RADIUS_MM, top - LEADER_MM + 0.4)
            else:
                drawn += _leader(x, y + RADIUS_MM, bottom + LEADER_MM - 0.6)
                block, tall = under(label, x, bottom + LEADER_MM, room)
                drawn += block
                deepest = max(deepest, tall)
    return drawn, bottom + LEADER_MM + deepest + 2.0 - HEADING_MM


def flat_body(view: View) -> tuple[Markup, Box]:
    """Draw the face without its labels; also return the rectangle it fills."""
    rows, pitch = _rows(view)
    xs, edge = [x for row in rows for _, x in row], min(pitch / 2, 7.0)
    box = Box(min(xs) - edge, 0.0, max(xs) + edge, ROW_GAP_MM * len(rows) + 2.0)
    drawn = _body(view, box, rows[-1])
    for index, row in enumerate(rows):
        y = 1.0 + ROW_GAP_MM * (index + 0.5)
        for pin, x in row:
            drawn += contact(view.form(pin), pin.number, x, y, (x, y))
    return drawn, box.grown(1.0)


def _rows(view: View) -> tuple[list[Row], float]:
    places = view.places()
    heights = sorted({y for _, _, y in places}, reverse=True)
    steps = sorted({x for _, x, _ in places})
    step = min(b - a for a, b in pairwise(steps))
    pitch = min(WIDEST_PITCH_MM, ROOM_MM * step / (steps[-1] - steps[0]))
    rows = [
        [(pin, WIDTH_MM / 2 + x / step * pitch) for pin, x, at in places if at == height]
        for height in heights
    ]
    return rows, pitch


def _body(view: View, box: Box, row: Row) -> Markup:
    drawn = outline(box, STRONG_MM, 3.0)
    if view.is_rear:
        return drawn
    if view.connector.row.family not in SHROUD_FAMILIES:
        return drawn + outline(box.grown(-INSET_MM), HAIRLINE_MM, 2.0)
    sleeves = [x for pin, x in row if view.form(pin) is Form.SLEEVE]
    near = RADIUS_MM + 1.3
    inner = box.grown(-INSET_MM)
    shroud = Box(min(sleeves) - near, inner.top, max(sleeves) + near, inner.bottom)
    return drawn + outline(shroud, LINE_MM, 2.6)


def _leader(x: float, start: float, end: float) -> Markup:
    return rule((x, start), (x, end), line_mm=HAIRLINE_MM)
