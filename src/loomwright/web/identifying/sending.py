"""What every screen about unknown wires does: reads what is kept, tells what was sent, goes on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from loomwright.web.identifying import keeping
from loomwright.web.opened import KeptRig
from loomwright.web.places import Place
from loomwright.web.workbench import workbench

PLACE = Place("identify", "wires", "/rigs/{rig_id}/identify")


def known(request: Request, kept: KeptRig) -> keeping.Kept:
    """Return what is kept of the bundle of a rig."""
    return keeping.kept(workbench(request).store.events, kept.entry.id)


def sent(
    request: Request,
    kept: KeptRig,
    who: str,
    payload: Mapping[str, Any],
    seq: int,
    *,
    to: str = "",
) -> Response:
    """Tell what was sent, once for each page it answers, and go on.

    Parameters
    ----------
    request : Request
        What it answers.
    kept : KeptRig
        The rig whose bundle it is about.
    who : str
        Who sent it.
    payload : mapping
        What the event log keeps.
    seq : int
        Number of the page it answers.
    to : str
        Where to go below the place; to the place itself if empty.
    """
    rig_id = kept.entry.id
    workbench(request).store.events.append_event(
        keeping.topic(rig_id), payload, who, key=keeping.mark(rig_id, seq)
    )
    return go(kept, to)


def go(kept: KeptRig, to: str = "") -> Response:
    """Go to what is next, or to a page below the place."""
    return RedirectResponse(f"{PLACE.at(kept.entry.id)}{to}", 303)
