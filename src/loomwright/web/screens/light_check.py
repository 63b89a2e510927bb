"""The light check: who does it and with what; then the plan, worked out for this very rig."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.responses import Response

from loomwright.invalid import InvalidInput, raise_all
from loomwright.reference.testers import testers
from loomwright.store.checks import is_over
from loomwright.store.checks_values import NewCheck, Stage
from loomwright.web.light_checking_live.planning import Wish
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench

PLACE = Place("light-check", "light check", "/rigs/{rig_id}/light-check")
routes = APIRouter()

STAGES = {
    Stage.PLAIN: ("Only now", "a check for itself"),
    Stage.BEFORE: ("Before the work", "to show afterwards what was so already"),
    Stage.AFTER: ("After the work", "the record shows both side by side"),
}
TITLES = {
    Stage.PLAIN: "Light check",
    Stage.BEFORE: "Before the work",
    Stage.AFTER: "After the work",
}
PEDAL_S = ("0", "20", "30", "45", "60")
"""How long some vehicles keep their stop lamps on for a check of the lamps. [s]"""
FOBS = ("", "park", "hazard", "park+hazard")
FIELDS = ("tester", "people", "stage", "engine", "socket")
Short = Annotated[str, Form(max_length=200)]


@routes.get("/rigs/{rig_id}/light-check")
def ask(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Ask once: which tester, how many people, before or after the work."""
    return _ask(request, opened)


@routes.post("/rigs/{rig_id}/light-check")
def begin(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    *,
    tester: Annotated[list[str] | None, Form(max_length=12)] = None,
    people: Short = "2",
    stage: Short = "plain",
    engine: Short = "off",
    socket: Short = "",
    prop: Short = "",
    wall: Short = "",
    fob: Annotated[list[str] | None, Form(max_length=4)] = None,
    pedal_s: Short = "0",
) -> Response:
    """Begin a check; where its plan takes long, show how far it has come."""
    asked = {"people": people, "stage": stage, "engine": engine, "socket": socket}
    asked |= {"pedal_s": pedal_s, "fob": "+".join(fob or ())}
    try:
        wish, when = _wish(tester or [], asked, prop=bool(prop), wall=bool(wall))
    except* InvalidInput as unusable:
        group = unusable
    else:
        return _begun(request, opened, who.who, wish, when)
    problems = {one.field: one for one in group.exceptions if isinstance(one, InvalidInput)}
    return _ask(request, opened, asked, tuple(tester or ()), problems)


@routes.get("/rigs/{rig_id}/light-check/planning")
def wait(
    request: Request,
    opened: AnOpenRig,
    *,
    tester: Annotated[str, Query(max_length=200)] = "trailer",
    people: Literal["1", "2"] = "2",
    engine: Literal["off", "running"] = "off",
    socket: Annotated[str, Query(max_length=200)] = "",
    stage: Stage = Stage.PLAIN,
    prop: bool = True,
    wall: bool = False,
    fob: Annotated[str, Query(max_length=60)] = "",
    pedal_s: Annotated[int, Query(ge=0, le=3600)] = 0,
) -> HTMLResponse:
    """Show how far the plan has come; when it is there, the page sends the form that begins."""
    keys = tuple(key for key in fob.split("+") if key)
    wish = Wish(tester, 1 if people == "1" else 2, engine, socket, prop, wall, keys, pedal_s)
    planning = workbench(request).plans.wanted(opened.text, opened.rig, wish)
    if planning.ready.is_set():
        planning.result()
    part = "hx-request" in request.headers
    return page(
        request,
        "light_check/progress.html" if part else "light_check/planning.html",
        entry=opened.entry,
        planning=planning,
        wish=wish,
        stage=stage,
    )


def _begun(request: Request, opened: OpenRig, who: str, wish: Wish, stage: Stage) -> Response:
    bench, rig_id = workbench(request), opened.entry.id
    planning = bench.plans.wanted(opened.text, opened.rig, wish)
    if not planning.ready.is_set():
        query = _query(wish, stage)
        return RedirectResponse(f"{PLACE.at(rig_id)}/planning?{query}", 303)
    new = NewCheck(rig_id, opened.version.number, TITLES[stage], stage, planning.result())
    check = bench.store.checks.begin(new, who)
    return RedirectResponse(f"{PLACE.at(rig_id)}/{check.number}", 303)


def _query(wish: Wish, stage: Stage) -> str:
    from urllib.parse import urlencode

    said = {
        "tester": wish.tester,
        "people": wish.people,
        "engine": wish.engine,
        "socket": wish.socket,
        "stage": str(stage),
        "prop": str(wish.prop).lower(),
        "wall": str(wish.wall).lower(),
        "fob": "+".join(wish.fob),
        "pedal_s": wish.pedal_s,
    }
    return urlencode(said)


def _wish(
    chosen: list[str], asked: dict[str, str], *, prop: bool, wall: bool
) -> tuple[Wish, Stage]:
    """Return what was asked for.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every answer that cannot be used.
    """
    problems = []
    known = [row.key for row in testers()]
    keys = [key for each in chosen for key in each.split("+")]
    if not keys or any(key not in known for key in keys):
        fix = "choose what you test with: " + ", ".join(known)
        problems.append(InvalidInput("tester", "+".join(keys), fix))
    for field, allowed in (
        ("people", ("1", "2")),
        ("engine", ("off", "running")),
        ("stage", tuple(Stage)),
        ("pedal_s", PEDAL_S),
        ("fob", FOBS),
    ):
        if asked[field] not in allowed:
            fix = "choose one of " + ", ".join(allowed)
            problems.append(InvalidInput(field, asked[field], fix))
    raise_all(problems, "light check")
    wish = Wish(
        "+".join(dict.fromkeys(keys)),
        1 if asked["people"] == "1" else 2,
        "running" if asked["engine"] == "running" else "off",
        asked["socket"],
        prop,
        wall,
        tuple(key for key in asked["fob"].split("+") if key),
        int(asked["pedal_s"]),
    )
    return wish, Stage(asked["stage"])


def _ask(
    request: Request,
    opened: OpenRig,
    asked: dict[str, str] | None = None,
    chosen: tuple[str, ...] = ("trailer",),
    problems: dict[str, Any] | None = None,
) -> HTMLResponse:
    bench = workbench(request)
    earlier = bench.store.checks.checks_of(opened.entry.id)
    asked = asked or {"people": "2", "stage": "plain", "engine": "off", "socket": ""} | {
        "pedal_s": "0",
        "fob": "",
    }
    return page(
        request,
        "light_check/ask.html",
        status=422 if problems else 200,
        entry=opened.entry,
        testers=[row for row in testers() if row.key != "eye"],
        stages=[(str(key), *words) for key, words in STAGES.items()],
        sockets=[each.name for each in opened.rig.sockets],
        towing=opened.rig.towing,
        asked=asked,
        chosen=chosen,
        problems={field: (problems or {}).get(field) for field in FIELDS},
        open_checks=[each for each in earlier if not is_over(each)],
        done_checks=[each for each in earlier if is_over(each)],
        usual=bench.store.usual.usual_for(opened.entry.vehicle),
    )
