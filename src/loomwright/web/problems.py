"""What goes wrong, as a page: what is, what it means, what to do. For programs, as JSON."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.changes.difference import difference
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.store.problem import StoreProblem
from loomwright.store.rig_values import EditConflict
from loomwright.web.guards import HEADERS
from loomwright.web.opened import Draft
from loomwright.web.pages import page


@dataclass(frozen=True, slots=True)
class Trouble:
    """One kind of failed request, in words."""

    what: str
    means: str
    do: str


RELOAD = "Go back, reload that page, and send it again. What you typed is still in the fields."
TROUBLES = {
    (403, "cross-origin"): Trouble(
        "This request came from another site",
        "A page that is not the workbench tried to change something here. Nothing was changed.",
        "If you did this yourself, open the workbench at its own address and do it there.",
    ),
    (403, "token"): Trouble(
        "This page is too old to send",
        "Its token is missing or has expired, so it cannot be told from a forged one.",
        RELOAD,
    ),
    (403, "host only"): Trouble(
        "Only the computer that runs the workbench shows this",
        "Pairing codes and the list of devices stay on its screen.",
        "Walk over to it, or go on with the rigs here.",
    ),
    (404, "rig"): Trouble(
        "There is no such rig",
        "The address may be mistyped, or the rig is kept in another shop's store.",
        "Find it in the list; rigs that were put away are there too.",
    ),
    (404, "version"): Trouble(
        "This rig has no such version",
        "Its versions are counted from 1; the newest has the highest number.",
        "Choose one from the history of the rig.",
    ),
    (404, "kind"): Trouble(
        "There is no such kind of job",
        "The kinds are those the list shows.",
        "Choose one of them, or bring a job file.",
    ),
    (404, "light check"): Trouble(
        "There is no such light check",
        "The address may be mistyped, or the check belongs to another rig.",
        "Open the rig: its light check lists those that were begun.",
    ),
    (404, ""): Trouble(
        "There is no such page",
        "The address may be mistyped, or the page has moved.",
        "Begin at the list of rigs.",
    ),
    (405, ""): Trouble(
        "This address does something else",
        "It takes no request of this kind.",
        "Begin at the list of rigs.",
    ),
    (413, ""): Trouble(
        "That is too large",
        "A job file has a few thousand letters; what was sent is far larger. Nothing was kept.",
        "See that you chose a job file, and not a picture or an archive.",
    ),
    (422, ""): Trouble(
        "Something is missing in what was sent",
        "The form was not filled as it must be.",
        "Go back and fill it in again.",
    ),
    (500, ""): Trouble(
        "The program has a fault",
        "It met something it was not built for. What is kept in the store is as it was.",
        "Go back and try once more. If it happens again, export the job file and report it.",
    ),
}


def handle_problems(app: FastAPI) -> None:
    """Give every kind of failure its answer."""
    app.exception_handler(HTTPException)(_http)
    app.exception_handler(RequestValidationError)(_validation)
    app.exception_handler(InvalidInput)(_unusable)
    app.exception_handler(ExceptionGroup)(_several)
    app.exception_handler(Draft)(_draft)
    app.exception_handler(EditConflict)(_conflict)
    app.exception_handler(500)(_fault)


def trouble_page(request: Request, status: int, detail: str = "") -> Response:
    """Return the page of a failed request."""
    trouble = TROUBLES.get((status, detail)) or TROUBLES.get((status, "")) or TROUBLES[422, ""]
    if _wants_json(request):
        return JSONResponse({"detail": trouble.what, "problems": [], "do": trouble.do}, status)
    return page(
        request, "trouble.html", status=status, headers=_whole_page(request), trouble=trouble
    )


def as_plain(problem: InvalidInput) -> dict[str, str | int | None]:
    """Return one complaint for a program."""
    return {
        "field": problem.field,
        "value": str(problem.value),
        "fix": problem.fix,
        "line": problem.line,
    }


def unusable_page(request: Request, problems: tuple[InvalidInput, ...]) -> Response:
    """Return the page, or the JSON, of input that cannot be used."""
    if _wants_json(request):
        listed = [as_plain(problem) for problem in problems]
        return JSONResponse({"detail": "to mend", "problems": listed, "do": ""}, 422)
    return page(
        request, "unusable.html", status=422, headers=_whole_page(request), problems=problems
    )


async def _http(request: Request, error: HTTPException) -> Response:
    known = {detail for _, detail in TROUBLES}
    detail = error.detail if error.detail in known else ""
    return trouble_page(request, error.status_code, detail)


async def _validation(request: Request, error: RequestValidationError) -> Response:
    problems = tuple(
        InvalidInput(
            ".".join(str(part) for part in one["loc"][1:]) or "body",
            one.get("input"),
            f"{one['msg'][:1].lower()}{one['msg'][1:]}",
        )
        for one in error.errors()
    )
    return unusable_page(request, problems)


async def _unusable(request: Request, error: InvalidInput) -> Response:
    if isinstance(error, StoreProblem):
        trouble = Trouble(f"The store {error.what}", f"It is {error.value}.", error.mend)
        if _wants_json(request):
            return JSONResponse({"detail": trouble.what, "problems": [], "do": trouble.do}, 503)
        return page(request, "trouble.html", status=503, trouble=trouble)
    return unusable_page(request, (error,))


async def _several(request: Request, error: ExceptionGroup[Exception]) -> Response:
    ours, others = error.split(InvalidInput)
    if ours is None or others is not None:
        raise error
    return unusable_page(request, complaints_in(ours))


async def _draft(request: Request, error: Draft) -> Response:
    if _wants_json(request):
        listed = [as_plain(problem) for problem in error.problems]
        said = {"detail": "the rig is a draft", "problems": listed, "do": "mend its job file"}
        return JSONResponse(said, 409)
    return page(
        request,
        "draft.html",
        status=422,
        headers=_whole_page(request),
        entry=error.kept.entry,
        problems=error.problems,
    )


async def _conflict(request: Request, error: EditConflict) -> Response:
    if _wants_json(request):
        said = {
            "detail": str(error),
            "problems": [],
            "do": "read the newest version, put both together, and send that",
            "newest": error.theirs.number,
            "theirs": error.theirs.text,
            "merged": error.merged,
        }
        return JSONResponse(said, 409)
    return page(
        request,
        "conflict.html",
        status=409,
        headers=_whole_page(request),
        conflict=error,
        theirs=tuple(difference(error.base.text, error.theirs.text)),
        yours=tuple(difference(error.base.text, error.yours)),
    )


async def _fault(request: Request, _: Exception) -> Response:
    """Tell of a bug; the server writes it to its log."""
    response = trouble_page(request, 500)
    response.headers.update(HEADERS)
    return response


def _wants_json(request: Request) -> bool:
    return request.url.path.startswith("/api/")


def _whole_page(request: Request) -> dict[str, str]:
    """Make a swapped-in answer take the whole page: trouble is never hidden in a corner."""
    if "hx-request" not in request.headers:
        return {}
    return {"hx-retarget": "body", "hx-reswap": "innerHTML"}
