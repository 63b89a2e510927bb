"""The job sheet before it is printed: every page to look at, and the PDF to take away."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright import job_sheet
from loomwright.quantities import Units
from loomwright.sheets.typeset import Paper
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.screens.job import file_name

PLACE = Place("sheet", "sheet", "/rigs/{rig_id}/sheet")
routes = APIRouter()

PAPERS: tuple[tuple[Paper, str], ...] = (("letter", "Letter"), ("a4", "A4"))


@routes.get("/rigs/{rig_id}/sheet")
def show_sheet(
    request: Request, opened: AnOpenRig, paper: Paper | None = None, shown: bool = False
) -> HTMLResponse:
    """Show the sheet; its pages are set after the page is there, or at once if `shown`."""
    chosen = paper or usual_paper(opened)
    is_part = "hx-request" in request.headers
    return page(
        request,
        "sheet/pages.html" if is_part else "sheet/sheet.html",
        entry=opened.entry,
        version=opened.version.number,
        paper=chosen,
        paper_words=dict(PAPERS)[chosen],
        papers=PAPERS,
        count=len(_pages(opened, chosen)) if is_part or shown else 0,
        to_mend=sum(finding.severity.to_mend for finding in opened.findings),
    )


@routes.get("/rigs/{rig_id}/sheet/{paper}.pdf")
def send_pdf(opened: AnOpenRig, paper: Paper) -> Response:
    """Send the sheet as a PDF, to be opened or printed."""
    name = file_name(opened.entry.name)
    return Response(
        job_sheet(opened.work, paper),
        media_type="application/pdf",
        headers={"content-disposition": f'inline; filename="{name}-{paper}.pdf"'},
    )


@routes.get("/rigs/{rig_id}/sheet/{paper}/{number}.png")
def send_page(opened: AnOpenRig, paper: Paper, number: int) -> Response:
    """Send one page of the sheet as a picture; the first is 1."""
    pages = _pages(opened, paper)
    if not 1 <= number <= len(pages):
        raise HTTPException(404)
    return Response(pages[number - 1], media_type="image/png")


def usual_paper(opened: OpenRig) -> Paper:
    """Return the paper of the place where the units are at home."""
    return "letter" if opened.rig.units is Units.US else "a4"


def _pages(opened: OpenRig, paper: Paper) -> tuple[bytes, ...]:
    return opened.solver.sheet_pages(opened.text, opened.rig.units, paper)
