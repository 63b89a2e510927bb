"""The record of work: the list, the look before signing, signing, correcting, the PDF."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.invalid import InvalidInput, complaints_in
from loomwright.quantities import Units
from loomwright.sheets.handover_content import checksum_words
from loomwright.sheets.typeset import Paper
from loomwright.store.records_document import canonical, checksum
from loomwright.store.records_signing import ROLES, TECHNICIAN, Signature, strokes_from_plain
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.recording.opening import ARecord, OpenRecord, Sent, assets, go, pictures
from loomwright.web.recording.questions import QUESTIONS
from loomwright.web.screens.job import file_name
from loomwright.web.visitor import say

PLACE = Place("record", "record", "/rigs/{rig_id}/record")
routes = APIRouter()

PAPERS: tuple[tuple[Paper, str], ...] = (("letter", "Letter"), ("a4", "A4"))
NOTHING_OPEN = "No record is being written: begin one here."


@routes.get("/rigs/{rig_id}/record")
def show_records(request: Request, record: ARecord) -> HTMLResponse:
    """Show the records of a rig, and the draft with how each question stands."""
    return list_page(request, record)


@routes.post("/rigs/{rig_id}/record/begin")
def begin(record: ARecord) -> Response:
    """Begin the record of a rig, or go on with the draft that is open."""
    record.records.begin(record.opened.entry.id, record.who.who)
    return go(f"{record.base}/write?ask={QUESTIONS[0].key}")


@routes.post("/rigs/{rig_id}/record/drop")
def drop(request: Request, record: ARecord) -> Response:
    """Throw the draft away."""
    if record.draft is not None:
        record.records.drop(record.draft.id, record.who.who)
        say(request, "The draft is gone. What was signed before stays.")
    return go(record.base)


@routes.get("/rigs/{rig_id}/record/look")
def look(request: Request, record: ARecord, paper: Paper | None = None) -> Response:
    """Show the draft as it would be printed."""
    if record.draft is None:
        return list_page(request, record, NOTHING_OPEN)
    document = record.records.preview(record.draft.id)
    chosen = paper or usual_paper(record)
    return page(
        request,
        "record/look.html",
        entry=record.opened.entry,
        base=record.base,
        draft=record.draft,
        paper=chosen,
        papers=PAPERS,
        sum=checksum(canonical(document)),
        count=len(pictures(record.records.access, document, "", chosen)),
        not_tested=document["not_tested"],
        values=assets(),
    )


@routes.get("/rigs/{rig_id}/record/look/{paper}/{number}.png")
def look_at_page(record: ARecord, paper: Paper, number: int) -> Response:
    """Send one page of the draft as a picture; the first is 1."""
    if record.draft is None:
        raise HTTPException(404)
    document = record.records.preview(record.draft.id)
    return _picture(pictures(record.records.access, document, "", paper), number)


@routes.get("/rigs/{rig_id}/record/look/{paper}.pdf")
def send_draft(record: ARecord, paper: Paper) -> Response:
    """Send the draft as a PDF that says it is one."""
    if record.draft is None:
        raise HTTPException(404)
    document = record.records.preview(record.draft.id)
    return _pdf(record.records.draft_pdf(document, paper), f"{record.opened.entry.name} draft")


@routes.get("/rigs/{rig_id}/record/sign")
def ask_to_sign(request: Request, record: ARecord) -> Response:
    """Show the field to sign in."""
    if record.draft is None:
        return list_page(request, record, NOTHING_OPEN)
    return _sign_page(request, record, FormData(), ())


@routes.post("/rigs/{rig_id}/record/sign")
def sign(request: Request, record: ARecord, sent: Sent) -> Response:
    """Sign the draft: from now on it stays as it is."""
    if record.draft is None:
        say(request, NOTHING_OPEN)
        return go(record.base)
    problems: tuple[InvalidInput, ...] = ()
    try:
        signatures = [*_signatures(sent)]
        seen = str(sent.get("seen", ""))
        signed = record.records.sign(record.draft.id, signatures, record.who.who, seen=seen)
    except* InvalidInput as refused:
        problems = complaints_in(refused)
    if problems:
        return _sign_page(request, record, sent, problems)
    say(request, "Signed. It can be changed no more; a correction is a new version.")
    return go(f"{record.base}/kept/{signed.id}/{signed.version}")


@routes.get("/rigs/{rig_id}/record/kept/{record_id}/{number}")
def show_version(
    request: Request, record: ARecord, record_id: str, number: int, paper: Paper | None = None
) -> HTMLResponse:
    """Show a signed version: its pages, its checksum, what replaces it."""
    version = record.version(record_id, number)
    chosen = paper or usual_paper(record)
    shown = pictures(record.records.access, version.document, version.checksum or "", chosen)
    newest = [each for each in record.records.history(record_id) if each.is_signed][-1]
    return page(
        request,
        "record/version.html",
        entry=record.opened.entry,
        base=record.base,
        version=version,
        document=version.document,
        newest=newest,
        draft=record.draft,
        groups=checksum_words(version.checksum or ""),
        paper=chosen,
        papers=PAPERS,
        count=len(shown),
        values=assets(),
    )


@routes.get("/rigs/{rig_id}/record/kept/{record_id}/{number}/{paper}.pdf")
def send_pdf(record: ARecord, record_id: str, number: int, paper: Paper) -> Response:
    """Send a signed version as a PDF that can be proved."""
    version = record.version(record_id, number)
    name = f"{record.opened.entry.name} record {version.id[:8]} {version.version}"
    return _pdf(record.records.pdf(version, paper), name)


@routes.get("/rigs/{rig_id}/record/kept/{record_id}/{number}/{paper}/{sheet}.png")
def send_page(record: ARecord, record_id: str, number: int, paper: Paper, sheet: int) -> Response:
    """Send one page of a signed version as a picture; the first is 1."""
    version = record.version(record_id, number)
    access, total = record.records.access, version.checksum or ""
    return _picture(pictures(access, version.document, total, paper), sheet)


@routes.post("/rigs/{rig_id}/record/kept/{record_id}/correct")
def correct(
    request: Request, record: ARecord, record_id: str, why: Annotated[str, Form()] = ""
) -> Response:
    """Begin a new version that corrects the newest."""
    record.records.correct(record_id, why, record.who.who)
    say(request, "A new version is open. Change what is wrong, look at it, and sign it.")
    return go(record.base)


def list_page(request: Request, record: OpenRecord, note: str = "") -> HTMLResponse:
    """Return the list of a rig's records; `note` says why another page led here."""
    found = record.records.records(record.opened.entry.id)
    draft, facts = record.draft, record.facts() if record.draft else {}
    standing = [(each, each.stands(draft.entries, facts) if draft else "") for each in QUESTIONS]
    return page(
        request,
        "record/list.html",
        entry=record.opened.entry,
        base=record.base,
        draft=draft,
        note=note,
        standing=standing,
        signed=[each for each in found if each.is_signed],
        newest={each.id: each.version for each in reversed(found) if each.is_signed},
        values=assets(),
    )


