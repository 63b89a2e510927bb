"""The supply conductors of the run: feed, joint, lead, pin, cord, run, branch."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from loomwright.colours import Colour
from loomwright.drawing.ink import BODY_MM, LINE_MM, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lamps import glow_colour, glow_disc
from loomwright.drawing.lettering import Box, Label
from loomwright.drawing.run_layout import BOX_LEFT_MM, BOX_RIGHT_MM, Column, Scene, feed_ref
from loomwright.drawing.run_plan import CONVERTER_ROW, Link, row_of
from loomwright.drawing.run_stations import splice
from loomwright.drawing.run_words import stretch_words
from loomwright.drawing.shapes import rule
from loomwright.drawing.wires import Flow, conductor
from loomwright.rig.model import PinWire, Wire

PLAIN_MM = 1.5
LIVE_MM = 2.1
DEAD_MM = 0.7
TITLE_MM = 2.9
OVERLAP_MM = 0.3
PAD_MM = 1.4
TOUCH_MM = 4.2


def thickness_mm(is_live: bool | None) -> float:
    """Return how thick a conductor is drawn: live, dead, or not known."""
    if is_live is None:
        return PLAIN_MM
    return LIVE_MM if is_live else DEAD_MM


def flow_of(is_live: bool | None, *, is_home: bool = False) -> Flow:
    """Return how current runs in a conductor drawn away from the battery."""
    if not is_live:
        return None
    return "live home" if is_home else "live"


def feed_strand(scene: Scene, row: str) -> Markup:
    """Draw a feed from the plus bar to where the trailer wiring joins, with its words."""
    feed, y, ref = scene.plan.feeds[row], scene.y.rows[row], feed_ref(scene.plan, row)
    is_input = feed.function in scene.plan.inputs or row == CONVERTER_ROW
    end = scene.x.joins[0].left + (BOX_LEFT_MM if is_input else 0.0)
    thick = thickness_mm(scene.readings.is_live(ref))
    flow = flow_of(scene.readings.is_live(ref))
    drawn = conductor(((scene.x.bus, y), (end, y)), feed.wire.colour, thick, flow)
    if feed.function in scene.plan.inputs:
        drawn += splice(end - BOX_LEFT_MM / 2, y)
    words = stretch_words(feed.wire, scene.plan.rig.units, scene.readings.amps(ref))
    drawn += words.svg(scene.x.feed.left, y)
    drawn += own_lamps(scene, row) if feed.lights else Markup("")
    spot = Box(scene.x.feed.left, y - TOUCH_MM, end, y + TOUCH_MM)
    return scene.names.placed(drawn, scene.names.element(ref, "feed"), spot)


def own_lamps(scene: Scene, row: str) -> Markup:
    """Draw the vehicle's own lamps on a feed as one disc with their number."""
    feed, y = scene.plan.feeds[row], scene.y.rows[row]
    x = scene.x.joins[0].left - 6.0
    answers = scene.readings.vehicle_lamps(feed.function)
    lit = [each.light_share or 0.0 for each in answers if each.word != "off"]
    share = max(lit, default=0.0 if answers else None)
    glow = glow_colour(feed.function)
    drawn = rule((x, y), (x, y + 2.0), line_mm=LINE_MM)
    flashes = feed.function in scene.readings.flashing
    drawn += glow_disc(x, y + 3.0, share, glow, 1.3, is_flashing=flashes)
    count = Label(f"×{len(feed.lights)}", x + 2.8, y + 3.7, SMALL_MM, ink=SOFT_INK)
    return drawn + count.svg()


def link_strand(scene: Scene, stage: int, link: Link) -> tuple[Markup, float, float]:
    """Draw a joint's two ends up to its barrel; also return where the barrel sits."""
    column = scene.x.joins[stage]
    through_box = stage == 0 and scene.plan.has_converter
    middle = column.right - 4.0 if through_box else column.middle
    start, end = scene.y.rows[link.start], scene.y.rows[link.end]
    left = (scene.x.joins[0].left if link.from_feed else column.left) - OVERLAP_MM
    before, after = _around(scene, stage, link)
    drawn = conductor(((left, start), (middle, start), (middle, end)), *before)
    if start == end:
        drawn = conductor(((left, start), (middle, start)), *before)
    return drawn + conductor(((middle, end), (column.right + OVERLAP_MM, end)), *after), middle, end


