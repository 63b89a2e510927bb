"""The stations of the run: battery, fuses, converter, joints, socket and plug, junction."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.function_words import function_words
from loomwright.drawing.ink import HAIRLINE_MM, INK, LINE_MM, PAPER, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lettering import Box, Label
from loomwright.drawing.run_layout import (
    BOX_LEFT_MM,
    BOX_RIGHT_MM,
    FUSE_MM,
    PLUG_HALF_MM,
    SOCKET_HALF_MM,
    Column,
    Scene,
)
from loomwright.drawing.run_plan import CONVERTER_ROW
from loomwright.drawing.run_words import BELOW_MM
from loomwright.drawing.shapes import outline, ring, rule
from loomwright.drawing.wires import conductor
from loomwright.electrics.boxes import output_node
from loomwright.quantities import show_current, show_voltage

BARREL_MM = 4.4
TAIL_MM = 1.1


def battery(scene: Scene) -> Markup:
    """Draw the battery, its plus bar to every fuse and its minus at the return."""
    x, top, bottom = scene.x.battery, scene.y.top, scene.y.bottom
    body = Box(x.left, top + 1.2, x.right, bottom)
    drawn = Markup("").join(
        outline(Box(post - 1.5, top, post + 1.5, top + 1.2), LINE_MM, fill=INK)
        for post in (x.left + 3.2, x.right - 3.2)
    )
    drawn += outline(body, STRONG_MM, 0.8)
    fed = [scene.y.rows[row] for row in scene.plan.rows if row in scene.plan.feeds]
    drawn += rule(
        (x.right, fed[0]), (scene.x.bus, fed[0]), (scene.x.bus, fed[-1]), line_mm=STRONG_MM
    )
    drawn += Label("+", x.right - 2.4, fed[0] + 1.2, 3.8, bold=True, anchor="middle").svg()
    home = scene.y.bottom - 3.0
    drawn += Label("−", x.right - 2.4, home + 1.2, 3.8, bold=True, anchor="middle").svg()
    volts = (
        scene.plan.rig.vehicle.supply.running_v
        if scene.readings.answer is None
        else scene.readings.answer.supply_v
    )
    middle = (top + bottom) / 2
    drawn += Label("battery", x.middle, middle - 1.0, SMALL_MM, anchor="middle").svg()
    return (
        drawn
        + Label(
            show_voltage(volts), x.middle, middle + 2.6, SMALL_MM, bold=True, anchor="middle"
        ).svg()
    )


def fuse(scene: Scene, row: str) -> Markup:
    """Draw the fuse of a feed with its rating, or leave the place empty where there is none."""
    feed = scene.plan.feeds[row]
    if feed.fuse is None:
        return Markup("")
    x, y = scene.x.fuse_x, scene.y.rows[row]
    drawn = outline(Box(x - FUSE_MM / 2, y - 1.8, x + FUSE_MM / 2, y + 1.8), 0.4, 0.8)
    rating = show_current(feed.fuse.rating_a)
    drawn += Label(rating, x, y + 0.36 * SMALL_MM, SMALL_MM, bold=True, anchor="middle").svg()
    answer = scene.readings.fuse(feed.function, "converter" if row == CONVERTER_ROW else "feed_")
    if answer is not None and answer.opened:
        drawn += Label("open", x, y + BELOW_MM + 0.6, SMALL_MM, bold=True, anchor="middle").svg()
    return drawn


def splice(x: float, y: float) -> Markup:
    """Draw a joint: a barrel with its two crimps."""
    drawn = outline(Box(x - BARREL_MM / 2, y - 1.3, x + BARREL_MM / 2, y + 1.3), LINE_MM, 0.6)
    return drawn + Markup("").join(
        rule((x + d, y - 1.3), (x + d, y + 1.3), line_mm=HAIRLINE_MM) for d in (-1.0, 1.0)
    )


def converter(scene: Scene) -> Markup:
    """Draw the converter over the rows it takes and gives, with the words of its outputs."""
    column = scene.x.joins[0]
    handled = [row for row, _ in scene.plan.outputs] + [CONVERTER_ROW]
    taken = [row for row in scene.plan.rows if row in handled or _is_input(scene, row)]
    heights = [scene.y.rows[row] for row in taken if row in scene.y.rows]
    box = Box(
        column.left + BOX_LEFT_MM,
        min(heights) - 4.4,
        column.right - BOX_RIGHT_MM,
        max(heights) + 4.4,
    )
    drawn = outline(box, STRONG_MM, 1.2)
    for row, function in scene.plan.outputs:
        y = scene.y.rows[row]
        words = function_words(function)
        drawn += Label(words, box.right - 1.2, y - 0.4, SMALL_MM, bold=True, anchor="end").svg()
        drawn += conductor(((box.right, y), (column.right - BOX_RIGHT_MM / 2, y)), None, TAIL_MM)
        drawn += splice(column.right - BOX_RIGHT_MM / 2, y)
        volts = scene.readings.volts(output_node(function))
        drawn += (
            Label(volts, box.right - 1.2, y + 2.9, SMALL_MM, anchor="end").svg() if volts else ""
        )
    return drawn


def body_pair(scene: Scene) -> Markup:
    """Draw socket and plug as two bodies that face each other over all rows."""
    near, far = halves(scene)
    return Markup("").join(
        outline(Box(half.left, scene.y.top, half.right, scene.y.bottom), STRONG_MM, 1.4)
        for half in (near, far)
    )


def halves(scene: Scene) -> tuple[Column, Column]:
    """Return the socket's and the plug's part of their column."""
    left, right = scene.x.socket.left + 0.5, scene.x.socket.right - 0.5
    return Column(left, left + SOCKET_HALF_MM), Column(right - PLUG_HALF_MM, right)


def mated(scene: Scene, start_y: float, end_y: float) -> Markup:
    """Draw a contact between the two bodies, pin into sleeve."""
    near, far = halves(scene)
    drawn = rule((near.right, start_y), (far.left, end_y), line_mm=STRONG_MM)
    drawn += ring(near.right, start_y, 0.9, LINE_MM, fill=PAPER)
    return drawn + ring(far.left, end_y, 0.9, LINE_MM, fill=INK)


def pin_number(number: str, half: Column, y: float) -> Markup:
    """Write a pin's number into one half of the pair."""
    return Label(number, half.middle, y - 1.6, SMALL_MM, bold=True, anchor="middle").svg()


def volts_below(words: str, column: Column, y: float, *, is_live: bool | None) -> Markup:
    """Write a voltage below a station, bold where current flows."""
    if not words:
        return Markup("")
    ink = INK if is_live else SOFT_INK
    return Label(
        words,
        column.middle,
        y + BELOW_MM,
        SMALL_MM,
        bold=bool(is_live),
        anchor="middle",
        ink=ink,
    ).svg()


def junction(scene: Scene) -> Markup:
    """Draw the junction: an open box around the screws of all rows."""
    x = scene.x.junction
    box = Box(x.left + 0.6, scene.y.top, x.right - 0.6, scene.y.bottom)
    return outline(box, LINE_MM, 0.6)


def screw(x: float, y: float) -> Markup:
    """Draw a terminal of the junction."""
    return ring(x, y, 1.25, LINE_MM, fill=PAPER) + rule((x - 0.6, y + 0.6), (x + 0.6, y - 0.6))


def _is_input(scene: Scene, row: str) -> bool:
    feed = scene.plan.feeds.get(row)
    return feed is not None and feed.function in scene.plan.inputs
