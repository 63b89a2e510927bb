"""Changes for programs: what may be tried, what mends a finding, what either would do."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import Field

from loomwright.changes.mends import mend_for
from loomwright.changes.outcome import findings_moved
from loomwright.changes.what_if import edits_for, what_would
from loomwright.reports import change_report, changeable_report, mends_report
from loomwright.rig.read import read_job
from loomwright.web.api.forms import DRAFT, NO_SUCH_RIG, NO_ZERO, NOT_LET_IN, Strict
from loomwright.web.opened import AnOpenRig

MOST_TRIED = 24

routes = APIRouter(responses={**NOT_LET_IN, **NO_SUCH_RIG, **DRAFT})

Short = Annotated[str, Field(max_length=200, pattern=NO_ZERO)]


class Tried(Strict):
    """What is tried: what is to stand at each path of the job file."""

    changes: Annotated[dict[Short, Short], Field(min_length=1, max_length=MOST_TRIED)] = Field(
        description="As the job file says it: {'trailer.run.brake': '12 AWG'}"
    )
    conditions: Short = Field("nominal", description="nominal, dim, heavy or engine-off")


@routes.get("/rigs/{rig_id}/changeable")
def changeable(opened: AnOpenRig) -> dict[str, Any]:
    """What may be changed on the rig, along the run from the battery."""
    return changeable_report(opened.rig, opened.solver.changeable(opened.text, opened.rig.units))


@routes.get("/rigs/{rig_id}/mends")
def mends(opened: AnOpenRig) -> dict[str, Any]:
    """Every finding, with the plain change that mends it where there is one."""
    job = read_job(opened.text)
    found = [(one, mend_for(one, opened.work, job)) for one in opened.findings]
    return mends_report(opened.rig, found)


@routes.post("/rigs/{rig_id}/what-if")
def what_if(opened: AnOpenRig, tried: Tried) -> dict[str, Any]:
    """What a change would do, and the changed job file. Nothing is kept."""
    known = opened.solver.changeable(opened.text, opened.rig.units)
    edits = edits_for(known, tried.changes)
    result = what_would(opened.work, opened.text, edits, conditions=tried.conditions)
    after = opened.solver.findings(result.text, opened.rig.units)
    moved = findings_moved(opened.findings, after)
    return change_report(opened.rig, edits, result, moved, tried.conditions)
