"""The list of rigs: search, filter, and what can be done with each."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from loomwright.colours import Colour
from loomwright.invalid import InvalidInput
from loomwright.store.rig_values import RigEntry
from loomwright.web.opened import AKeptRig
from loomwright.web.pages import page
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import Workbench, workbench

routes = APIRouter()

Shelf = Literal["open", "away"]
LONGEST_SEARCH = 200


@routes.get("/rigs")
def show_rigs(
    request: Request,
    q: Annotated[str, Query(max_length=LONGEST_SEARCH)] = "",
    kind: Annotated[str, Query(max_length=LONGEST_SEARCH)] = "",
    shelf: Shelf = "open",
) -> HTMLResponse:
    """Show the rigs that have every word, the one changed last first."""
    bench = workbench(request)
    rigs = bench.store.rigs
    found = rigs.search(q, archived=shelf == "away", kind=kind or None)
    part = request.headers.get("hx-target", "").endswith("#found")
    return page(
        request,
        "rigs/found.html" if part else "rigs/list.html",
        rigs=found,
        q=q,
        kind=kind,
        kinds=rigs.kinds(),
        shelf=shelf,
        other_count=len(rigs.search(archived=shelf != "away")),
        is_empty=not found and not q and not kind,
        solved={entry.id: _solved_findings(bench, entry) for entry in found},
        wires={entry.id: _lead(bench, entry) for entry in found},
    )


@routes.post("/rigs/{rig_id}/copy")
def copy_rig(request: Request, kept: AKeptRig, who: AVisitor) -> RedirectResponse:
    """Make a new rig from this one."""
    copied = workbench(request).store.rigs.copy(kept.entry.id, who.who)
    say(request, f"Copied. This is {copied.name}.")
    return RedirectResponse(f"/rigs/{copied.id}", 303)


@routes.post("/rigs/{rig_id}/archive")
def archive_rig(request: Request, kept: AKeptRig, who: AVisitor) -> RedirectResponse:
    """Put a rig away."""
    entry = workbench(request).store.rigs.archive(kept.entry.id, who.who)
    say(request, f"{entry.name} is put away.", f"/rigs/{entry.id}/unarchive")
    return RedirectResponse("/rigs", 303)


@routes.post("/rigs/{rig_id}/unarchive")
def unarchive_rig(request: Request, kept: AKeptRig, who: AVisitor) -> RedirectResponse:
    """Fetch a rig back."""
    entry = workbench(request).store.rigs.unarchive(kept.entry.id, who.who)
    say(request, f"{entry.name} is back in the list.", f"/rigs/{entry.id}/archive")
    return RedirectResponse(f"/rigs/{entry.id}", 303)


@routes.post("/rigs/{rig_id}/undo")
def undo_change(request: Request, kept: AKeptRig, who: AVisitor) -> RedirectResponse:
    """Bring back the text before the newest change."""
    return _step(request, kept, who, "undo")


@routes.post("/rigs/{rig_id}/redo")
def redo_change(request: Request, kept: AKeptRig, who: AVisitor) -> RedirectResponse:
    """Bring back what was undone last."""
    return _step(request, kept, who, "redo")


@routes.post("/rigs/{rig_id}/settle")
def settle(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    text: Annotated[str, Form()],
    settles: Annotated[int, Form(ge=1)],
) -> RedirectResponse:
    """Keep the text somebody settled on after two people changed the same rig."""
    rigs = workbench(request).store.rigs
    version = rigs.resolve(kept.entry.id, text.replace("\r\n", "\n"), settles, who.who)
    say(request, f"Settled: {version.change}.", f"/rigs/{kept.entry.id}/undo")
    return RedirectResponse(f"/rigs/{kept.entry.id}", 303)


def _step(
    request: Request, kept: AKeptRig, who: AVisitor, way: Literal["undo", "redo"]
) -> RedirectResponse:
    rigs, rig_id = workbench(request).store.rigs, kept.entry.id
    back: Literal["undo", "redo"] = "redo" if way == "undo" else "undo"
    try:
        version = rigs.undo(rig_id, who.who) if way == "undo" else rigs.redo(rig_id, who.who)
    except InvalidInput as nothing:
        say(request, f"Nothing to {way}: {nothing.fix}.")
    else:
        say(request, f"Version {version.number}: {version.change}.", f"/rigs/{rig_id}/{back}")
    return RedirectResponse(f"/rigs/{rig_id}/history", 303)


def _lead(bench: Workbench, entry: RigEntry) -> tuple[Colour | None, ...]:
    """Return the conductors of the lead the trailer plugs into, in the order of its pins."""
    if not entry.usable:
        return ()
    rig = bench.solver.rig(bench.store.rigs.newest(entry.id).text)
    return tuple(one.wire.colour for one in rig.towing_socket.lead)


def _solved_findings(bench: Workbench, entry: RigEntry) -> object:
    """Return the findings of a rig if they cost nothing, else None."""
    text = bench.store.rigs.newest(entry.id).text if entry.usable else ""
    return bench.solver.findings(text) if text and bench.solver.has_solved(text) else None
