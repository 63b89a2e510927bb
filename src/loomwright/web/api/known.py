"""A rig that nobody described, for programs: begun with what is known of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from fastapi import APIRouter, Request
from pydantic import BaseModel, Field, create_model

from loomwright.web.api.forms import NOT_LET_IN, Name, RigRow, Strict, row_of
from loomwright.web.api.rigs import Program
from loomwright.web.beginning import answered_text, questions
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench

routes = APIRouter(responses=NOT_LET_IN)


def _known_answers() -> type[BaseModel]:
    """Return the form of the answers: of each question those that may be given, or none."""
    fields: dict[str, Any] = {
        each.key: (
            Literal[("", *(answer for answer, _, _ in each.answers))],
            Field("", description=f"{each.says} Left out: not known"),
        )
        for each in questions()
    }
    return create_model("KnownAnswers", __base__=Strict, **fields)


if TYPE_CHECKING:
    KnownAnswers = BaseModel
else:
    KnownAnswers = _known_answers()


class KnownRig(Strict):
    """What is known of a rig that nobody described, and what it is to be called."""

    answers: KnownAnswers = Field(default_factory=KnownAnswers)
    name: Name = Field("", description="Its name; left out, that of its connector")


@routes.post("/known/rigs", status_code=201)
def begin_known(request: Request, known: KnownRig, who: AVisitor, program: Program) -> RigRow:
    """Begin a rig with what is known of it; the usual is taken for the rest."""
    del program  # its name is the visitor's
    given = {key: value for key, value in known.answers.model_dump().items() if value}
    text = answered_text(given, known.name)
    rigs = workbench(request).store.rigs
    return row_of(rigs.create(text, who.who, change="begun from a few answers"))
