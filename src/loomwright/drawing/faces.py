"""Sockets and plugs drawn to shape, from either side, with number, function, swatch and code."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from loomwright.drawing.face_flat import flat_face
from loomwright.drawing.face_list import listed_face
from loomwright.drawing.face_page import View, face_document
from loomwright.drawing.face_round import round_face
from loomwright.drawing.pin_labels import pin_labels
from loomwright.reference.connectors import Connector, Side
from loomwright.rig.model import PinWire

Half = Literal["socket", "plug"]

SIDE_WORDS: dict[tuple[Half, Side], str] = {
    ("socket", "face"): "Looking into the socket",
    ("socket", "rear"): "Socket from the wire side",
    ("plug", "face"): "Looking at the contacts of the plug",
    ("plug", "rear"): "Plug from the wire side",
}


def socket_face(
    connector: Connector,
    side: Side = "face",
    wires: Sequence[PinWire] = (),
    *,
    half: Half = "socket",
) -> str:
    """Return a drawing of a socket or plug from one side.

    Parameters
    ----------
    connector : Connector
        What is drawn. Where its layout is not confirmed the numbers stand in a row and the
        drawing says so.
    side : "face" or "rear"
        The mating face, or the side the wires go in. The one mirrors the other.
    wires : sequence of PinWire
        The conductors that end here; they replace the usual core colours. Without any, the
        usual ones are shown.
    half : "socket" or "plug"
        The plug shows at its mating face what the socket shows at its rear.

    Returns
    -------
    str
        SVG, 140 mm wide, as high as needed.
    """
    labels = pin_labels(connector, wires)
    view = View(connector, side, half == "plug", SIDE_WORDS[half, side])
    if not connector.is_layout_known:
        return face_document(view, *listed_face(view, labels))
    if connector.row.shape == "round":
        return face_document(view, *round_face(view, labels))
    return face_document(view, *flat_face(view, labels))
