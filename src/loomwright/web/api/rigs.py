"""Rigs for programs: list, keep, change, copy, put away, with every version."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Header, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright import examples
from loomwright.web.api.forms import (
    EDIT_CONFLICT,
    NO_SUCH_KIND,
    NO_SUCH_RIG,
    NOT_LET_IN,
    BegunRig,
    ChangedRig,
    CopiedRig,
    FullRig,
    NewRig,
    Problem,
    RigRow,
    Shelf,
    VersionRow,
    row_of,
    version_of,
)
from loomwright.web.beginning import begun_text
from loomwright.web.opened import AKeptRig, KeptRig
from loomwright.web.problems import as_plain
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench

routes = APIRouter(responses=NOT_LET_IN)

LONGEST_SEARCH = 200
Program = Annotated[
    str,
    Header(
        alias="x-requested-by",
        description="Name of the program that writes; stands in the history",
        min_length=1,
        max_length=80,
        pattern=r"^[ -~]*[!-~][ -~]*$",
    ),
]


@routes.get("/kinds")
def list_kinds() -> dict[str, str]:
    """Kinds of job a rig can begin with."""
    return dict(examples.kinds())


@routes.get("/rigs")
def list_rigs(
    request: Request,
    q: Annotated[str, Query(max_length=LONGEST_SEARCH, description="Words to find")] = "",
    archived: bool = False,
    kind: Annotated[str | None, Query(max_length=LONGEST_SEARCH)] = None,
) -> list[RigRow]:
    """Rigs that have every word, the one changed last first."""
    found = workbench(request).store.rigs.search(q, archived=archived, kind=kind)
    return [row_of(entry) for entry in found]


@routes.post("/rigs", status_code=201)
def keep_rig(request: Request, new: NewRig, who: AVisitor, program: Program) -> RigRow:
    """Keep a new rig; a job file that cannot be used yet is kept as a draft."""
    rigs, change = workbench(request).store.rigs, f"begun by {program}"
    return row_of(rigs.create(new.text, who.who, name=new.name.strip(), change=change))


@routes.post("/kinds/{kind}/rigs", status_code=201, responses=NO_SUCH_KIND)
def begin_rig(
    request: Request, kind: str, begun: BegunRig, who: AVisitor, program: Program
) -> RigRow:
    """Begin a rig with the starter of a kind of job."""
    del program  # its name is the visitor's
    if kind not in examples.kinds():
        raise HTTPException(404, "kind")
    text = begun_text(kind, begun.name)
    return row_of(workbench(request).store.rigs.create(text, who.who, change=f"begun from {kind}"))


@routes.get("/rigs/{rig_id}", responses=NO_SUCH_RIG)
def read_one(kept: AKeptRig) -> FullRig:
    """A rig with its newest job file."""
    return _full(kept)


@routes.put("/rigs/{rig_id}", responses={**NO_SUCH_RIG, **EDIT_CONFLICT})
def change_rig(
    request: Request, kept: AKeptRig, changed: ChangedRig, who: AVisitor, program: Program
) -> VersionRow:
    """Keep a changed job file as the newest version."""
    del program  # its name is the visitor's
    if changed.based_on > kept.version.number:
        raise HTTPException(404, "version")
    rigs = workbench(request).store.rigs
    return version_of(rigs.save(kept.entry.id, changed.text, changed.based_on, who.who))


@routes.get("/rigs/{rig_id}/file", responses=NO_SUCH_RIG, response_class=Response)
def read_file(kept: AKeptRig) -> Response:
    """The newest job file, exactly as it is kept."""
    return Response(kept.text.encode(), media_type="application/toml")


@routes.post("/rigs/{rig_id}/copy", status_code=201, responses=NO_SUCH_RIG)
def copy_rig(
    request: Request, kept: AKeptRig, copied: CopiedRig, who: AVisitor, program: Program
) -> RigRow:
    """Keep a copy as a new rig."""
    del program  # its name is the visitor's
    return row_of(workbench(request).store.rigs.copy(kept.entry.id, who.who, copied.name.strip()))


@routes.put("/rigs/{rig_id}/shelf", responses=NO_SUCH_RIG)
def shelve(
    request: Request, kept: AKeptRig, shelf: Shelf, who: AVisitor, program: Program
) -> RigRow:
    """Put a rig away, or fetch it back."""
    del program  # its name is the visitor's
    rigs = workbench(request).store.rigs
    move = rigs.archive if shelf.archived else rigs.unarchive
    return row_of(move(kept.entry.id, who.who))


@routes.get("/rigs/{rig_id}/versions", responses=NO_SUCH_RIG)
def list_versions(request: Request, kept: AKeptRig) -> list[VersionRow]:
    """Every version, oldest first."""
    return [version_of(one) for one in workbench(request).store.rigs.history(kept.entry.id)]


@routes.get("/rigs/{rig_id}/versions/{number}/file", responses=NO_SUCH_RIG, response_class=Response)
def read_version(request: Request, kept: AKeptRig, number: int) -> Response:
    """The job file of one version."""
    if not 1 <= number <= kept.version.number:
        raise HTTPException(404, "version")
    text = workbench(request).store.rigs.export_text(kept.entry.id, number)
    return Response(text.encode(), media_type="application/toml")


def _full(kept: KeptRig) -> FullRig:
    problems = [Problem.model_validate(as_plain(one)) for one in kept.problems()]
    return FullRig(**row_of(kept.entry).model_dump(), text=kept.text, problems=problems)
