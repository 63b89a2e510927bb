"""The load check: does the far lamp light, does the last brake pull; and what if it were not so."""

from __future__ import annotations

from functools import partial
from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from loomwright.changes.difference import difference
from loomwright.changes.outcome import Outcome, findings_moved, outcome
from loomwright.electrics.conditions import conditions_for
from loomwright.rig.model import Rig
from loomwright.web.load_view import load_check
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.run_view import CONDITION_WORDS, chosen_conditions
from loomwright.web.screens.run import PLACE as RUN
from loomwright.web.trial import Trial, trial_of
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import workbench

PLACE = Place("load", "load check", "/rigs/{rig_id}/load")
routes = APIRouter()

MOST_TRIED = 24
Texts = Annotated[list[str] | None, Query(max_length=MOST_TRIED)]
Key = Annotated[str, Query(max_length=200)]


@routes.get("/rigs/{rig_id}/load")
def show_load(
    request: Request,
    opened: AnOpenRig,
    *,
    under: Key = "",
    path: Texts = None,
    to: Texts = None,
    was: Key = "",
) -> HTMLResponse:
    """Show the load check, and what a change under trial would do."""
    conditions = chosen_conditions(opened.work, under)
    trial = _trial(opened, path, to, was)
    result = _outcome(opened, trial, conditions.key) if trial.tried else None
    part = "hx-request" in request.headers
    return page(
        request,
        "load/what_if.html" if part else "load/load.html",
        entry=opened.entry,
        based_on=opened.version.number,
        conditions=conditions,
        every_condition=[(each, CONDITION_WORDS[each.key]) for each in conditions_for(opened.rig)],
        condition_words=CONDITION_WORDS,
        view=None if part else load_check(opened.work, RUN.at(opened.entry.id), conditions.key),
        trial=trial,
        result=result,
        rows=tuple(difference(opened.text, result.text)) if result else (),
    )


@routes.get("/rigs/{rig_id}/load/findings")
def show_moved(
    request: Request, opened: AnOpenRig, path: Texts = None, to: Texts = None
) -> HTMLResponse:
    """Show which findings a change under trial takes away, and which it brings."""
    result = _outcome(opened, _trial(opened, path, to), "nominal")
    after = opened.findings
    if not result.problems:
        after = opened.solver.findings(result.text, opened.rig.units)
    moved = findings_moved(opened.findings, after)
    return page(request, "load/findings_moved.html", entry=opened.entry, moved=moved)


@routes.post("/rigs/{rig_id}/load/keep")
def keep_trial(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    *,
    path: Annotated[list[str], Form(max_length=MOST_TRIED)],
    to: Annotated[list[str], Form(max_length=MOST_TRIED)],
    based_on: Annotated[int, Form(ge=1)],
) -> RedirectResponse:
    """Write the change under trial into the job file."""
    result = _outcome(opened, _trial(opened, path, to), "nominal")
    if result.problems:
        raise ExceptionGroup("what is tried cannot be used", list(result.problems))
    rigs = workbench(request).store.rigs
    version = rigs.save(opened.entry.id, result.text, based_on, who.who)
    if version.number == based_on:
        say(request, "Nothing was changed.")
    else:
        said = f"Kept as version {version.number}: {version.change}."
        say(request, said, f"/rigs/{opened.entry.id}/undo")
    return RedirectResponse(PLACE.at(opened.entry.id), 303)


def _trial(opened: OpenRig, path: Texts, to: Texts, was: str = "") -> Trial:
    known = opened.solver.changeable(opened.text, opened.rig.units)
    return trial_of(known, path or (), to or (), was=was)


def _outcome(opened: OpenRig, trial: Trial, under: str) -> Outcome:
    def read(text: str) -> Rig:
        return opened.solver.rig(text, opened.rig.units)

    return outcome(partial(opened.numbers, under), opened.text, trial.edits, read, under)