def _around(
    scene: Scene, stage: int, link: Link
) -> tuple[tuple[Colour | None, float], tuple[Colour | None, float]]:
    if link.from_feed:
        before = scene.plan.feeds[link.start].wire.colour
        ref_before = feed_ref(scene.plan, link.start)
    else:
        socket = scene.plan.chain[stage - 1]
        lead = scene.plan.leads[stage - 1]
        wire = next(each for each in lead if row_of(each.function) == link.start)
        before = wire.wire.colour
        ref_before = f"socket.{socket.name}.lead.{wire.function}"
    after = next(each for each in scene.plan.leads[stage] if each.function == link.function)
    ref = f"socket.{scene.plan.chain[stage].name}.lead.{link.function}"
    return (
        (before, thickness_mm(scene.readings.is_live(ref_before))),
        (after.wire.colour, thickness_mm(scene.readings.is_live(ref))),
    )


def lead_strand(scene: Scene, stage: int, wire: PinWire) -> Markup:
    """Draw one conductor of a lead with its words."""
    ref = f"socket.{scene.plan.chain[stage].name}.lead.{wire.function}"
    is_last = stage == len(scene.plan.chain) - 1
    column = scene.x.leads[stage]
    right = scene.x.socket.left + 1.0 if is_last else column.right
    y = scene.y.rows[row_of(wire.function)]
    from_box = stage == 0 and wire.function in {function for _, function in scene.plan.outputs}
    span = Column(column.left - (BOX_RIGHT_MM / 2 if from_box else 0.0), right)
    place = Stretch(ref, "lead", span, column.left + PAD_MM)
    return stretch(scene, place, wire.wire, y)


def cord_strand(scene: Scene, wire: PinWire) -> Markup:
    """Draw one conductor of the cord, from plug to junction, with its words."""
    y = scene.y.rows[row_of(wire.function)]
    span = Column(scene.x.cord.left - 1.0, scene.x.junction.middle)
    ref = f"trailer.cord.{wire.function}"
    place = Stretch(ref, "cord", span, scene.x.cord.left + PAD_MM)
    return stretch(scene, place, wire.wire, y)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Where a conductor is drawn: its part of the circuit, its span, and where its words begin.

    `is_home` says that its current comes back from the right.
    """

    ref: str
    station: str
    span: Column
    words_x: float
    is_home: bool = False


def stretch(scene: Scene, place: Stretch, wire: Wire, y: float) -> Markup:
    """Draw a conductor at height `y`, with its words."""
    span = place.span
    live = scene.readings.is_live(place.ref)
    flow = flow_of(live, is_home=place.is_home)
    path = (span.left, y), (span.right, y)
    drawn = conductor(path, wire.colour, thickness_mm(live), flow)
    words = stretch_words(wire, scene.plan.rig.units, scene.readings.amps(place.ref))
    part = scene.names.element(place.ref, place.station)
    spot = Box(span.left, y - TOUCH_MM, span.right, y + TOUCH_MM)
    return scene.names.placed(drawn + words.svg(place.words_x, y), part, spot)


def row_title(scene: Scene, row: str, words: str) -> Markup:
    """Write the function at the head of its row, and whether anything feeds it."""
    y = scene.y.rows[row]
    drawn = Label(words, scene.x.title_x, y - TITLE_MM, BODY_MM, bold=True).svg()
    made = {out for out, _ in scene.plan.outputs}
    linked = {link.end for link in scene.plan.joins[0]}
    if row not in scene.plan.feeds and row not in made and row not in linked:
        drawn += Label("no feed", scene.x.title_x, y + 1.4, SMALL_MM, ink=SOFT_INK).svg()
    return drawn


def open_end(x: float, y: float) -> Markup:
    """Mark a conductor that ends without a partner."""
    return rule((x, y - 1.4), (x, y + 1.4), line_mm=STRONG_MM)
