"""What the JSON interface takes and gives. Strict: a number is no text, an unknown key is told."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from loomwright.store.entry import LONGEST_NAME, LONGEST_TEXT
from loomwright.store.rig_values import RigEntry, Version

Answers = dict[int | str, dict[str, Any]]

NO_ZERO = r"^[^\x00]*$"


class Strict(BaseModel):
    """Refuses what it does not know and what is of another type."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


def whole(value: object) -> object:
    """Return 5 for 5.0: to JSON they are the same number."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


Number = Annotated[int, Field(ge=1, le=2**31 - 1), BeforeValidator(whole)]
Name = Annotated[str, Field(max_length=LONGEST_NAME, pattern=NO_ZERO)]
Text = Annotated[str, Field(max_length=LONGEST_TEXT, pattern=NO_ZERO)]


class NewRig(Strict):
    """A job file to keep as a new rig."""

    text: Text = Field(description="A job file (TOML)")
    name: Name = Field("", description="Its name, if the file gives none")


class BegunRig(Strict):
    """What a rig that begins with a kind of job is to be called."""

    name: Name = Field("", description="Its name; left out, that of the kind")


class ChangedRig(Strict):
    """A changed job file, and the version it was made from."""

    text: Text
    based_on: Number = Field(description="The version that was changed")


class CopiedRig(Strict):
    """What a copy is to be called."""

    name: Name = ""


class Shelf(Strict):
    """Whether a rig is put away."""

    archived: bool


class Problem(BaseModel):
    """One entry to mend."""

    field: str
    value: str
    fix: str
    line: int | None


class Refusal(BaseModel):
    """Why a request was not done, and what to do."""

    detail: str
    problems: list[Problem]
    do: str


class Conflict(Refusal):
    """Somebody else changed the rig meanwhile: both texts, and both together if they fit."""

    newest: int
    theirs: str
    merged: str | None


class RigRow(BaseModel):
    """A rig as it stands in a list."""

    model_config = ConfigDict(from_attributes=True)

    id: str
    name: str
    kind: str
    vehicle: str
    trailer: str
    usable: bool
    archived: bool
    version: int
    created_at: datetime
    created_by: str
    updated_at: datetime
    updated_by: str


class VersionRow(BaseModel):
    """A version of a rig, without its text."""

    model_config = ConfigDict(from_attributes=True)

    number: int
    usable: bool
    change: str
    at: datetime
    who: str


class FullRig(RigRow):
    """A rig with its newest job file and what keeps it from being used."""

    text: str
    problems: list[Problem]


def row_of(entry: RigEntry) -> RigRow:
    """Return a rig for a program."""
    return RigRow.model_validate(entry)


def version_of(version: Version) -> VersionRow:
    """Return a version for a program."""
    return VersionRow.model_validate(version)


NOT_LET_IN: Answers = {
    401: {"model": Refusal, "description": "The device is not paired"},
    403: {"model": Refusal, "description": "A writing request without `x-requested-by`"},
    413: {"model": Refusal, "description": "Too large"},
    422: {"model": Refusal, "description": "Something to mend"},
    503: {"model": Refusal, "description": "The store cannot be used now"},
}
NO_SUCH_KIND: Answers = {404: {"model": Refusal, "description": "There is no such kind of job"}}
NO_SUCH_RIG: Answers = {404: {"model": Refusal, "description": "There is no such rig"}}
DRAFT: Answers = {409: {"model": Refusal, "description": "The rig is a draft, with what to mend"}}
EDIT_CONFLICT: Answers = {409: {"model": Conflict, "description": "Changed by somebody else"}}
