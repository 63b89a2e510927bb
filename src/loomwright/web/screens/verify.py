"""Proving a printed record: somebody brings a PDF, and it is told whether it is genuine."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Request, UploadFile
from fastapi.responses import HTMLResponse
from starlette.concurrency import run_in_threadpool

from loomwright.invalid import InvalidInput
from loomwright.sheets.handover_content import checksum_words
from loomwright.store.records_verifying import DO, MOST_PDF_BYTES, TITLES, Proof, Verdict
from loomwright.web.pages import page
from loomwright.web.workbench import workbench

routes = APIRouter()

MARKS = {
    Verdict.GENUINE: "note",
    Verdict.SUPERSEDED: "should",
    Verdict.ALTERED: "danger",
    Verdict.UNKNOWN: "must",
}


@routes.get("/verify")
def ask_for_file(request: Request) -> HTMLResponse:
    """Ask for the PDF of a record."""
    return _show(request, None, None)


@routes.post("/verify")
async def verify(
    request: Request, file: Annotated[UploadFile | None, File()] = None
) -> HTMLResponse:
    """Tell how the PDF stands to the store."""
    if file is None or not file.filename:
        return _show(request, None, InvalidInput("file", "", "choose the PDF of a record"))
    pdf = await file.read(MOST_PDF_BYTES + 1)
    records = workbench(request).store.records
    try:
        proof = await run_in_threadpool(records.prove, pdf, "file")
    except InvalidInput as refused:
        return _show(request, None, refused)
    return _show(request, proof, None, file.filename[:200])


def _show(
    request: Request, proof: Proof | None, problem: InvalidInput | None, name: str = ""
) -> HTMLResponse:
    return page(
        request,
        "verify/verify.html",
        status=422 if problem else 200,
        proof=proof,
        problem=problem,
        name=name,
        title=TITLES[proof.verdict] if proof else "",
        do=DO[proof.verdict] if proof else "",
        mark=MARKS[proof.verdict] if proof else "",
        groups=checksum_words(proof.mark.checksum) if proof and proof.mark else [],
    )
