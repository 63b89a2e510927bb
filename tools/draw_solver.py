"""Draw the pictures of the page on the solver, from the solver's own numbers.

Run as `.venv/bin/python -m tools.draw_solver`; a test compares the files with what this draws.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from markupsafe import Markup

from loomwright.circuit import Filament, Fuse, Load, Network, Resistor, Source, Switch
from loomwright.circuit.elements import ends
from loomwright.circuit.layout import lay_out, shape_of, signature_of
from loomwright.drawing.ink import (
    HAIRLINE_MM,
    INK,
    LARGE_MM,
    LINE_MM,
    PAPER,
    SMALL_MM,
    SOFT_INK,
    STRONG_MM,
)
from loomwright.drawing.shapes import ring, rule
from loomwright.drawing.svg import document, el
from tools.draw_docs import PICTURES, on_paper, with_letters

Place = tuple[float, float]

NODE_MM = 2.6
LAMP = Filament(12.8, 2.1)
EMF_V, WIRE_OHM = 12.8, 2.5


def pictures() -> dict[str, str]:
    """Return each picture's file name and SVG text, without its letters."""
    drawn = {
        "solver-star.svg": star_and_mesh(),
        "solver-program.svg": program_of_a_circuit(),
        "solver-newton.svg": tangents(),
        "solver-states.svg": states(),
    }
    return {name: on_paper(svg) for name, svg in drawn.items()}


def star_and_mesh() -> str:
    """A star of three ends and the mesh that acts the same."""
    far = [(12.0, 14.0), (60.0, 12.0), (38.0, 52.0)]
    middle = (36.0, 27.0)
    star = [rule(middle, end, line_mm=STRONG_MM) for end in far]
    star += [_along(middle, end, f"g{n}") for n, end in zip("₁₂₃", far, strict=True)]
    shifted = [(x + 84.0, y) for x, y in far]
    mesh = [rule(*pair, line_mm=STRONG_MM) for pair in _pairs(shifted)]
    names = ("m₁ g₂", "m₁ g₃", "m₂ g₃")
    mesh += [_along(*pair, name) for pair, name in zip(_pairs(shifted), names, strict=True)]
    nodes = [_node(end, n) for end, n in zip((*far, *shifted), "123123", strict=True)]
    body = (
        *star,
        *mesh,
        *nodes,
        _node(middle, "k", filled=True),
        _arrow((66.0, 30.0), (86.0, 30.0)),
        _text((76.0, 26.0), "eliminate k", anchor="middle"),
        _text((58.0, 61.0), "s = g₁ + g₂ + g₃", LARGE_MM),
        _text((98.0, 61.0), "mᵢ = gᵢ / s", LARGE_MM),
    )
    return document(
        156.0,
        66.0,
        *body,
        title="From star to mesh",
        says="Node k with edges to nodes 1, 2 and 3 is taken out. Each two of them are joined by "
        "an edge instead: the share of one times the conductance of the other.",
    )


def program_of_a_circuit() -> str:
    """A lamp circuit, each node with the number of the step that takes it out."""
    network, places = _small_circuit()
    program = shape_of(lay_out(network, signature_of(network.elements))).program
    order = [step.node for step in (*program.linear, *program.core)]
    step_of = {network.nodes[node]: n for n, node in enumerate(order, start=1)}
    core = {network.nodes[step.node] for step in program.core}
    body: list[Markup] = []
    for element in network.elements:
        ((a, b),) = ends(element)
        body.append(rule(places[a], places[b], line_mm=LINE_MM))
        if element.name != "right ground":
            body.append(
                _along(places[a], places[b], element.name.replace("left ground", "grounds"))
            )
        if isinstance(element, Load):
            middle = _between(places[a], places[b], 0.5)
            body += [ring(*middle, 3.0, fill=PAPER), _cross(middle, 2.1)]
    for node, place in places.items():
        if node == network.reference:
            body += [
                _node(place, "0"),
                _text((place[0] + 4.5, place[1] - 3.5), "reference", anchor="start"),
            ]
        else:
            body.append(_node(place, str(step_of[node]), filled=node in core))
    body.append(_text((8.0, 61.0), "○  linear part: gone once in a solve", anchor="start"))
    body.append(_text((74.0, 61.0), "●  core: gone once in every round", anchor="start"))
    return document(
        156.0,
        66.0,
        *body,
        title="A program",
        says="Two lamps on a fused, switched feed with a shared ground wire. The nodes of fuse, "
        "switch and wires go first; the ends of the lamps and the node they share go last.",
    )


