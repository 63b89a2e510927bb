"""Writing a record: one question at a time, and its photos."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.colours import read_colour
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.sheets.handover_owner import owner_words
from loomwright.store.photos_stripping import MOST_BYTES
from loomwright.store.records_entries import MOST_PHOTOS, Entries
from loomwright.store.records_values import Record
from loomwright.web.pages import page
from loomwright.web.recording.opening import ARecord, OpenRecord, Sent, assets, go
from loomwright.web.recording.questions import BY_KEY, QUESTIONS, Question, after, before
from loomwright.web.screens.record import NOTHING_OPEN, list_page
from loomwright.web.visitor import say
from loomwright.web.workbench import workbench

routes = APIRouter()

PHOTOS = BY_KEY["photos"]


@routes.get("/rigs/{rig_id}/record/write")
def ask(request: Request, record: ARecord, ask: str = "found") -> Response:
    """Show one question of the draft."""
    if record.draft is None:
        return list_page(request, record, NOTHING_OPEN)
    return _show(request, record, _question(ask))


@routes.post("/rigs/{rig_id}/record/write")
def take(request: Request, record: ARecord, sent: Sent, ask: str = "found") -> Response:
    """Keep the answer to one question, and go on to the next."""
    if record.draft is None:
        say(request, NOTHING_OPEN)
        return go(record.base)
    question = _question(ask)
    problems: tuple[InvalidInput, ...] = ()
    taken = _captions(record.draft, sent) if question is PHOTOS else question.taken(sent)
    try:
        record.records.change(record.draft.id, taken, record.who.who)
    except* InvalidInput as refused:
        problems = complaints_in(refused)
    if problems:
        return _show(request, record, question, problems, taken)
    following = after(question)
    if following is None:
        return go(f"{record.base}/look")
    return go(f"{record.base}/write?ask={following.key}")


@routes.post("/rigs/{rig_id}/record/photos")
async def add_photos(request: Request, record: ARecord, sent: Sent) -> Response:
    """Keep the photos that were sent, each without what it tells beside its picture."""
    from starlette.concurrency import run_in_threadpool

    if record.draft is None:
        say(request, NOTHING_OPEN)
        return go(record.base)
    files = [
        each for each in sent.getlist("photo") if isinstance(each, UploadFile) and each.filename
    ]
    problems: tuple[InvalidInput, ...] = ()
    if not files:
        problems = (InvalidInput("photo", "", "take or choose a photo first"),)
    kept = 0
    for file in files:
        data = await file.read(MOST_BYTES + 1)
        try:
            await run_in_threadpool(record.records.add_photo, record.draft.id, data, record.who.who)
            kept += 1
        except* InvalidInput as refused:
            name = (file.filename or "")[:80]
            problems += tuple(_named(each, name) for each in complaints_in(refused))
    if problems:
        now = replace(record, draft=record.records.draft_of(record.opened.entry.id))
        return await run_in_threadpool(_show, request, now, PHOTOS, problems)
    say(request, f"{kept} photo{'' if kept == 1 else 's'} kept. Say what each shows.")
    return go(f"{record.base}/write?ask=photos")


@routes.post("/rigs/{rig_id}/record/photos/{sha256}/out")
def take_out(request: Request, record: ARecord, sha256: str) -> Response:
    """Take a photo out of the draft."""
    if record.draft is None:
        say(request, NOTHING_OPEN)
        return go(record.base)
    left = [
        {"sha256": each.sha256, "caption": each.caption}
        for each in record.draft.entries.photos
        if each.sha256 != sha256
    ]
    record.records.change(record.draft.id, {"photos": left}, record.who.who)
    return go(f"{record.base}/write?ask=photos")


@routes.get("/rigs/{rig_id}/record/photos/{sha256}")
def send_photo(record: ARecord, sha256: str) -> Response:
    """Send a photo of the draft."""
    held = record.draft.entries.photos if record.draft else ()
    if sha256 not in {each.sha256 for each in held}:
        raise HTTPException(404)
    photo = record.records.photo(sha256)
    return Response(photo.data, media_type=f"image/{photo.kind}")


def _question(key: str) -> Question:
    if key not in BY_KEY:
        raise HTTPException(404)
    return BY_KEY[key]


def _captions(draft: Record, sent: FormData) -> dict[str, Any]:
    """Return the photos of a draft with the words a form gives them."""
    return {
        "photos": [
            {
                "sha256": each.sha256,
                "caption": str(sent.get(f"caption.{each.sha256}", each.caption)),
            }
            for each in draft.entries.photos
        ]
    }


def _named(problem: InvalidInput, name: str) -> InvalidInput:
    """Return a complaint that names the file it is about."""
    said = str(problem.value)
    return InvalidInput(problem.field, f"{name}: {said}" if name else said, problem.fix)


def _show(
    request: Request,
    record: OpenRecord,
    question: Question,
    problems: tuple[InvalidInput, ...] = (),
    typed: Mapping[str, Any] | None = None,
) -> Response:
    draft = record.draft
    if draft is None:
        raise HTTPException(404)
    facts, entries = record.facts(), draft.entries
    checks = workbench(request).store.checks.checks_of(record.opened.entry.id)
    return page(
        request,
        "record/write.html",
        status=422 if problems else 200,
        entry=record.opened.entry,
        base=record.base,
        draft=draft,
        question=question,
        number=QUESTIONS.index(question) + 1,
        count=len(QUESTIONS),
        back=before(question),
        forth=after(question),
        entered=_values(entries, typed),
        values=assets(),
        facts=facts,
        phases=_phases(facts),
        checks=checks,
        cautions=owner_words(facts["has"]),
        problems=problems,
        most_photos=MOST_PHOTOS,
        most_mb=MOST_BYTES // 1_000_000,
        read_colour=read_colour,
    )


def _values(entries: Entries, typed: Mapping[str, Any] | None) -> dict[str, Any]:
    """Return what stands in the fields: what was typed, else what is kept."""
    names = Entries.__slots__
    return {name: (typed or {}).get(name, getattr(entries, name)) for name in names}


def _phases(facts: Mapping[str, Any]) -> dict[str, list[Mapping[str, Any]]]:
    found: dict[str, list[Mapping[str, Any]]] = {}
    for step in facts["steps"]:
        found.setdefault(step["phase"], []).append(step)
    return found
