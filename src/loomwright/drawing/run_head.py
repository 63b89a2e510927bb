"""Head and foot of the run: whose rig, which command, the two vehicles, stations, legend."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.ink import BODY_MM, LARGE_MM, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lettering import Label, shortened, text_width_mm, wrapped
from loomwright.drawing.run_layout import MARGIN_MM, Column, Layout
from loomwright.drawing.run_plan import RunPlan
from loomwright.drawing.run_readings import Readings
from loomwright.drawing.shapes import rule
from loomwright.quantities import show_current, show_voltage

RULE_Y_MM = 14.2
STATION_Y_MM = 18.0
STATION_PITCH_MM = 3.0


def head(plan: RunPlan, layout: Layout, readings: Readings, heading: str) -> Markup:
    """Draw name and command, the rule with vehicle and trailer, and the stations' names."""
    width = layout.x.width - 2 * MARGIN_MM
    right = Label(heading, layout.x.width - MARGIN_MM, 5.6, LARGE_MM, bold=True, anchor="end")
    name = shortened(plan.rig.name, width - right.width - 6.0, LARGE_MM, bold=True)
    drawn = Label(name, MARGIN_MM, 5.6, LARGE_MM, bold=True).svg() + right.svg()
    return drawn + _sides(plan, layout, readings) + _stations(plan, layout)


def foot(layout: Layout, readings: Readings) -> Markup:
    """Write what thickness, hollow conductors and voltages mean."""
    words = "Hollow with a broken line: colour not recorded. To scale behind the junction only."
    if readings.answer is not None:
        words = "Thick: carries current; thin: dead. Voltages are over battery negative. " + words
    y = layout.y.foot + 3.2
    return Label(words, MARGIN_MM, y, SMALL_MM, ink=SOFT_INK).svg()


def _sides(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    middle = layout.x.socket.middle
    left, right = Column(MARGIN_MM, middle - 2.5), Column(middle + 2.5, layout.x.width - MARGIN_MM)
    drawn = Markup("").join(
        rule((side.left, RULE_Y_MM), (side.right, RULE_Y_MM), line_mm=STRONG_MM)
        for side in (left, right)
    )
    supply = ""
    if readings.answer is not None:
        amps = show_current(readings.answer.supply_current_a)
        supply = f"{show_voltage(readings.answer.supply_v)}, {amps} from the battery"
    supply_width = text_width_mm(supply, SMALL_MM)
    room = left.right - left.left - supply_width - 4.0
    drawn += _titled("Vehicle", plan.rig.vehicle.name, left.left, room)
    drawn += _titled("Trailer", plan.rig.trailer.name, right.left, right.right - right.left)
    if supply:
        drawn += Label(supply, left.right, RULE_Y_MM - 1.6, SMALL_MM, anchor="end").svg()
    return drawn


def _titled(title: str, name: str, x: float, room: float) -> Markup:
    y = RULE_Y_MM - 1.6
    label = Label(title, x, y, BODY_MM, bold=True)
    rest = shortened(name, room - label.width - 2.0, SMALL_MM)
    return label.svg() + Label(rest, x + label.width + 2.0, y, SMALL_MM, ink=SOFT_INK).svg()


def _stations(plan: RunPlan, layout: Layout) -> Markup:
    x, rig = layout.x, plan.rig
    named: list[tuple[str, Column]] = [
        ("fuse", Column(x.fuse_x - 6.0, x.fuse_x + 6.0)),
        ("feed", Column(x.fuse_x + 6.5, x.feed.right)),
    ]
    for stage, socket in enumerate(plan.chain):
        joint = socket.joint.replace("-", " ")
        if stage == 0 and plan.has_converter and rig.converter is not None:
            joint = rig.converter.name
        named += [(joint, x.joins[stage]), (f"lead of {socket.name}", x.leads[stage])]
    named += [
        (f"{plan.chain[-1].connector} socket, plug", x.socket),
        ("cord", x.cord),
        (rig.trailer.junction.replace("-", " "), x.junction),
        ("run behind the junction", x.run),
        ("loads", x.loads),
    ]
    return Markup("").join(_station(words, column) for words, column in named)


def _station(words: str, column: Column) -> Markup:
    lines = wrapped(words, column.right - column.left - 1.0, SMALL_MM, bold=True)
    return Markup("").join(
        Label(
            line,
            column.middle,
            STATION_Y_MM + n * STATION_PITCH_MM,
            SMALL_MM,
            bold=True,
            anchor="middle",
        ).svg()
        for n, line in enumerate(lines)
    )
