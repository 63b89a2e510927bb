"""The run behind the junction: taps to scale, branches, and the loads at their ends."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.ink import SMALL_MM, SOFT_INK
from loomwright.drawing.lettering import Box, Label
from loomwright.drawing.run_layout import LOAD_PITCH_MM, Scene
from loomwright.drawing.run_load_marks import load_symbol, load_text, rail_x
from loomwright.drawing.run_loads import LoadLine, is_on
from loomwright.drawing.run_strands import TOUCH_MM, thickness_mm
from loomwright.drawing.run_words import run_words
from loomwright.drawing.wires import Strand, conductor, joined_conductors

BRANCH_SHARE = 0.6
NEAREST_TAP_MM = 3.0


def run_tree(scene: Scene, row: str) -> Markup:
    """Draw the run of a row, its taps and every load on it."""
    lines, y = scene.lines[row], scene.y.rows[row]
    if not lines:
        return _no_load(scene, y)
    heights = [y + number * LOAD_PITCH_MM for number in range(len(lines))]
    branches = [
        (line, _branch(scene, line, y, height)) for line, height in zip(lines, heights, strict=True)
    ]
    function = lines[0].mark.carried_by
    thick = thickness_mm(scene.readings.is_live(f"trailer.run.{function}"))
    run: Strand = (((scene.x.junction.middle, y), (tap_x(scene, lines[0]), y)), thick)
    plain = [strand for line, strand in branches if line.mark.branch.colour is None]
    drawn = joined_conductors([*plain, run])
    for line, (path, thickness) in branches:
        if line.mark.branch.colour is not None:
            drawn += conductor(path, line.mark.branch.colour, thickness)
    for line, height in zip(lines, heights, strict=True):
        marks = load_symbol(line, rail_x(scene, line.rail), height)
        half = LOAD_PITCH_MM / 2
        spot = Box(scene.x.loads.left, height - half, scene.x.loads.right, height + half)
        load = scene.names.load(line.mark)
        drawn += scene.names.placed(marks + load_text(line, scene, height), load, spot)
    words = run_words(scene.plan.rig, lines, scene.readings).svg(scene.x.run.left + 0.6, y)
    part = scene.names.element(f"trailer.run.{function}", "run")
    spot = Box(scene.x.run.left, y - TOUCH_MM, scene.x.run.right, y + TOUCH_MM)
    return drawn + scene.names.placed(words, part, spot)


def tap_x(scene: Scene, line: LoadLine) -> float:
    """Return where a load's branch leaves the run: to scale behind the junction."""
    run, farthest_m = scene.x.run, scene.plan.farthest_m
    share = line.mark.back_m / farthest_m if farthest_m > 0 else 1.0
    return run.left + NEAREST_TAP_MM + share * (run.right - run.left - NEAREST_TAP_MM - 1.0)


def _branch(scene: Scene, line: LoadLine, start: float, y: float) -> Strand:
    live = None if scene.readings.answer is None else is_on(line)
    tap, end = tap_x(scene, line), rail_x(scene, line.rail)
    path = ((tap, start), (tap, y), (end, y)) if y != start else ((tap, y), (end, y))
    return path, BRANCH_SHARE * thickness_mm(live)


def _no_load(scene: Scene, y: float) -> Markup:
    x = scene.x.run.left + 0.6
    return Label("no load", x, y + 0.36 * SMALL_MM, SMALL_MM, ink=SOFT_INK).svg()
