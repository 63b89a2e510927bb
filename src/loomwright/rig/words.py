"""The words a job file chooses from, taken from the model where it has them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import StrEnum
from typing import Annotated, get_args

from pydantic import StrictStr

from loomwright.quantities import Units
from loomwright.reference.trailer_facts import TrailerKind
from loomwright.rig import known, model
from loomwright.rig.entries import OneOf

NOTHING = "nothing"
"""Said of a breakaway battery that nothing charges."""

TRAILER_KINDS = tuple(kind.replace("_", " ") for kind in get_args(TrailerKind))
LIGHT_COLOURS = ("red", "amber", "white")
CONDITIONS = ("new", "aged")
LAWS = ("resistance", "constant-power")


def charged_by_words() -> Sequence[str]:
    """Return what may charge a breakaway battery."""
    return (*known.functions(), NOTHING)


def ground_words() -> Sequence[str]:
    """Return the ground methods as written: ``old wire``, ``own ring``."""
    return tuple(method.value.replace("-", " ") for method in model.GroundMethod)


def _of(choices: type[StrEnum]) -> Callable[[], Sequence[str]]:
    return lambda: tuple(choice.value for choice in choices)


def _these(*choices: str) -> Callable[[], Sequence[str]]:
    return lambda: choices


UnitsWord = Annotated[StrictStr, OneOf(_of(Units), "units")]
SignalsWord = Annotated[StrictStr, OneOf(_of(model.SignalSystem), "signals")]
SocketFeedWord = Annotated[StrictStr, OneOf(_of(model.SocketFeed), "socket feed")]
LampDriveWord = Annotated[StrictStr, OneOf(_of(model.LampDrive), "lamp drive")]
LiveWord = Annotated[StrictStr, OneOf(_of(model.Live), "live")]
JoinWord = Annotated[StrictStr, OneOf(_of(model.Join), "join")]
GroundWord = Annotated[StrictStr, OneOf(ground_words, "ground method")]
ReturnsWord = Annotated[StrictStr, OneOf(_of(model.Returns), "returns")]
ConverterWord = Annotated[StrictStr, OneOf(_of(model.ConverterKind), "converter kind")]
BrakingWord = Annotated[StrictStr, OneOf(_of(model.Braking), "brakes")]
SideWord = Annotated[StrictStr, OneOf(_these(*get_args(model.Side)), "side")]
ConditionWord = Annotated[StrictStr, OneOf(_these(*CONDITIONS), "condition")]
LawWord = Annotated[StrictStr, OneOf(_these(*LAWS), "law")]
LightColour = Annotated[StrictStr, OneOf(_these(*LIGHT_COLOURS), "colour of light")]
Jurisdiction = Annotated[StrictStr, OneOf(known.jurisdictions, "jurisdiction")]
TrailerWord = Annotated[StrictStr, OneOf(_these(*TRAILER_KINDS), "kind of trailer")]
ChargedBy = Annotated[StrictStr, OneOf(charged_by_words, "function")]
