"""Settling what two people changed at the same time, field by field."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from loomwright.store.rig_values import EditConflict
from loomwright.web.describing.opening import (
    ADescribed,
    Sent,
    base_of,
    based_on,
    conflict_page,
    go,
    tables,
)
from loomwright.web.describing.settling import settled
from loomwright.web.visitor import say
from loomwright.web.workbench import workbench

routes = APIRouter()

CHOSEN = "take."


@routes.post("/rigs/{rig_id}/describe/settle")
def settle_fields(request: Request, opened: ADescribed, fields: Sent) -> Response:
    """Keep theirs with the fields that were chosen from yours."""
    begun, settles = based_on(fields), based_on({"based_on": fields.get("settles", "")})
    base, theirs = base_of(request, opened, begun), base_of(request, opened, settles)
    yours = fields.get("yours", "").replace("\r\n", "\n")
    tables(opened.kept, yours)
    chosen = {
        key.removeprefix(CHOSEN): said for key, said in fields.items() if key.startswith(CHOSEN)
    }
    if fields.get("all") in ("theirs", "yours"):
        text = theirs.text if fields["all"] == "theirs" else yours
    else:
        text = settled(base.text, theirs.text, yours, chosen)
    rigs = workbench(request).store.rigs
    try:
        version = rigs.resolve(opened.kept.entry.id, text, settles, opened.who.who)
    except EditConflict as again:
        return conflict_page(request, opened, again)
    if version.number != settles:
        say(request, f"Settled: {version.change}.", f"/rigs/{opened.kept.entry.id}/undo")
    else:
        say(request, f"Version {settles} of {theirs.who} stands as it is.")
    return go(opened.base)