def tangents() -> str:
    """The first rounds of Newton's method for a filament behind a wire."""
    plot = _Plot()
    volts = [n * 0.05 for n in range(257)]
    law = [(v, LAMP.current_a(v)) for v in volts]
    wire = [(v, (EMF_V - v) / WIRE_OHM) for v in (EMF_V - _Plot.most_a * WIRE_OHM, EMF_V)]
    body = [*plot.axes(), plot.curve(law, STRONG_MM), plot.curve(wire, LINE_MM)]
    body.append(plot.label((10.0, 2.0), "the law of the lamp", -3.0))
    body.append(plot.label((6.2, 2.75), "what the wire brings", 1.0))
    here = 0.5
    for n in range(1, 4):
        current, slope = LAMP.current_a(here), LAMP.slope_s(here)
        there = (EMF_V / WIRE_OHM - current + slope * here) / (slope + 1.0 / WIRE_OHM)
        at_there = current + slope * (there - here)
        body.append(plot.curve([(here, current), (there, at_there)], LINE_MM, dash="1.2 0.8"))
        body.append(plot.curve([(there, at_there), (there, LAMP.current_a(there))], HAIRLINE_MM))
        body += [plot.dot((here, current)), plot.label((here, current), f"v{'₀₁₂₃'[n - 1]}", 4.0)]
        here = there
    body.append(plot.dot((here, LAMP.current_a(here))))
    return document(
        156.0,
        78.0,
        *body,
        title="Newton's method on a filament",
        says="From a guess of half a volt the tangent of the lamp's law is followed to the line "
        "of the wire; there the next tangent is laid. The third is within some millivolts.",
    )


def states() -> str:
    """The rules by which a network comes to rest."""
    boxes = [
        ("balance", "everything that bends, by Newton's method"),
        ("rules 1 to 3", "constant power and converters: draw, drop out, come back"),
        ("rule 4", "one driver or fuse opens, the most urgent"),
        ("rule 5", "one breaker closes again, to see whether it holds"),
        ("at rest", "states that agree with themselves"),
    ]
    body: list[Markup] = []
    for n, (head, says) in enumerate(boxes):
        top = 4.0 + 15.0 * n
        frame = el(
            "rect", x=8.0, y=top, width=104.0, height=10.0, fill=PAPER, stroke=INK,
            stroke_width=STRONG_MM if n == len(boxes) - 1 else LINE_MM,
        )  # fmt: skip
        body += [frame, _text((11.0, top + 6.2), head, LARGE_MM, anchor="start", bold=True)]
        body.append(_text((42.0, top + 6.1), says, anchor="start"))
        if n:
            body.append(_arrow((20.0, top - 5.0), (20.0, top)))
            word = "" if n == 1 else "nothing more"
            body.append(_text((22.0, top - 1.6), word, anchor="start"))
    for n, right in ((1, 120.0), (2, 130.0), (3, 140.0)):
        middle = 9.0 + 15.0 * n
        back = 9.0 if n == 1 else 26.0
        body.append(rule((112.0, middle), (right, middle), (right, back), (112.5, back)))
        body.append(_head((112.0, back), math.pi))
    body.append(_text((142.0, 47.0), "again", anchor="start"))
    return document(
        156.0,
        80.0,
        *body,
        title="How a network comes to rest",
        says="After every balance the rules are tried in their order. Where one changes a state, "
        "the network is balanced anew; when none does, it is at rest.",
    )


