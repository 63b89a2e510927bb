"""Read back what a drawing wrote: its page and the rectangle each piece of text fills."""

from functools import lru_cache
from xml.etree import ElementTree

from loomwright.drawing.lettering import Anchor, Box, Label

SVG = "{http://www.w3.org/2000/svg}"
ANCHORS: dict[str, Anchor] = {"start": "start", "middle": "middle", "end": "end"}
TOUCH_MM = 0.05


@lru_cache(maxsize=8)
def parsed(svg: str) -> ElementTree.Element:
    """Its elements, to read: they are kept, for each drawing is asked several questions."""
    return ElementTree.fromstring(svg)  # noqa: S314 (our own drawing)


def page_of(svg: str) -> Box:
    root = parsed(svg)
    left, top, width, height = (float(part) for part in root.attrib["viewBox"].split())
    assert root.attrib["width"] == f"{width:g}mm"
    assert float(root.attrib["height"].removesuffix("mm")) == height
    return Box(left, top, left + width, top + height)


def labels_of(svg: str) -> list[Label]:
    return [
        Label(
            text.text or "",
            float(text.attrib["x"]),
            float(text.attrib["y"]),
            float(text.attrib["font-size"]),
            text.attrib["font-weight"] == "700",
            ANCHORS[text.attrib.get("text-anchor", "start")],
            text.attrib["fill"],
        )
        for text in parsed(svg).iter(f"{SVG}text")
    ]


def outlined(svg: str) -> list[Box]:
    """The outlines of rectangles: bodies, and the blocks of findings."""
    found = []
    for rect in parsed(svg).iter(f"{SVG}rect"):
        x, y, width, height = (float(rect.attrib[key]) for key in ("x", "y", "width", "height"))
        if rect.attrib.get("class") != "spot":
            found.append(Box(x, y, x + width, y + height))
    return found


def words_of(svg: str) -> list[str]:
    return [label.text for label in labels_of(svg)]


def clipped(svg: str) -> list[str]:
    page = page_of(svg)
    return [
        label.text
        for label in labels_of(svg)
        for box in [label.box]
        if box.left < page.left
        or box.right > page.right
        or box.top < page.top
        or box.bottom > page.bottom
    ]


def overlapping(svg: str) -> list[tuple[str, str]]:
    """Pairs of texts that overlap; boxes go from top to bottom, so that few need comparing."""
    placed = sorted(((label.box, label.text) for label in labels_of(svg)), key=lambda p: p[0].top)
    found = []
    for number, (box, text) in enumerate(placed):
        for other, words in placed[number + 1 :]:
            if other.top > box.bottom:
                break
            if box.overlaps(other, TOUCH_MM):
                found.append((text, words))
    return found
