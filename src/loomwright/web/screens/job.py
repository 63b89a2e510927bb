"""A rig's front page: what it is, how it stands, what to do next; and its job file to take away."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup
from starlette.responses import Response

from loomwright.checks.rule import Finding, Severity
from loomwright.drawing.run import run_drawing
from loomwright.web.opened import AKeptRig, AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.workbench import workbench

PLACE = Place("job", "job", "/rigs/{rig_id}")
routes = APIRouter()

MOST_SHOWN = 3
GRAVE = (Severity.DANGER, Severity.MUST)
FILE_LETTERS = re.compile(r"[^A-Za-z0-9]+")


@dataclass(frozen=True, slots=True)
class Step:
    """What to do next: the words of the button, and where it leads."""

    words: str
    path: str


@routes.get("/rigs/{rig_id}")
def show_job(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Show a rig; what must be solved first comes after."""
    is_solved = opened.solver.has_solved(opened.text)
    shown = _standing(request, opened) if is_solved else {"findings": None}
    return page(request, "job/job.html", entry=opened.entry, rig=opened.rig, values=shown)


@routes.get("/rigs/{rig_id}/verdict")
def show_verdict(request: Request, opened: AnOpenRig, short: bool = False) -> HTMLResponse:
    """Show how a rig stands: solved now, if it was not."""
    if short:
        return page(request, "job/short_verdict.html", findings=opened.findings)
    return page(request, "job/verdict.html", entry=opened.entry, values=_standing(request, opened))


@routes.get("/rigs/{rig_id}/file")
def export_file(kept: AKeptRig) -> Response:
    """Send the job file, exactly as it is kept."""
    name = file_name(kept.entry.name)
    return Response(
        kept.text.encode(),
        media_type="application/toml",
        headers={"content-disposition": f'attachment; filename="{name}.toml"'},
    )


def next_step(places: tuple[Place, ...], opened: OpenRig, findings: tuple[Finding, ...]) -> Step:
    """Return what to do next with a rig."""
    there = {place.key: place for place in places}
    rig_id = opened.entry.id
    if any(finding.severity.to_mend for finding in findings):
        if "findings" in there:
            return Step("See what to mend", there["findings"].at(rig_id))
        return Step("Mend it in the job file", f"/rigs/{rig_id}/text")
    if "sheet" in there:
        return Step("Print the job sheet", there["sheet"].at(rig_id))
    return Step("Open the job file", f"/rigs/{rig_id}/text")


def _standing(request: Request, opened: OpenRig) -> dict[str, Any]:
    """Return what the verdict shows: findings, the run with the gravest marked, the next step."""
    findings = opened.findings
    grave = [one for one in findings if one.station and one.severity in GRAVE]
    marks = [(one.station, "", one.rule, one.severity.value) for one in grave]
    return {
        "findings": findings,
        "most": MOST_SHOWN,
        "run": Markup(run_drawing(opened.rig, None, marks)),  # noqa: S704 escapes its text
        "step": next_step(workbench(request).places, opened, findings),
    }


def file_name(name: str) -> str:
    """Return a rig's name as a file can be called: plain letters and hyphens only."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return FILE_LETTERS.sub("-", plain).strip("-").lower()[:60] or "rig"
