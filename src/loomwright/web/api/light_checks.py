"""Light checks for programs: list, begin, read, answer, end."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Depends, Header, Path, Request
from pydantic import Field

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.plain import plan_to_plain
from loomwright.reference.testers import testers
from loomwright.store.checks_values import LightCheck, NewCheck, Stage
from loomwright.web.api.forms import (
    DRAFT,
    NO_SUCH_RIG,
    NO_ZERO,
    NOT_LET_IN,
    Answers,
    Refusal,
    Strict,
)
from loomwright.web.light_checking.giving import Said
from loomwright.web.light_checking.sending import check_numbered, keep, state_of
from loomwright.web.light_checking_live.planning import Wish
from loomwright.web.opened import AKeptRig, AnOpenRig
from loomwright.web.screens.light_check import TITLES
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench

NO_SUCH_CHECK: Answers = {404: {"model": Refusal, "description": "There is no such rig or check"}}
MOST_ANSWERS = 500
LONGEST_PLANNING_S = 120.0

routes = APIRouter(responses={**NOT_LET_IN, **NO_SUCH_RIG})

Program = Annotated[
    str,
    Header(
        alias="x-requested-by",
        description="Name of the program that writes; our own pages send their token",
        max_length=80,
        pattern=r"^[ -~]*$",
    ),
]
Key = Annotated[str, Field(max_length=300, pattern=NO_ZERO)]


class BegunCheck(Strict):
    """What a light check begins with."""

    tester: Annotated[str, Field(max_length=200, pattern=NO_ZERO)] = Field(
        "trailer", description="Keys of testers, joined by +"
    )
    people: Literal[1, 2] = 2
    stage: Literal["plain", "before", "after"] = "plain"
    engine: Literal["off", "running"] = "off"
    socket: Key = Field("", description="Left out: the one the trailer plugs into")
    prop: bool = Field(True, description="For one person: a prop for the pedal")
    wall: bool = Field(False, description="For one person: the lamps are seen from the cab")
    fob: Annotated[list[Literal["park", "hazard"]], Field(max_length=2)] = Field(
        default_factory=list, description="For one person: what the key fob turns on"
    )
    pedal_s: int = Field(
        0, ge=0, le=3600, description="For one person: how long stop lamps stay on by themselves"
    )


class SaidAnswer(Strict):
    """One answer: a word, a number, or that it was not tested."""

    expectation: Key
    word: Key | None = None
    value: float | None = None
    not_tested: bool = False
    usual: bool = Field(False, description="Normal for this vehicle")
    note: Annotated[str, Field(max_length=500, pattern=NO_ZERO)] = ""


class SaidAnswers(Strict):
    """What a device sends at once."""

    key: Annotated[str, Field(min_length=8, max_length=64, pattern=r"^[!-~]+$")] = Field(
        description="Mark of the sender: what is sent again counts once"
    )
    answers: Annotated[list[SaidAnswer], Field(max_length=MOST_ANSWERS)] = Field(
        default_factory=list
    )
    step: int | None = Field(None, ge=0, le=10_000, description="The step to go to")
    age_s: float = Field(0.0, ge=0.0, le=1e9, description="How long ago it was given")


def light_check(
    request: Request, kept: AKeptRig, number: Annotated[int, Path(ge=1, le=2**31 - 1)]
) -> LightCheck:
    """Return the check an address names."""
    return check_numbered(request, kept.entry.id, number)


ALightCheck = Annotated[LightCheck, Depends(light_check)]


@routes.get("/testers")
def list_testers() -> dict[str, str]:
    """Testers a light check can be made with."""
    return {row.key: row.title for row in testers()}


@routes.get("/rigs/{rig_id}/light-checks")
def list_checks(request: Request, kept: AKeptRig) -> list[dict[str, Any]]:
    """Light checks of a rig, the newest first."""
    bench = workbench(request)
    return [state_of(bench, each) for each in bench.store.checks.checks_of(kept.entry.id)]


@routes.post("/rigs/{rig_id}/light-checks", status_code=201, responses=DRAFT)
def begin_check(
    request: Request,
    opened: AnOpenRig,
    begun: BegunCheck,
    who: AVisitor,
    program: Program = "",
) -> dict[str, Any]:
    """Begin a light check; answers when its plan is worked out."""
    del program  # its name is the visitor's
    bench = workbench(request)
    known = [row.key for row in testers()]
    if not set(begun.tester.split("+")) <= set(known):
        raise InvalidInput("tester", begun.tester, "use one or more of " + ", ".join(known))
    wish = Wish(
        begun.tester,
        begun.people,
        begun.engine,
        begun.socket,
        begun.prop,
        begun.wall,
        tuple(begun.fob),
        begun.pedal_s,
    )
    planning = bench.plans.wanted(opened.text, opened.rig, wish)
    planning.ready.wait(LONGEST_PLANNING_S)
    stage = Stage(begun.stage)
    new = NewCheck(opened.entry.id, opened.version.number, TITLES[stage], stage, planning.result())
    return _full(request, bench.store.checks.begin(new, who.who))


@routes.get("/rigs/{rig_id}/light-checks/{number}", responses=NO_SUCH_CHECK)
def read_check(request: Request, check: ALightCheck) -> dict[str, Any]:
    """A light check with its plan and its answers."""
    return _full(request, check)


@routes.post("/rigs/{rig_id}/light-checks/{number}/answers", responses=NO_SUCH_CHECK)
def give_answers(
    request: Request, check: ALightCheck, sent: SaidAnswers, who: AVisitor, program: Program = ""
) -> dict[str, Any]:
    """Keep answers, once for each key, and go to a step."""
    del program  # its name is the visitor's
    bench = workbench(request)
    said = tuple(Said(**each.model_dump()) for each in sent.answers)
    kept = keep(bench, check, said, who.who, step=sent.step, key=sent.key, age_s=sent.age_s)
    return state_of(bench, kept)


@routes.post("/rigs/{rig_id}/light-checks/{number}/end", responses=NO_SUCH_CHECK)
def end_check(
    request: Request, check: ALightCheck, who: AVisitor, program: Program = ""
) -> dict[str, Any]:
    """End a light check; what is not answered stays not tested."""
    del program  # its name is the visitor's
    bench = workbench(request)
    ended = bench.store.checks.end(check.id, who.who)
    bench.following.wake(check.id)
    return state_of(bench, ended)


def _full(request: Request, check: LightCheck) -> dict[str, Any]:
    return {**state_of(workbench(request), check), "plan": plan_to_plain(check.plan)}
