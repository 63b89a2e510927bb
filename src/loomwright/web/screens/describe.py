"""Describing a rig, part by part: a few plain questions to a page, each change kept at once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.invalid import InvalidInput, complaints_in
from loomwright.rig.read import read_rig
from loomwright.web.describing.adding import LAMPS, missing_feeds, missing_lights
from loomwright.web.describing.answers import Facts, answer, problem_of
from loomwright.web.describing.choices import connector_title
from loomwright.web.describing.choosing import face_of
from loomwright.web.describing.listing import rows, wires
from loomwright.web.describing.opening import (
    ADescribed,
    Described,
    Sent,
    base_of,
    based_on,
    go,
    keep,
    script,
    style,
    tables,
)
from loomwright.web.describing.parts import PARTS, neighbours, questions_at
from loomwright.web.describing.parts import Place as Page
from loomwright.web.describing.questions import Question
from loomwright.web.describing.summary import summary
from loomwright.web.describing.understood import read_swatch
from loomwright.web.describing.writing import edits, is_same, shown, value_at, write_all
from loomwright.web.opened import KeptRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.visitor import say
from loomwright.web.workbench import workbench

PLACE = Place("describe", "describe", "/rigs/{rig_id}/describe")
routes = APIRouter()


@routes.get("/rigs/{rig_id}/describe")
def show_parts(request: Request, opened: ADescribed) -> HTMLResponse:
    """Show the parts of a rig along the run, each with what is said of it."""
    facts = opened.facts()
    return page(
        request,
        "describe/parts.html",
        entry=opened.kept.entry,
        style=style(),
        base=opened.base,
        parts=[(part, *summary(part, facts)) for part in PARTS],
        maps=maps_offered(request, opened),
    )


@routes.post("/rigs/{rig_id}/describe/check")
def check_answer(request: Request, opened: ADescribed, fields: Sent, path: str) -> HTMLResponse:
    """Say how an answer is understood, or what is to mend, while it is typed; nothing is kept."""
    place = opened.place_of(path)
    asked = _question(place, opened.data, path)
    text = fields.get(path, "")
    edited = write_all(opened.kept.text, edits(asked, text, opened.data))
    before = opened.facts(place)
    facts = Facts(opened.data, before.assumptions, _problems(edited), before.units)
    one = answer(asked, facts, text)
    return page(request, "describe/note.html", one=one, read_swatch=read_swatch)


def show_part(request: Request, opened: ADescribed) -> HTMLResponse:
    """Show the questions of a part; its key is the end of the address."""
    return _show(request, opened, opened.place(request.url.path.rpartition("/")[2]))


def keep_part(request: Request, opened: ADescribed, fields: Sent) -> Response:
    """Keep the answers of a part; its key is the end of the address."""
    return _keep(request, opened, fields, opened.place(request.url.path.rpartition("/")[2]))


for each_part in PARTS:
    address = f"/rigs/{{rig_id}}/describe/{each_part.key}"
    routes.add_api_route(address, show_part, methods=["GET"])
    routes.add_api_route(address, keep_part, methods=["POST"])


@routes.get("/rigs/{rig_id}/describe/{part}/{number}")
def show_entry(request: Request, opened: ADescribed, part: str, number: int) -> HTMLResponse:
    """Show the questions of one feed, socket, lamp, axle or appliance."""
    return _show(request, opened, opened.place(part, number))


@routes.get("/rigs/{rig_id}/describe/{part}/{number}/{function}")
def show_wire(
    request: Request, opened: ADescribed, part: str, number: int, function: str
) -> HTMLResponse:
    """Show the questions of one wire of a lead."""
    return _show(request, opened, opened.place(part, number, function))


@routes.post("/rigs/{rig_id}/describe/{part}/{number}")
def keep_entry(
    request: Request, opened: ADescribed, fields: Sent, part: str, number: int
) -> Response:
    """Keep the answers of one entry."""
    return _keep(request, opened, fields, opened.place(part, number))


@routes.post("/rigs/{rig_id}/describe/{part}/{number}/{function}")
def keep_wire(
    request: Request, opened: ADescribed, fields: Sent, *, part: str, number: int, function: str
) -> Response:
    """Keep the answers of one wire of a lead."""
    return _keep(request, opened, fields, opened.place(part, number, function))


def maps_offered(request: Request, opened: Described) -> int:
    """Return how many wire maps of the shop hold for this vehicle, apart from its own."""
    name = value_at(opened.data, "vehicle.name")
    if not isinstance(name, str) or not name.strip():
        return 0
    maps = workbench(request).store.wire_maps.wire_maps_for(name)
    return sum(one.rig_id != opened.kept.entry.id for one in maps)


def _keep(request: Request, opened: Described, fields: Mapping[str, str], place: Page) -> Response:
    number = based_on(fields)
    base = base_of(request, opened, number)
    data = tables(opened.kept, base.text)
    if not place.exists(data):
        raise HTTPException(404)
    version = keep(request, opened, _edited(base.text, data, place, fields), number)
    if isinstance(version, Response):
        return version
    said = f"Kept: {version.change}." if version.number != number else ""
    kept = KeptRig(opened.kept.entry, version, opened.kept.solver, opened.kept.units)
    now = Described(kept, tables(kept, version.text), opened.who)
    if "hx-request" in request.headers:
        return _show(request, now, place, said)
    if said:
        say(request, said, f"/rigs/{kept.entry.id}/undo")
    return go(_onward(now, place, fields))


def _edited(text: str, data: Mapping[str, Any], place: Page, fields: Mapping[str, str]) -> str:
    """Return a job file with every answer of a form that differs from what it says."""
    picked, _, value = fields.get("pick", "").partition("=")
    answers = {**fields, picked: value} if picked else fields
    gone: list[str] = []
    for asked in questions_at(place, data):
        said = answers.get(asked.path, None)
        if said is None or is_same(asked, said, shown(asked, data)):
            continue
        if any(asked.path.startswith(f"{path}.") for path in gone):
            continue
        if asked.kind == "table" and said == "no":
            gone.append(asked.path)
        text = write_all(text, edits(asked, said, data))
    return text


def _onward(now: Described, place: Page, fields: Mapping[str, str]) -> str:
    """Return where a kept form leads: to a picker, to what is to mend, or on along the run."""
    here = now.base + place.address
    picker, _, path = fields.get("open", "").partition(":")
    if picker in ("colour", "lamp", "connector") and path:
        return f"{now.base}/choose-{picker}?path={path}"
    problems = now.kept.problems()
    asked = questions_at(place, now.data)
    wrong = next((one for one in asked if problem_of(one, problems)), None)
    if wrong is not None:
        return f"{here}#q-{wrong.mark}"
    if "pick" in fields or "next" not in fields:
        return here
    if place.number:
        back = Page(place.part, place.number if place.function else 0)
        return now.base + (back.address if place.part.key != "trailer" else "/trailer")
    following = neighbours(place.part)[1]
    return now.base + (f"/{following.key}" if following else "")


def _show(request: Request, opened: Described, place: Page, kept: str = "") -> HTMLResponse:
    facts = opened.facts(place)
    sections = [
        (section, [answer(asked, facts) for asked in section.questions])
        for section in place.sections(opened.data)
    ]
    before, after = neighbours(place.part)
    is_part = "hx-request" in request.headers
    is_socket = place.part.key == "sockets" and place.number > 0 and not place.function
    return page(
        request,
        "describe/body.html" if is_part else "describe/part.html",
        entry=opened.kept.entry,
        style=style(),
        script=script(),
        base=opened.base,
        place=place,
        title=place.title(opened.data),
        sections=sections,
        based_on=opened.kept.version.number,
        kept=kept,
        problems=_elsewhere(opened, facts, place),
        rows=() if place.number else rows(place.part, facts),
        wires=wires(place, facts, opened.rig),
        before=before,
        after=after,
        adds=_adds(opened, place),
        maps=maps_offered(request, opened) if place.part.key in ("vehicle", "feeds") else 0,
        connector_title=connector_title,
        face=face_of(value_at(opened.data, f"{place.path}.connector")) if is_socket else None,
        read_swatch=read_swatch,
    )


def _adds(opened: Described, place: Page) -> dict[str, Any]:
    """Return what can be added on a page."""
    data, key = opened.data, place.part.key
    if key == "feeds":
        asked, others = missing_feeds(data)
        return {"asked": asked, "others": others}
    if key == "lamps":
        lights = missing_lights(data, place.number) if place.number else ()
        return {"lamps": LAMPS, "lights": lights}
    return {}


def _elsewhere(opened: Described, facts: Facts, place: Page) -> list[tuple[InvalidInput, str]]:
    """Return what is to mend and has no field on a page, each with where it can be mended."""
    asked = questions_at(place, opened.data)
    shown_here = {id(problem_of(one, facts.problems)) for one in asked}
    return [
        (one, opened.address_of(one.field)) for one in facts.problems if id(one) not in shown_here
    ]


def _question(place: Page, data: Mapping[str, Any], path: str) -> Question:
    found = next((one for one in questions_at(place, data) if one.path == path), None)
    if found is None:
        raise HTTPException(404)
    return found


def _problems(text: str) -> tuple[InvalidInput, ...]:
    found: tuple[InvalidInput, ...] = ()
    try:
        read_rig(text)
    except* InvalidInput as unusable:
        found = complaints_in(unusable)
    return found
