"""The run: battery at one end, farthest lamp at the other, every conductor as it looks."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from loomwright.drawing.function_words import function_words
from loomwright.drawing.run_head import foot, head
from loomwright.drawing.run_layout import Layout, lay_out, title_of
from loomwright.drawing.run_marks import Mark, finding_marks, row_of_mark
from loomwright.drawing.run_plan import RunPlan, plan_run, row_of
from loomwright.drawing.run_readings import Readings
from loomwright.drawing.run_returns import hatches, lane_stations, lane_strands, rails
from loomwright.drawing.run_stations import (
    battery,
    body_pair,
    converter,
    fuse,
    junction,
    mated,
    pin_number,
    screw,
    splice,
    volts_below,
)
from loomwright.drawing.run_strands import (
    cord_strand,
    feed_strand,
    lead_strand,
    link_strand,
    open_end,
    row_title,
    run_strand,
)
from loomwright.drawing.svg import document
from loomwright.electrics.answers import CommandAnswer
from loomwright.electrics.mating import junction_node
from loomwright.electrics.sockets import pin_node, pins_of
from loomwright.electrics.vehicle_side import feed_node
from loomwright.rig.model import Rig

FindingMark = tuple[str, str, str, str]


def run_drawing(
    rig: Rig,
    answer: CommandAnswer | None = None,
    findings: Iterable[FindingMark] = (),
    heading: str = "",
) -> str:
    """Return the drawing of a whole rig.

    Parameters
    ----------
    rig : Rig
        What is drawn.
    answer : CommandAnswer or None
        Readings of one command: live conductors thicken and carry their numbers, lamps glow.
        None draws the wiring alone.
    findings : iterable of (station, function, code, severity word)
        Marks to place where they occur; a function of "" means the whole station.
    heading : str
        Words of the command; left out, they are taken from the answer.

    Returns
    -------
    str
        SVG, 250 mm wide, or wider where the rig has more stations than fit.
    """
    plan, readings = plan_run(rig), Readings(answer)
    marks = [Mark(*finding) for finding in findings]
    layout = lay_out(plan, readings, frozenset(row_of_mark(plan, mark) for mark in marks))
    words = heading or _heading(answer)
    return document(
        layout.x.width,
        layout.y.height,
        head(plan, layout, readings, words),
        rails(plan, layout),
        _strands(plan, layout, readings),
        _bodies(plan, layout, readings),
        hatches(plan, layout, readings),
        finding_marks(plan, layout, marks),
        foot(layout, readings),
        title=f"The run of {rig.name}",
        says=_says(plan, words),
    )


def _heading(answer: CommandAnswer | None) -> str:
    if answer is None:
        return "wiring"
    return answer.command.replace("_", " ").replace("+", " and ")


def _says(plan: RunPlan, words: str) -> str:
    circuits = ", ".join(title_of(plan, row) for row in plan.rows)
    return (
        f"{words}: {circuits}, from the battery of {plan.rig.vehicle.name} "
        f"to the loads of {plan.rig.trailer.name} and back."
    )


def _strands(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    drawn = [lane_strands(plan, layout, readings, lane) for lane in plan.returns]
    drawn += [feed_strand(plan, layout, readings, row) for row in plan.feeds]
    for stage, lead in enumerate(plan.leads):
        drawn += [_join(plan, layout, readings, stage)]
        drawn += [lead_strand(plan, layout, readings, stage, wire) for wire in lead]
    drawn += [cord_strand(plan, layout, readings, wire) for wire in plan.cord]
    rows = dict.fromkeys(row_of(wire.function) for wire in plan.cord)
    drawn += [run_strand(plan, layout, readings, row) for row in rows]
    return Markup("\n").join(drawn)


def _join(plan: RunPlan, layout: Layout, readings: Readings, stage: int) -> Markup:
    drawn = Markup("")
    column = layout.x.joins[stage]
    links = [
        link
        for link in plan.joins[stage]
        if not (stage == 0 and link.function in {function for _, function in plan.outputs})
    ]
    for link in links:
        strands, x, y = link_strand(plan, layout, readings, stage, link)
        drawn += strands + splice(x, y)
    if stage == 0:
        linked = {link.start for link in links}
        for row, feed in plan.feeds.items():
            if row not in linked and feed.function not in plan.inputs and row != "converter":
                drawn += open_end(column.left, layout.y.rows[row])
            elif row in linked:
                drawn += volts_below(
                    readings.volts(feed_node(feed.function)), column, layout.y.rows[row]
                )
    return drawn


def _bodies(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    drawn = [battery(plan, layout, readings), body_pair(layout), junction(layout)]
    if plan.has_converter:
        drawn.append(converter(plan, layout, readings))
    drawn += [fuse(plan, layout, readings, row) for row in plan.feeds]
    drawn += [row_title(plan, layout, row, title_of(plan, row)) for row in plan.rows]
    drawn += [_pins(plan, layout, readings)]
    for wire in plan.cord:
        y = layout.y.rows[row_of(wire.function)]
        drawn.append(screw(layout.x.junction.middle, y))
        volts = readings.volts(junction_node(wire.function))
        drawn.append(volts_below(volts, layout.x.junction, y))
    drawn += [lane_stations(plan, layout, readings, lane) for lane in plan.returns]
    return Markup("\n").join(drawn)


def _pins(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    """Draw the pins of both halves, the contacts between them, and the voltage at the socket."""
    heights = {**layout.y.rows, **layout.y.lanes}
    x, socket = layout.x.socket, plan.rig.towing_socket
    drawn = Markup("")
    for link in plan.mates:
        drawn += mated(layout, heights[link.start], heights[link.end])
    for wire in pins_of(socket):
        y = heights.get(row_of(wire.function))
        if y is None:
            continue
        drawn += pin_number(wire.pin, x.left + 2.9, y)
        drawn += volts_below(readings.volts(pin_node(socket, wire.pin, wire.function)), x, y)
    for wire in plan.rig.trailer.cord:
        drawn += pin_number(wire.pin, x.right - 2.9, heights[row_of(wire.function)])
    return drawn


def words_of(function: str) -> str:
    """Return the words of a function, as the run writes them."""
    return function_words(function)
