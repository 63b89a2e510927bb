"""The stations of the run: battery, fuses, converter, joints, socket and plug, junction."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.function_words import function_words
from loomwright.drawing.ink import HAIRLINE_MM, INK, LINE_MM, PAPER, SMALL_MM, STRONG_MM
from loomwright.drawing.lettering import Box, Label
from loomwright.drawing.run_layout import FUSE_MM, Column, Layout
from loomwright.drawing.run_plan import CONVERTER_ROW, RunPlan
from loomwright.drawing.run_readings import Readings
from loomwright.drawing.run_words import BELOW_MM
from loomwright.drawing.shapes import outline, ring, rule
from loomwright.quantities import show_current, show_voltage

BODY_GAP_MM = 5.0
BARREL_MM = 4.4


def battery(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    """Draw the battery, its plus bar to every fuse and its minus at the return."""
    x, top, bottom = layout.x.battery, layout.y.top, layout.y.bottom
    body = Box(x.left, top + 1.2, x.right, bottom)
    drawn = Markup("").join(
        outline(Box(post - 1.5, top, post + 1.5, top + 1.2), LINE_MM, fill=INK)
        for post in (x.left + 3.2, x.right - 3.2)
    )
    drawn += outline(body, STRONG_MM, 0.8)
    fed = [layout.y.rows[row] for row in plan.rows if row in plan.feeds]
    drawn += rule(
        (x.right, fed[0]), (layout.x.bus, fed[0]), (layout.x.bus, fed[-1]), line_mm=STRONG_MM
    )
    drawn += Label("+", x.right - 2.4, fed[0] + 1.2, 3.8, bold=True, anchor="middle").svg()
    home = layout.y.bottom - 3.0
    drawn += Label("−", x.right - 2.4, home + 1.2, 3.8, bold=True, anchor="middle").svg()
    volts = (
        plan.rig.vehicle.supply.running_v if readings.answer is None else readings.answer.supply_v
    )
    middle = (top + bottom) / 2
    drawn += Label("battery", x.middle, middle - 1.0, SMALL_MM, anchor="middle").svg()
    return (
        drawn
        + Label(
            show_voltage(volts), x.middle, middle + 2.6, SMALL_MM, bold=True, anchor="middle"
        ).svg()
    )


def fuse(plan: RunPlan, layout: Layout, readings: Readings, row: str) -> Markup:
    """Draw the fuse of a feed with its rating, or leave the place empty where there is none."""
    feed = plan.feeds[row]
    if feed.fuse is None:
        return Markup("")
    x, y = layout.x.fuse_x, layout.y.rows[row]
    drawn = outline(Box(x - FUSE_MM / 2, y - 1.8, x + FUSE_MM / 2, y + 1.8), 0.4, 0.8)
    rating = show_current(feed.fuse.rating_a)
    drawn += Label(rating, x, y + 0.36 * SMALL_MM, SMALL_MM, bold=True, anchor="middle").svg()
    answer = readings.fuse(feed.function, "converter" if row == CONVERTER_ROW else "feed_")
    if answer is not None and answer.opened:
        drawn += Label("open", x, y + BELOW_MM + 0.6, SMALL_MM, bold=True, anchor="middle").svg()
    return drawn


def splice(x: float, y: float) -> Markup:
    """Draw a joint: a barrel with its two crimps."""
    drawn = outline(Box(x - BARREL_MM / 2, y - 1.3, x + BARREL_MM / 2, y + 1.3), LINE_MM, 0.6)
    return drawn + Markup("").join(
        rule((x + d, y - 1.3), (x + d, y + 1.3), line_mm=HAIRLINE_MM) for d in (-1.0, 1.0)
    )


def converter(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    """Draw the converter over the rows it takes and gives, with the words of its outputs."""
    column = layout.x.joins[0]
    handled = [row for row, _ in plan.outputs] + [CONVERTER_ROW]
    taken = [row for row in plan.rows if row in handled or _is_input(plan, row)]
    heights = [layout.y.rows[row] for row in taken if row in layout.y.rows]
    box = Box(column.left + 1.0, min(heights) - 4.4, column.right - 1.0, max(heights) + 4.4)
    drawn = outline(box, STRONG_MM, 1.2)
    for row, function in plan.outputs:
        y = layout.y.rows[row]
        words = function_words(function)
        drawn += Label(words, box.right - 1.2, y - 0.4, SMALL_MM, bold=True, anchor="end").svg()
        drawn += rule((box.right - 1.0, y), (box.right + 1.0, y), line_mm=STRONG_MM)
        volts = readings.volts(_output_node(function))
        drawn += (
            Label(volts, box.right - 1.2, y + 2.9, SMALL_MM, anchor="end").svg() if volts else ""
        )
    return drawn


def body_pair(layout: Layout) -> Markup:
    """Draw socket and plug as two bodies that face each other over all rows."""
    x = layout.x.socket
    halves = (
        Box(x.left + 0.5, layout.y.top, x.middle - BODY_GAP_MM / 2, layout.y.bottom),
        Box(x.middle + BODY_GAP_MM / 2, layout.y.top, x.right - 0.5, layout.y.bottom),
    )
    return Markup("").join(outline(half, STRONG_MM, 1.4) for half in halves)


def mated(layout: Layout, start_y: float, end_y: float) -> Markup:
    """Draw a contact between the two bodies, pin into sleeve."""
    x = layout.x.socket
    near, far = x.middle - BODY_GAP_MM / 2, x.middle + BODY_GAP_MM / 2
    drawn = rule((near - 0.2, start_y), (far + 0.2, end_y), line_mm=STRONG_MM)
    return (
        drawn
        + ring(near, start_y, 0.9, LINE_MM, fill=PAPER)
        + ring(far, end_y, 0.9, LINE_MM, fill=INK)
    )


def pin_number(number: str, x: float, y: float) -> Markup:
    """Write a pin's number into one half of the pair."""
    return Label(number, x, y - 1.6, SMALL_MM, bold=True, anchor="middle").svg()


def volts_below(words: str, column: Column, y: float) -> Markup:
    """Write a voltage below a station."""
    if not words:
        return Markup("")
    return Label(words, column.middle, y + BELOW_MM, SMALL_MM, bold=True, anchor="middle").svg()


def junction(layout: Layout) -> Markup:
    """Draw the junction: an open box around the screws of all rows."""
    x = layout.x.junction
    box = Box(x.left + 0.6, layout.y.top, x.right - 0.6, layout.y.bottom)
    return outline(box, LINE_MM, 0.6)


def screw(x: float, y: float) -> Markup:
    """Draw a terminal of the junction."""
    return ring(x, y, 1.25, LINE_MM, fill=PAPER) + rule((x - 0.6, y + 0.6), (x + 0.6, y - 0.6))


def _is_input(plan: RunPlan, row: str) -> bool:
    feed = plan.feeds.get(row)
    return feed is not None and feed.function in plan.inputs


def _output_node(function: str) -> str:
    from loomwright.electrics.boxes import output_node

    return output_node(function)
