"""Head and foot of the run: whose rig, which command, the two vehicles, stations, legend."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.ink import BODY_MM, LARGE_MM, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lamps import RADIUS_MM
from loomwright.drawing.lettering import Label, shortened, text_width_mm, wrapped
from loomwright.drawing.run_layout import MARGIN_MM, Column, Scene
from loomwright.drawing.run_load_marks import rail_x
from loomwright.drawing.shapes import rule
from loomwright.quantities import show_current, show_voltage

RULE_Y_MM = 14.2
STATION_Y_MM = 18.0
STATION_PITCH_MM = 3.0
WORDS_MM = 1.4
NAMES_MM = 8.4
"""Height of the line with the rig's name and the command."""


def head(scene: Scene, heading: str) -> Markup:
    """Draw name and command if there is one, the rule with both vehicles, and the stations."""
    return (_named(scene, heading) if heading else Markup("")) + _sides(scene) + _stations(scene)


def _named(scene: Scene, heading: str) -> Markup:
    width = scene.x.width - 2 * MARGIN_MM
    right = Label(heading, scene.x.width - MARGIN_MM, 5.6, LARGE_MM, bold=True, anchor="end")
    name = shortened(scene.plan.rig.name, width - right.width - 6.0, LARGE_MM, bold=True)
    return Label(name, MARGIN_MM, 5.6, LARGE_MM, bold=True).svg() + right.svg()


def foot(scene: Scene) -> Markup:
    """Write what thickness, hollow conductors and voltages mean."""
    words = "Hollow with a broken line: colour not recorded. To scale behind the junction only."
    if scene.readings.answer is not None:
        words = "Thick: carries current; thin: dead. Voltages are over battery negative. " + words
    y = scene.y.foot + 3.2
    return Label(words, MARGIN_MM, y, SMALL_MM, ink=SOFT_INK).svg()


def _sides(scene: Scene) -> Markup:
    middle = scene.x.socket.middle
    left, right = Column(MARGIN_MM, middle - 2.5), Column(middle + 2.5, scene.x.width - MARGIN_MM)
    drawn = Markup("").join(
        rule((side.left, RULE_Y_MM), (side.right, RULE_Y_MM), line_mm=STRONG_MM)
        for side in (left, right)
    )
    supply = ""
    if scene.readings.answer is not None:
        amps = show_current(scene.readings.answer.supply_current_a)
        supply = f"{show_voltage(scene.readings.answer.supply_v)}, {amps} from the battery"
    supply_width = text_width_mm(supply, SMALL_MM)
    room = left.right - left.left - supply_width - 4.0
    drawn += _titled("Vehicle", scene.plan.rig.vehicle.name, left.left, room)
    drawn += _titled("Trailer", scene.plan.rig.trailer.name, right.left, right.right - right.left)
    if supply:
        drawn += Label(supply, left.right, RULE_Y_MM - 1.6, SMALL_MM, anchor="end").svg()
    return drawn


def _titled(title: str, name: str, x: float, room: float) -> Markup:
    y = RULE_Y_MM - 1.6
    label = Label(title, x, y, BODY_MM, bold=True)
    rest = shortened(name, room - label.width - 2.0, SMALL_MM)
    return label.svg() + Label(rest, x + label.width + 2.0, y, SMALL_MM, ink=SOFT_INK).svg()


def _stations(scene: Scene) -> Markup:
    x = scene.x
    chain = [
        drawn
        for stage, socket in enumerate(scene.plan.chain)
        for drawn in (
            _station(_joint_words(scene, stage), x.joins[stage], is_body=True),
            _station(f"lead of {socket.name}", x.leads[stage]),
        )
    ]
    trailer = scene.plan.rig.trailer
    return Markup("").join(
        (
            _station("fuse", Column(x.fuse_x - 6.0, x.fuse_x + 6.0), is_body=True),
            _station("feed", Column(x.feed.left - WORDS_MM, x.feed.right)),
            *chain,
            _station(_socket_words(scene), x.socket, is_body=True),
            _station("cord", x.cord),
            _station(trailer.junction.replace("-", " "), x.junction, is_body=True),
            _station("run", Column(x.run.left - 0.8, x.run.right)),
            _station("loads", Column(rail_x(scene, 0) - WORDS_MM - RADIUS_MM, x.loads.right)),
        )
    )


def _joint_words(scene: Scene, stage: int) -> str:
    joint = scene.plan.chain[stage].joint.replace("-", " ")
    box = scene.plan.rig.converter
    if stage > 0 or not scene.plan.has_converter or box is None:
        return joint
    return f"{box.joint.replace('-', ' ')} – {box.name} – {joint}"


def _socket_words(scene: Scene) -> str:
    socket, plug = scene.plan.chain[-1].connector, scene.plan.rig.trailer.plug
    return f"{socket} socket, plug" if socket == plug else f"{socket} socket, {plug} plug"


def _station(words: str, column: Column, *, is_body: bool = False) -> Markup:
    width = column.right - column.left - (1.0 if is_body else 2 * WORDS_MM)
    lines = wrapped(words, width, SMALL_MM, bold=True)
    x = column.middle if is_body else column.left + WORDS_MM
    return Markup("").join(
        Label(
            line,
            x,
            STATION_Y_MM + n * STATION_PITCH_MM,
            SMALL_MM,
            bold=True,
            anchor="middle" if is_body else "start",
        ).svg()
        for n, line in enumerate(lines)
    )
