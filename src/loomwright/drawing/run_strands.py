"""The supply conductors of the run: feed, joint, lead, pin, cord, run, branch."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.colours import Colour
from loomwright.drawing.function_words import function_words
from loomwright.drawing.ink import INK, LINE_MM, SMALL_MM, SOFT_INK
from loomwright.drawing.lamps import glow_disc
from loomwright.drawing.lettering import Label
from loomwright.drawing.run_layout import Column, Layout, feed_ref
from loomwright.drawing.run_loads import LoadLine, is_on, load_symbol, load_text, symbol_x
from loomwright.drawing.run_plan import Link, RunPlan, row_of
from loomwright.drawing.run_readings import Readings
from loomwright.drawing.run_words import ABOVE_MM, GAP_MM, stretch_words
from loomwright.drawing.shapes import rule
from loomwright.drawing.wires import conductor
from loomwright.quantities import show_current, show_length
from loomwright.rig.model import PinWire, Wire

PLAIN_MM = 1.5
LIVE_MM = 2.1
DEAD_MM = 0.7
BRANCH_SHARE = 0.6
PAD_MM = 1.4


def thickness_mm(is_live: bool | None) -> float:
    """Return how thick a conductor is drawn: live, dead, or not known."""
    if is_live is None:
        return PLAIN_MM
    return LIVE_MM if is_live else DEAD_MM


def feed_strand(plan: RunPlan, layout: Layout, readings: Readings, row: str) -> Markup:
    """Draw a feed from the plus bar to where the trailer wiring joins, with its words."""
    feed, y, ref = plan.feeds[row], layout.y.rows[row], feed_ref(plan, row)
    end = layout.x.joins[0].left
    thick = thickness_mm(readings.is_live(ref))
    drawn = conductor(((layout.x.bus, y), (end, y)), feed.wire.colour, thick)
    words = stretch_words(feed.wire, plan.rig.units, readings.amps(ref))
    drawn += words.svg(layout.x.feed.left, y)
    return drawn + (own_lamps(plan, layout, readings, row) if feed.lights else "")


def own_lamps(plan: RunPlan, layout: Layout, readings: Readings, row: str) -> Markup:
    """Draw the vehicle's own lamps on a feed as one disc with their number."""
    feed, y = plan.feeds[row], layout.y.rows[row]
    x = layout.x.joins[0].left - 6.6
    answers = readings.vehicle_lamps(feed.function)
    share = max((each.light_share or 0.0 for each in answers), default=None)
    glow = "amber" if "turn" in feed.function else "white" if feed.function == "reverse" else "red"
    drawn = rule((x, y), (x, y + 2.0), line_mm=LINE_MM)
    drawn += glow_disc(x, y + 3.0, share, glow, 1.3)
    count = Label(f"×{len(feed.lights)}", x + 2.0, y + 3.7, SMALL_MM, ink=SOFT_INK)
    return drawn + count.svg()


def link_strand(
    plan: RunPlan, layout: Layout, readings: Readings, stage: int, link: Link
) -> tuple[Markup, float, float]:
    """Draw a joint's two ends up to its barrel; also return where the barrel sits."""
    column = layout.x.joins[stage]
    through_box = stage == 0 and plan.has_converter
    middle = column.right - 4.0 if through_box else column.middle
    start, end = layout.y.rows[link.start], layout.y.rows[link.end]
    before, after = _around(plan, readings, stage, link)
    drawn = conductor(((column.left, start), (middle, start), (middle, end)), *before)
    if start == end:
        drawn = conductor(((column.left, start), (middle, start)), *before)
    return drawn + conductor(((middle, end), (column.right, end)), *after), middle, end


def _around(
    plan: RunPlan, readings: Readings, stage: int, link: Link
) -> tuple[tuple[Colour | None, float], tuple[Colour | None, float]]:
    if stage == 0:
        before = plan.feeds[link.start].wire.colour
        ref_before = feed_ref(plan, link.start)
    else:
        socket = plan.chain[stage - 1]
        wire = next(each for each in plan.leads[stage - 1] if row_of(each.function) == link.start)
        before = wire.wire.colour
        ref_before = f"socket.{socket.name}.lead.{wire.function}"
    after = next(each for each in plan.leads[stage] if each.function == link.function)
    ref = f"socket.{plan.chain[stage].name}.lead.{link.function}"
    return (
        (before, thickness_mm(readings.is_live(ref_before))),
        (after.wire.colour, thickness_mm(readings.is_live(ref))),
    )


def lead_strand(
    plan: RunPlan, layout: Layout, readings: Readings, stage: int, wire: PinWire
) -> Markup:
    """Draw one conductor of a lead with its words."""
    ref = f"socket.{plan.chain[stage].name}.lead.{wire.function}"
    is_last = stage == len(plan.chain) - 1
    column = layout.x.leads[stage]
    right = layout.x.socket.left + 1.0 if is_last else column.right
    y = layout.y.rows[row_of(wire.function)]
    return _stretch(plan, readings, ref, wire.wire, Column(column.left, right), y)


