"""Which part of the circuit a mark on the drawing stands for, so that a page can link it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import product

from markupsafe import Markup

from loomwright.drawing.lettering import Box
from loomwright.drawing.run_plan import LoadMark
from loomwright.drawing.svg import el, group
from loomwright.electrics.answers import Part
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import Rig

SLOT = "{part}"


@dataclass(frozen=True, slots=True)
class PartNames:
    """The parts of a rig by their place on the drawing, and how they are named and linked there.

    Attributes
    ----------
    parts : mapping of str to Part
        Every part by the name of its element.
    prefix : str
        Begins each ``id``, so that two drawings on one page do not share one.
    link : str
        Address behind a part, with ``{part}`` where its element goes; "" for none.
    """

    parts: Mapping[str, Part]
    prefix: str = "run"
    link: str = ""
    by_place: Mapping[tuple[str, ...], str] = field(default_factory=dict)

    def element(self, ref: str, station: str, function: str = "", kind: str = "") -> str | None:
        """Return the element at a place; of several, the wire, else the first from the battery."""
        return self.by_place.get((ref, station, function, kind))

    def load(self, mark: LoadMark) -> str | None:
        """Return the element of a load of the trailer."""
        return self.element(load_ref(mark), "load")

    def placed(self, drawn: Markup, element: str | None, spot: Box | None = None) -> Markup:
        """Return what is drawn for a part, named by ``id`` and ``data-part``, and linked.

        Parameters
        ----------
        drawn : Markup
            The marks.
        element : str or None
            The part; None leaves the marks as they are.
        spot : Box or None
            Where a finger or a mouse may touch a linked part.
        """
        if element is None or not drawn:
            return drawn
        named = {"id": f"{self.prefix}-{element}", "data_part": element}
        if not self.link:
            return group(drawn, **named)
        touch = Markup("") if spot is None else _touch(spot)
        href = self.link.replace(SLOT, element)
        label = self.parts[element].place
        return el("a", touch, drawn, href=href, aria_label=label, **named)


def part_names(rig: Rig, prefix: str = "run", link: str = "") -> PartNames:
    """Return the names of a rig's parts for one drawing."""
    parts = wire_up(rig).parts
    by_place: dict[tuple[str, ...], str] = {}
    wires_first = sorted(parts.items(), key=lambda item: item[1].kind != "wire")
    for element, part in wires_first:
        for function, kind in product((part.function, ""), (part.kind, "")):
            by_place.setdefault((part.ref, part.station, function, kind), element)
    return PartNames(parts, prefix, link, by_place)


def load_ref(mark: LoadMark) -> str:
    """Return how the circuit refers to a load."""
    match mark.form:
        case "lamp":
            return f"trailer.lamp.{mark.name}.{mark.function}"
        case "battery":
            return "trailer.battery"
        case form:
            return f"trailer.{form}.{mark.name}"


def _touch(spot: Box) -> Markup:
    return el(
        "rect",
        class_="spot",
        x=spot.left,
        y=spot.top,
        width=spot.width,
        height=spot.height,
        fill="none",
        pointer_events="all",
    )