def usual_paper(record: OpenRecord) -> Paper:
    """Return the paper of the place where the units are at home."""
    return "letter" if record.opened.rig.units is Units.US else "a4"


def _signatures(sent: FormData) -> Sequence[Signature]:
    """Return the signatures a form bears; a part without a name is not signed.

    Raises
    ------
    InvalidInput
        If strokes cannot be read.
    """
    found = []
    for role in ROLES:
        name, drawn = str(sent.get(f"name.{role}", "")), str(sent.get(f"strokes.{role}", ""))
        if not name.strip() and role != TECHNICIAN:
            continue
        field = f"signature.{role}"
        try:
            given = json.loads(drawn or "[]")
        except ValueError:
            given = None
        found.append(Signature(role, name, strokes_from_plain(given, field)))
    return found


def _sign_page(
    request: Request, record: OpenRecord, sent: FormData, problems: tuple[InvalidInput, ...]
) -> Response:
    draft = record.draft
    if draft is None:
        raise HTTPException(404)
    document = record.records.preview(draft.id)
    usual = {TECHNICIAN: record.who.name or record.opened.rig.technician}
    return page(
        request,
        "record/sign.html",
        status=422 if problems else 200,
        entry=record.opened.entry,
        base=record.base,
        draft=draft,
        roles=[
            (role, str(sent.get(f"name.{role}", usual.get(role, ""))), role == TECHNICIAN)
            for role in ROLES
        ],
        customer=record.opened.rig.customer,
        seen=checksum(canonical(document)),
        document=document,
        problems={each.field.removesuffix(".name"): each for each in problems},
        values=assets(),
    )


def _pdf(pdf: bytes, name: str) -> Response:
    disposition = f'inline; filename="{file_name(name)}.pdf"'
    headers = {"content-disposition": disposition}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _picture(pages: tuple[bytes, ...], number: int) -> Response:
    if not 1 <= number <= len(pages):
        raise HTTPException(404)
    return Response(pages[number - 1], media_type="image/png")