def cord_strand(plan: RunPlan, layout: Layout, readings: Readings, wire: PinWire) -> Markup:
    """Draw one conductor of the cord, from plug to junction, with its words."""
    y = layout.y.rows[row_of(wire.function)]
    column = Column(layout.x.cord.left - 1.0, layout.x.junction.middle)
    return _stretch(
        plan, readings, f"trailer.cord.{wire.function}", wire.wire, column, y, layout.x.cord.left
    )


def run_strand(plan: RunPlan, layout: Layout, readings: Readings, row: str) -> Markup:
    """Draw the run of a row behind the junction, its taps and every load on it."""
    lines, y = layout.lines[row], layout.y.rows[row]
    if not lines:
        return _no_load(layout, y)
    function = lines[0].mark.carried_by
    ref = f"trailer.run.{function}"
    thick = thickness_mm(readings.is_live(ref))
    far = tap_x(plan, layout, lines[0])
    drawn = Markup("")
    for number, line in reversed(list(enumerate(lines))):
        drawn += _branch(plan, layout, readings, line, (y, y + number * LOAD_STEP_MM))
    drawn += conductor(((layout.x.junction.middle, y), (far, y)), None, thick)
    return drawn + _run_words(plan, layout, readings, function, lines, y)


LOAD_STEP_MM = 4.9


def tap_x(plan: RunPlan, layout: Layout, line: LoadLine) -> float:
    """Return where a load's branch leaves the run: to scale behind the junction."""
    run = layout.x.run
    share = line.mark.back_m / plan.farthest_m if plan.farthest_m > 0 else 1.0
    return run.left + 3.0 + share * (run.right - run.left - 4.0)


def _branch(
    plan: RunPlan, layout: Layout, readings: Readings, line: LoadLine, at: tuple[float, float]
) -> Markup:
    live = None if readings.answer is None else is_on(line)
    thick = BRANCH_SHARE * thickness_mm(live)
    tap, end, (start, y) = tap_x(plan, layout, line), symbol_x(layout, line), at
    path = ((tap, start), (tap, y), (end, y)) if y != start else ((tap, y), (end, y))
    drawn = conductor(path, line.mark.branch.colour, thick)
    return drawn + load_symbol(line, end, y) + load_text(line, layout, y)


def _run_words(
    plan: RunPlan,
    layout: Layout,
    readings: Readings,
    function: str,
    lines: tuple[LoadLine, ...],
    y: float,
) -> Markup:
    size = plan.rig.trailer.run.get(function)
    amps = readings.amps(f"trailer.run.{function}")
    x = layout.x.run.left + 0.6
    drawn = Markup("")
    if amps is not None:
        label = Label(show_current(amps), x, y - ABOVE_MM, SMALL_MM, bold=True)
        drawn, x = label.svg(), x + label.width + GAP_MM
    parts = [] if size is None else [str(size)]
    parts += [show_length(lines[0].mark.back_m, plan.rig.units)]
    return drawn + Label(" ".join(parts), x, y - ABOVE_MM, SMALL_MM, ink=SOFT_INK).svg()


def _no_load(layout: Layout, y: float) -> Markup:
    x = layout.x.run.left + 0.6
    return Label("no load", x, y + 0.36 * SMALL_MM, SMALL_MM, ink=SOFT_INK).svg()


def _stretch(
    plan: RunPlan,
    readings: Readings,
    ref: str,
    wire: Wire,
    column: Column,
    y: float,
    words_left: float | None = None,
) -> Markup:
    thick = thickness_mm(readings.is_live(ref))
    drawn = conductor(((column.left, y), (column.right, y)), wire.colour, thick)
    words = stretch_words(wire, plan.rig.units, readings.amps(ref))
    left = column.left if words_left is None else words_left
    return drawn + words.svg(left + PAD_MM, y)


def row_title(plan: RunPlan, layout: Layout, row: str, words: str) -> Markup:
    """Write the function at the head of its row, and that nothing feeds it."""
    from loomwright.drawing.ink import BODY_MM

    y = layout.y.rows[row]
    drawn = Label(words, layout.x.title_x, y - 2.5, BODY_MM, bold=True).svg()
    if row not in plan.feeds and row not in {out for out, _ in plan.outputs}:
        drawn += Label("no feed", layout.x.title_x, y + 1.6, SMALL_MM, ink=SOFT_INK).svg()
    return drawn


def open_end(x: float, y: float) -> Markup:
    """Mark a conductor that ends without a partner."""
    return rule((x, y - 1.4), (x, y + 1.4), line_mm=0.6, ink=INK)


def function_at(row: str) -> str:
    """Return the words of a row that nothing feeds."""
    return function_words(row)
