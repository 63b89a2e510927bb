"""Findings, gravest first: where each is, why it matters, what to do; and doing it."""

from __future__ import annotations

from functools import partial
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.exceptions import HTTPException

from loomwright.changes.change import Change
from loomwright.changes.difference import difference
from loomwright.changes.mends import mend_for
from loomwright.changes.outcome import Outcome, findings_moved, outcome
from loomwright.checks.finding_keys import find_finding
from loomwright.checks.rule import Finding
from loomwright.rig.model import Rig
from loomwright.rig.read import read_job
from loomwright.web.findings_view import graded
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.screens.run import PLACE as RUN
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import workbench

PLACE = Place("findings", "findings", "/rigs/{rig_id}/findings")
routes = APIRouter()


@routes.get("/rigs/{rig_id}/findings")
def show_findings(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Show every finding of a rig."""
    job = read_job(opened.text)
    return page(
        request,
        "findings/findings.html",
        entry=opened.entry,
        findings=opened.findings,
        grades=graded(opened.work, opened.findings, job, RUN.at(opened.entry.id)),
    )


@routes.get("/rigs/{rig_id}/findings/{key}")
def show_mend(request: Request, opened: AnOpenRig, key: str) -> HTMLResponse:
    """Show what mends a finding, as a difference, before it is taken."""
    finding, change = _mend(opened, key)
    result = _outcome(opened, change)
    after = opened.findings
    if not result.problems:
        after = opened.solver.findings(result.text, opened.rig.units)
    return page(
        request,
        "findings/mend.html",
        entry=opened.entry,
        based_on=opened.version.number,
        finding=finding,
        key=key,
        change=change,
        result=result,
        moved=findings_moved(opened.findings, after),
        rows=tuple(difference(opened.text, result.text)),
    )


@routes.post("/rigs/{rig_id}/findings/{key}")
def take_mend(
    request: Request,
    opened: AnOpenRig,
    key: str,
    who: AVisitor,
    based_on: Annotated[int, Form(ge=1)],
) -> RedirectResponse:
    """Write what mends a finding into the job file."""
    finding, change = _mend(opened, key)
    result = _outcome(opened, change)
    if result.problems:
        raise ExceptionGroup("the mend cannot be written", list(result.problems))
    rigs, rig_id = workbench(request).store.rigs, opened.entry.id
    said = f"mended {finding.rule} at {finding.where}"
    version = rigs.save(rig_id, result.text, based_on, who.who, change=said)
    say(request, f"Done in the job file: {change.says}", f"/rigs/{rig_id}/undo")
    return RedirectResponse(f"{PLACE.at(rig_id)}?version={version.number}", 303)


def _mend(opened: OpenRig, key: str) -> tuple[Finding, Change]:
    """Return a finding and the change that mends it.

    Raises
    ------
    HTTPException
        404, if there is no such finding any more, or no plain change mends it.
    """
    finding = find_finding(key, opened.findings)
    change = mend_for(finding, opened.work, read_job(opened.text)) if finding else None
    if finding is None or change is None:
        raise HTTPException(404, "finding")
    return finding, change


def _outcome(opened: OpenRig, change: Change) -> Outcome:
    def read(text: str) -> Rig:
        return opened.solver.rig(text, opened.rig.units)

    return outcome(partial(opened.numbers, "nominal"), opened.text, change.edits, read)
