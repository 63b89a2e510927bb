"""Faces of the sockets and plugs of the job, as large as the page allows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from loomwright.drawing.faces import socket_face
from loomwright.reference.connectors import Connector, connector
from loomwright.rig.model import PinWire, Rig
from loomwright.sheets.facts import new_sockets
from loomwright.sheets.typeset import Content

CONFIDENCE = {
    "high": "The places of the contacts agree between the sources we trust.",
    "medium": "The places of the contacts stand on few sources: check the part in your hand.",
}
NOT_CONFIRMED = "No source we trust confirms the places of the contacts, so none are drawn."
WIRES_REPLACE = "Colours shown are those of this rig's own wires, not of a chart."

Half = Literal["socket", "plug"]
View = Literal["face", "rear"]


def faces(rig: Rig) -> Content:
    """Return the drawings of the towing socket from both sides, then of what differs from it."""
    return {"groups": [*_groups(rig)], "note": WIRES_REPLACE}


def _groups(rig: Rig) -> Iterator[dict[str, object]]:
    towing = rig.towing_socket
    shown = {towing.connector}
    title = f"Socket “{towing.name}”"
    yield _group(title, connector(towing.connector), towing.lead, "socket", ("face", "rear"))
    if rig.trailer.plug != towing.connector or not new_sockets(rig):
        plug = connector(rig.trailer.plug)
        yield _group("Plug of the trailer", plug, rig.trailer.cord, "plug", ("face", "rear"))
        shown.add(rig.trailer.plug)
    for socket in rig.sockets:
        if socket.connector not in shown:
            shown.add(socket.connector)
            other = connector(socket.connector)
            yield _group(f"Socket “{socket.name}”", other, socket.lead, "socket", ("rear",))


def _group(
    title: str, part: Connector, wires: Sequence[PinWire], half: Half, views: tuple[View, ...]
) -> dict[str, object]:
    if not part.is_layout_known:
        views = views[:1]
    return {
        "title": title,
        "is_flat": part.row.shape == "flat" or not part.is_layout_known,
        "confidence": CONFIDENCE.get(part.row.layout_confidence, NOT_CONFIRMED),
        "drawings": [
            {
                "svg": socket_face(part, view, wires, half=half),
                "alt": _alt(title, part, wires, view),
            }
            for view in views
        ],
    }


def _alt(title: str, part: Connector, wires: Sequence[PinWire], view: View) -> str:
    side = "mating face" if view == "face" else "wire side"
    pins = "; ".join(
        f"pin {wire.pin} {wire.function.replace('_', ' ')}"
        + ("" if wire.wire.colour is None else f", {wire.wire.colour.words}")
        for wire in wires
    )
    return f"{title}, {part.title}, {side}: {pins}"
