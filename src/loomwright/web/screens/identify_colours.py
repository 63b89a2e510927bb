"""The colours of unknown wires, tapped one after the other: a hint, no more."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.identify.bundle import Bundle, Wire
from loomwright.invalid import InvalidInput
from loomwright.web.identifying import keeping
from loomwright.web.identifying.sending import PLACE as WIRES
from loomwright.web.identifying.sending import go, known, sent
from loomwright.web.opened import AKeptRig
from loomwright.web.pages import page
from loomwright.web.swatches import chosen_colour, swatches
from loomwright.web.visitor import AVisitor

routes = APIRouter()

Key = Annotated[str, Query(max_length=40)]
Said = Annotated[str, Form(max_length=40)]


@routes.get("/rigs/{rig_id}/identify/colours")
def show_colours(request: Request, kept: AKeptRig) -> Response:
    """Show every wire with the colour it was given."""
    bundle = known(request, kept).bundle
    if bundle is None:
        return go(kept)
    open_ones = [wire for wire in bundle.wires if wire.colour is None]
    return page(
        request,
        "identify/colours.html",
        entry=kept.entry,
        base=WIRES.at(kept.entry.id),
        wires=bundle.wires,
        first_open=open_ones[0] if open_ones else None,
    )


@routes.get("/rigs/{rig_id}/identify/colour")
def choose_colour(
    request: Request,
    kept: AKeptRig,
    wire: Key = "1",
    *,
    base: Key = "",
    stripe: Key = "",
    pattern: Key = "",
) -> Response:
    """Show the swatches for one wire: a base, and the stripes as they look on it."""
    mine = known(request, kept)
    if mine.bundle is None:
        return go(kept)
    asked = _wire(mine.bundle, wire)
    after = _after(mine.bundle, asked)
    place = WIRES.at(kept.entry.id)
    return page(
        request,
        "colour_choice.html" if "hx-request" in request.headers else "identify/colour.html",
        entry=kept.entry,
        base=place,
        wire=asked,
        colours=swatches(chosen_colour(base, stripe, pattern) if base else asked.colour),
        action=f"{place}/colour",
        carried={"wire": asked.key, "seq": mine.seq},
        keep_words=f"Keep, next wire {after.key}" if after else "Keep this colour",
        leave_words="Cannot tell",
        back=place + _next_page(after),
    )


@routes.post("/rigs/{rig_id}/identify/colour")
def keep_colour(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    wire: Said,
    seq: Annotated[int, Form(ge=0)],
    *,
    base: Said = "",
    stripe: Said = "",
    pattern: Said = "",
) -> Response:
    """Keep the colour of one wire, and go on to the next that has none."""
    bundle = known(request, kept).bundle
    if bundle is None:
        return go(kept)
    asked = _wire(bundle, wire)
    to = _next_page(_after(bundle, asked))
    if not base:
        return go(kept, to)
    said = keeping.coloured(asked.key, chosen_colour(base, stripe, pattern))
    return sent(request, kept, who.who, said, seq, to=to)


def _wire(bundle: Bundle, key: str) -> Wire:
    try:
        return bundle.wire(key)
    except InvalidInput as unknown:
        raise HTTPException(404, "wire") from unknown


def _after(bundle: Bundle, wire: Wire) -> Wire | None:
    """Return the next wire that has no colour; none after one whose colour is changed."""
    if wire.colour is not None:
        return None
    later = bundle.wires[bundle.wires.index(wire) + 1 :]
    return next((each for each in later if each.colour is None), None)


def _next_page(wire: Wire | None) -> str:
    from urllib.parse import quote

    return f"/colour?wire={quote(wire.key)}" if wire else "/colours"