def _small_circuit() -> tuple[Network, dict[str, Place]]:
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.01),
            Fuse("fuse", "post", "fused", 0.01, 10.0),
            Switch("switch", "fused", "switched", 0.01, closed=True),
            Resistor("feed wire", "switched", "tap", 0.1),
            Load("left lamp", "tap", "left earth", LAMP),
            Resistor("branch", "tap", "right", 0.05),
            Load("right lamp", "right", "right earth", LAMP),
            Resistor("left ground", "left earth", "frame", 0.05),
            Resistor("right ground", "right earth", "frame", 0.05),
            Resistor("ground wire", "frame", "0", 0.1),
        ]
    )
    places = {
        "0": (14.0, 50.0),
        "post": (14.0, 14.0),
        "fused": (39.0, 14.0),
        "switched": (66.0, 14.0),
        "tap": (98.0, 14.0),
        "right": (134.0, 14.0),
        "left earth": (98.0, 36.0),
        "right earth": (134.0, 36.0),
        "frame": (98.0, 50.0),
    }
    return network, places


class _Plot:
    """Volts across and amperes up."""

    left, bottom, wide, high = 16.0, 68.0, 132.0, 60.0
    most_v, most_a = 12.8, 3.4

    def at(self, point: Place) -> Place:
        return (
            self.left + self.wide * point[0] / self.most_v,
            self.bottom - self.high * point[1] / self.most_a,
        )

    def curve(self, points: Sequence[Place], line_mm: float, dash: str | None = None) -> Markup:
        return rule(*(self.at(point) for point in points), line_mm=line_mm, dash=dash)

    def dot(self, point: Place) -> Markup:
        x, y = self.at(point)
        return el("circle", cx=x, cy=y, r=0.9, fill=INK)

    def label(self, point: Place, words: str, up_mm: float) -> Markup:
        x, y = self.at(point)
        return _text((x + 1.5, y + up_mm), words, anchor="start")

    def axes(self) -> Iterable[Markup]:
        yield rule(self.at((0.0, self.most_a)), self.at((0.0, 0.0)), self.at((self.most_v, 0.0)))
        for volt in (0, 4, 8, 12):
            x, y = self.at((volt, 0.0))
            yield _text((x, y + 4.5), f"{volt} V")
        for amp in (1, 2):
            x, y = self.at((0.0, amp))
            yield _text((x - 1.5, y + 1.0), f"{amp} A", anchor="end")


def _pairs(places: Sequence[Place]) -> list[tuple[Place, Place]]:
    one, two, three = places
    return [(one, two), (one, three), (two, three)]


def _between(a: Place, b: Place, share: float) -> Place:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _along(a: Place, b: Place, words: str) -> Markup:
    """Words beside the middle of a line, on paper."""
    x, y = _between(a, b, 0.5)
    flat = abs(a[1] - b[1]) < abs(a[0] - b[0])
    place = (x, y - 2.0) if flat else (x + 4.0, y + 0.9)
    return _text(place, words, anchor="middle" if flat else "start")


def _node(place: Place, words: str, *, filled: bool = False) -> Markup:
    x, y = place
    fill, ink = (INK, PAPER) if filled else (PAPER, INK)
    body = el("circle", cx=x, cy=y, r=NODE_MM, fill=fill, stroke=INK, stroke_width=LINE_MM)
    return body + _text((x, y + 0.9), words, ink=ink)


def _cross(place: Place, reach: float) -> Markup:
    x, y = place
    one = rule((x - reach, y - reach), (x + reach, y + reach))
    return one + rule((x - reach, y + reach), (x + reach, y - reach))


def _arrow(a: Place, b: Place) -> Markup:
    return rule(a, b) + _head(b, math.atan2(b[1] - a[1], b[0] - a[0]))


def _head(place: Place, angle: float) -> Markup:
    x, y = place
    sides = [
        (x - 2.4 * math.cos(angle + turn), y - 2.4 * math.sin(angle + turn)) for turn in (-0.4, 0.4)
    ]
    return rule(sides[0], place, sides[1])


def _text(
    place: Place,
    words: str,
    size_mm: float = SMALL_MM,
    *,
    anchor: str = "middle",
    ink: str = INK,
    bold: bool = False,
) -> Markup:
    return el(
        "text",
        words,
        x=place[0],
        y=place[1],
        font_size=size_mm,
        font_weight=700 if bold else 400,
        text_anchor=anchor,
        fill=ink if words else SOFT_INK,
    )


def main() -> None:
    """Write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, svg in pictures().items():
        (PICTURES / name).write_text(with_letters(svg), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
