"""Every version of a rig: who, when, what changed; the difference between two; undo and redo."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException

from loomwright.changes.difference import difference
from loomwright.invalid import InvalidInput
from loomwright.store.rig_values import Version
from loomwright.web.opened import AKeptRig
from loomwright.web.pages import page
from loomwright.web.workbench import workbench

routes = APIRouter()


@routes.get("/rigs/{rig_id}/history")
def show_history(request: Request, kept: AKeptRig) -> HTMLResponse:
    """Show every version, the newest first."""
    rigs = workbench(request).store.rigs
    return page(
        request,
        "history/history.html",
        entry=kept.entry,
        versions=tuple(reversed(rigs.history(kept.entry.id))),
        ways=rigs.ways_back(kept.entry.id),
    )


@routes.get("/rigs/{rig_id}/history/{number}")
def show_version(
    request: Request, kept: AKeptRig, number: int, against: int | None = None
) -> HTMLResponse:
    """Show what one version changed, or how it differs from another."""
    version = _version(request, kept, number)
    other = number - 1 if against is None else against
    before = _version(request, kept, other) if other else None
    return page(
        request,
        "history/version.html",
        entry=kept.entry,
        version=version,
        before=before,
        rows=tuple(difference(before.text if before else "", version.text)),
    )


def _version(request: Request, kept: AKeptRig, number: int) -> Version:
    try:
        return workbench(request).store.rigs.version(kept.entry.id, number)
    except InvalidInput as unknown:
        raise HTTPException(404, "version") from unknown
