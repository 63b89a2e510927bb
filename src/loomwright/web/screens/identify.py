"""Which wire does what: cautions, then one question at a time, then the wire map."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel, Field
from starlette.responses import Response

from loomwright.identify.commands import GROUND_TESTS
from loomwright.identify.from_rig import functions_for
from loomwright.identify.identification import Identification, identify
from loomwright.identify.question import NEAR
from loomwright.identify.reading import readings_of
from loomwright.invalid import InvalidInput
from loomwright.store.identified_wires import keep_identified_wires
from loomwright.web.identifying import beginning, keeping
from loomwright.web.identifying.sending import PLACE, go, known, sent
from loomwright.web.opened import AKeptRig, KeptRig
from loomwright.web.pages import page
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import workbench

EVERY_VEHICLE_HAS = frozenset({"rest", "brake_pedal", *(each.key for each in GROUND_TESTS)})
"""Commands of which nobody can say that this vehicle has none such."""

routes = APIRouter()


class Answered(BaseModel):
    """One answer as a form sends it; `seq` is the page it answers."""

    seq: Annotated[int, Field(ge=0)]
    command: str
    wire: str
    tester: str
    seen: str = ""
    value: str = ""


@routes.get("/rigs/{rig_id}/identify")
def show_identification(request: Request, kept: AKeptRig) -> HTMLResponse:
    """Show what is next: the form that begins, the cautions, a question, or the result."""
    mine = known(request, kept)
    if mine.bundle is None:
        return _begin_page(request, kept, {}, (), {})
    found = identify(mine.bundle, mine.readings)
    if not mine.is_heeded and found.question is not None:
        return _page(request, kept, "heed", (mine, found))
    if found.question is None:
        return _page(request, kept, "result", (mine, found))
    return _page(request, kept, "ask", (mine, found))


@routes.post("/rigs/{rig_id}/identify/begin")
async def begin(request: Request, kept: AKeptRig, who: AVisitor) -> Response:
    """Begin a bundle."""
    form = await request.form()
    fields = {key: str(value) for key, value in form.items()}
    marked = tuple(str(each) for each in form.getlist("function"))
    begun = beginning.begin(fields, marked)
    if begun.bundle is None:
        return _begin_page(request, kept, fields, marked, begun.problems)
    to = "/colours" if begun.bundle.colour_weight else ""
    said = keeping.begun(begun.bundle)
    return sent(request, kept, who.who, said, _number(fields.get("seq")), to=to)


@routes.post("/rigs/{rig_id}/identify/heed")
def heed(
    request: Request, kept: AKeptRig, who: AVisitor, seq: Annotated[int, Form(ge=0)]
) -> Response:
    """Go on from the cautions."""
    return sent(request, kept, who.who, {"what": keeping.HEEDED}, seq)


@routes.post("/rigs/{rig_id}/identify/answer")
def answer(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    said: Annotated[Answered, Form()],
) -> Response:
    """Take one reading, a word or a number."""
    mine = known(request, kept)
    if mine.bundle is None or mine.seq != said.seq:
        return go(kept)  # answers a page that is past: the first answer counted
    problems: list[InvalidInput] = []
    try:
        shown = said.seen or _typed(said.value)
        readings = readings_of(mine.bundle, said.command, said.wire, said.tester, shown)
    except InvalidInput as refused:
        problems = [refused]
    except ExceptionGroup as refused:
        problems = [each for each in refused.exceptions if isinstance(each, InvalidInput)]
    if problems:
        found = identify(mine.bundle, mine.readings)
        more = {"problem": problems[0], "typed": said.value}
        return _page(request, kept, "ask", (mine, found), more)
    return sent(request, kept, who.who, keeping.read(readings), said.seq)


@routes.post("/rigs/{rig_id}/identify/back")
def back(
    request: Request, kept: AKeptRig, who: AVisitor, seq: Annotated[int, Form(ge=0)]
) -> Response:
    """Take the last reading back."""
    return sent(request, kept, who.who, {"what": keeping.BACK}, seq)


@routes.post("/rigs/{rig_id}/identify/never")
def never(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    seq: Annotated[int, Form(ge=0)],
    command: Annotated[str, Form()],
) -> Response:
    """Ask for a command no more: this vehicle has none such."""
    if command in EVERY_VEHICLE_HAS:
        return go(kept)
    return sent(request, kept, who.who, {"what": keeping.NEVER, "command": command}, seq)


@routes.post("/rigs/{rig_id}/identify/drop")
def drop(
    request: Request, kept: AKeptRig, who: AVisitor, seq: Annotated[int, Form(ge=0)]
) -> Response:
    """Begin another bundle; what was read of this one stays in the log."""
    return sent(request, kept, who.who, {"what": keeping.DROPPED}, seq)


@routes.post("/rigs/{rig_id}/identify/keep")
def keep(request: Request, kept: AKeptRig, who: AVisitor) -> Response:
    """Keep what was proved as the vehicle's wire map."""
    mine = known(request, kept)
    if mine.bundle is None:
        return go(kept)
    wires = identify(mine.bundle, mine.readings).kept_wires
    keep_identified_wires(workbench(request).store.access, kept.entry.id, wires, who.who)
    say(request, f"{len(wires)} wires are kept for the shop as this vehicle's wire map.")
    return RedirectResponse(f"/rigs/{kept.entry.id}/describe/wire-maps", 303)


def _number(text: str | None) -> int:
    return int(text) if text is not None and text.isdecimal() else 0


def _typed(value: str) -> float | str:
    try:
        return float(value.replace(",", ".").strip())
    except ValueError:
        raise InvalidInput("value", value, "type the number that the meter shows") from None


def _page(
    request: Request,
    kept: KeptRig,
    name: str,
    at: tuple[keeping.Kept, Identification],
    more: Mapping[str, Any] | None = None,
) -> HTMLResponse:
    mine, found = at
    return page(
        request,
        f"identify/{name}.html",
        status=422 if more else 200,
        entry=kept.entry,
        base=PLACE.at(kept.entry.id),
        found=found,
        asked=found.question,
        seq=mine.seq,
        near=NEAR,
        can_lack=found.question is not None and found.question.command not in EVERY_VEHICLE_HAS,
        **{"problem": None, "typed": "", **(more or {})},
    )


def _begin_page(
    request: Request,
    kept: KeptRig,
    fields: Mapping[str, str],
    marked: tuple[str, ...],
    problems: Mapping[str, InvalidInput],
) -> HTMLResponse:
    expected = marked
    if not expected and not kept.problems():
        expected = functions_for(kept.solver.rig(kept.text, kept.units))
    return page(
        request,
        "identify/begin.html",
        status=422 if problems else 200,
        entry=kept.entry,
        base=PLACE.at(kept.entry.id),
        fields=fields,
        problems=problems,
        seq=known(request, kept).seq,
        counts=beginning.COUNTS,
        testers=[(key, *each[:2]) for key, each in beginning.TESTERS.items()],
        signallings=[(key, *each) for key, each in beginning.SIGNALLINGS.items()],
        feedings=[(key, *each) for key, each in beginning.FEEDINGS.items()],
        functions=beginning.choices(expected),
    )
