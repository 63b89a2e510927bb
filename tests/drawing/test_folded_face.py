"""The narrow face of every connector: every number inside the page, mirrored when turned."""

import re
from xml.etree import ElementTree

import pytest
from tests.drawing.text_boxes import SVG, overlapping, page_of, parsed, words_of

from loomwright.drawing.folded_face import bare_face, folded_face
from loomwright.reference.connectors import connector, connector_keys

MOVED = re.compile(r"translate\(([-\d.]+) ([-\d.]+)\)(?: scale\(([\d.]+)\))?")


def places(svg: str) -> dict[str, tuple[float, float]]:
    """Where each number stands on the page."""
    (group,) = (node for node in parsed(svg).iter(f"{SVG}g") if "transform" in node.attrib)
    found = MOVED.fullmatch(group.attrib["transform"])
    assert found is not None
    left, top, scale = (float(each) for each in found.groups("1"))
    texts: list[ElementTree.Element] = list(group.iter(f"{SVG}text"))
    return {
        text.text or "": (
            left + scale * float(text.attrib["x"]),
            top + scale * float(text.attrib["y"]),
        )
        for text in texts
    }


@pytest.mark.parametrize("key", connector_keys())
def test_every_pin_has_its_number_on_the_page(key: str) -> None:
    kind = connector(key)
    for side in ("face", "rear"):
        for half in ("socket", "plug"):
            svg = folded_face(kind, side, half=half)
            page, found = page_of(svg), places(svg)
            assert set(found) == {pin.number for pin in kind.pins}
            assert all(page.left < x < page.right for x, _ in found.values())
            assert all(page.top < y < page.bottom for _, y in found.values())


@pytest.mark.parametrize("key", connector_keys())
def test_the_face_in_a_list_has_every_number_whole_and_none_over_another(key: str) -> None:
    kind = connector(key)
    svg = bare_face(kind)

    assert sorted(words_of(svg)) == sorted(pin.number for pin in kind.pins)
    assert all(
        page_of(svg).left < x < page_of(svg).right and page_of(svg).top < y < page_of(svg).bottom
        for x, y in places(svg).values()
    )
    assert overlapping(svg) == []


CONFIRMED = [key for key in connector_keys() if connector(key).is_layout_known]


@pytest.mark.parametrize("key", CONFIRMED)
def test_turning_a_socket_mirrors_it(key: str) -> None:
    """Whatever is left from the front is right from behind: ISO 11446-1 shows both."""
    front, back = (places(folded_face(connector(key), side)) for side in ("face", "rear"))

    for number, (x, _) in front.items():
        turned = back[number][0]
        assert (x - 48.0) * (turned - 48.0) < 0 or abs(x - 48.0) < 1.0, number


def test_the_plug_shows_what_the_socket_shows_from_behind() -> None:
    kind = connector("7-blade")

    assert (
        places(folded_face(kind, "face", half="plug")).keys()
        == places(folded_face(kind, "rear", half="socket")).keys()
    )
