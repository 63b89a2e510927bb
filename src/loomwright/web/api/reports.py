"""Answers for programs: the findings and readings of a rig, its pairing, its job sheet."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query
from starlette.responses import Response

from loomwright import job_sheet
from loomwright.quantities import Units
from loomwright.reports import check_report, hookup_report
from loomwright.web.api.forms import DRAFT, NO_SUCH_RIG, NOT_LET_IN
from loomwright.web.opened import AnOpenRig

routes = APIRouter(responses={**NOT_LET_IN, **NO_SUCH_RIG, **DRAFT})

PDF: dict[int | str, dict[str, Any]] = {
    200: {"content": {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}}
}


@routes.get("/rigs/{rig_id}/check")
def check(opened: AnOpenRig) -> dict[str, Any]:
    """Findings, assumptions, and every command's readings."""
    return check_report(opened.work, opened.findings)


@routes.get("/rigs/{rig_id}/hookup")
def hookup(opened: AnOpenRig) -> dict[str, Any]:
    """Which conductor joins which."""
    return hookup_report(opened.rig, opened.work.hookup)


@routes.get("/rigs/{rig_id}/sheet", responses=PDF, response_class=Response)
def sheet(
    opened: AnOpenRig,
    paper: Annotated[
        Literal["letter", "a4"] | None, Query(description="Left out: as the units are")
    ] = None,
) -> Response:
    """The job sheet as a PDF."""
    size = paper or ("letter" if opened.rig.units is Units.US else "a4")
    return Response(job_sheet(opened.work, size), media_type="application/pdf")
