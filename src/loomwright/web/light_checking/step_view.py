"""What the screens show of a step: what is held, what must be seen, and how to say so."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from loomwright.drawing.rear_view import rear_view
from loomwright.drawing.rear_view_face import PinShows, probed_face
from loomwright.lightcheck.model import Answer, Expectation, Plan, Step, Walks
from loomwright.observations.observation import Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import LIGHT, Word
from loomwright.reference.connectors import connector
from loomwright.rig.model import Rig
from loomwright.store.checks_values import KeptAnswer

NARROW_SPACE = "\u00a0"
BRAKES = (Word.WORKS, Word.WEAK, Word.OFF, Word.GRABBY, Word.LOCKED, Word.HOT)
MESSAGES = (Word.CONNECTED, Word.NO_TRAILER, Word.OVERLOAD, Word.FAULT)
PREPARES = re.compile(r"^((?:Key on, engine off|Engine running)\.) (.+)$", re.DOTALL)
FOLLOWS = re.compile(r" (?:Set the|It stays on for) ")
LASTS = re.compile(r"It stays on for (\d+) s")

WordSet = Literal["light", "brake", "message", "number"]


@dataclass(frozen=True, slots=True)
class Look:
    """One place to look at or to read.

    Attributes
    ----------
    key, title : str
        Its expectation.
    wanted : str
        What must be there: "flashing", "11.7 to 12.4 V".
    usual : str
        The word of the button that says so; "" for a number.
    unit : str
        Unit of a number; "" for a word.
    kind : str
        Which words can be said of it.
    is_dark : bool
        Whether nothing must be there.
    note : str
        What to know while looking.
    rule : str
        Words and band as JSON, for a device without a link.
    answer : str
        What was answered last; "" for nothing.
    standing : str
        How that stands; "" for no answer.
    says : str
        What that suggests.
    """

    key: str
    title: str
    wanted: str
    usual: str
    unit: str
    kind: WordSet
    is_dark: bool
    note: str
    rule: str
    answer: str
    standing: str
    says: str


@dataclass(frozen=True, slots=True)
class Part:
    """What is looked at in one go: plug in or out, with the drawing that shows it."""

    plug: str
    drawing: Markup | None
    looks: tuple[Look, ...]

    @property
    def words(self) -> tuple[Look, ...]:
        """Places where something is seen."""
        return tuple(each for each in self.looks if not each.unit)

    @property
    def numbers(self) -> tuple[Look, ...]:
        """Places where something is read that must be there."""
        return tuple(each for each in self.looks if each.unit and not each.is_dark)

    @property
    def dead(self) -> tuple[Look, ...]:
        """Places where no volts may be."""
        return tuple(each for each in self.looks if each.unit and each.is_dark)


@dataclass(frozen=True, slots=True)
class StepView:
    """One step as the screens show it.

    `prepare` comes before the act that is held, `then` after it; `meanwhile` is what the cab does
    until the next step; `lasts_s` is how long the vehicle keeps it on by itself, 0 where that is
    not counted; `walks` are those of one who is alone.
    """

    number: int
    prepare: str
    act: str
    then: str
    meanwhile: str
    lasts_s: int
    at: str
    caution: str
    parts: tuple[Part, ...]
    walks: Walks | None

    @property
    def looks(self) -> tuple[Look, ...]:
        """Every place of the step."""
        return tuple(look for part in self.parts for look in part.looks)

    @property
    def has_words(self) -> bool:
        """Whether something can be said of it all at once."""
        return any(part.words for part in self.parts)


def step_views(rig: Rig, plan: Plan, answers: Mapping[str, KeptAnswer]) -> tuple[StepView, ...]:
    """Return every step of a plan as the screens show it.

    Parameters
    ----------
    rig : Rig
        Whose lamps and sockets are drawn.
    plan : Plan
        The steps.
    answers : mapping of str to KeptAnswer
        What holds for each expectation that was answered.
    """
    return tuple(_step(rig, plan, number, answers) for number in range(len(plan.steps)))


def _step(rig: Rig, plan: Plan, number: int, answers: Mapping[str, KeptAnswer]) -> StepView:
    step = plan.steps[number]
    split = PREPARES.match(step.hold)
    prepare, act = (split[1], split[2]) if split else ("", step.hold)
    after = FOLLOWS.search(act)
    act, then = (act[: after.start()], act[after.start() :].strip()) if after else (act, "")
    lasts = LASTS.search(then)
    return StepView(
        number=number,
        prepare=prepare,
        act=act.rstrip("."),
        then=then,
        meanwhile=_meanwhile(step),
        lasts_s=int(lasts[1]) if lasts else 0,
        at=step.at,
        caution=step.caution,
        parts=tuple(_parts(rig, step.expectations, answers)),
        walks=plan.walks_at(step),
    )


def _meanwhile(step: Step) -> str:
    """What the person in the cab does while the other looks."""
    if step.command == "rest":
        return "Leave all off until this screen changes."
    if step.stays:
        return "It stays on by itself. Leave it on until this screen changes."
    return "Hold it until this screen changes."


def _parts(
    rig: Rig, expectations: Sequence[Expectation], answers: Mapping[str, KeptAnswer]
) -> Iterator[Part]:
    """Yield what is looked at with the plug out, then with it in; words and numbers apart."""
    for plugged in (False, True):
        for seen in (True, False):
            mine = [
                each
                for each in expectations
                if each.plugged == plugged and (each.quantity is Quantity.SEEN) == seen
            ]
            if mine:
                yield Part(
                    plug="Plug in" if plugged else "Plug out",
                    drawing=_drawing(rig, mine),
                    looks=tuple(_look(each, answers.get(each.key)) for each in mine),
                )


def _drawing(rig: Rig, expectations: Sequence[Expectation]) -> Markup | None:
    """Return the rear of the trailer for lamps, the face of the socket for pins."""
    lamps = {
        each.place.name: each.words[0]
        for each in expectations
        if each.place.kind is PlaceKind.LOAD and each.words and _kind(each) == "light"
    }
    if lamps:
        return Markup(rear_view(rig.trailer, lamps))  # noqa: S704 the drawing escapes its text
    pins = [each for each in expectations if each.place.kind is PlaceKind.PIN]
    if not pins:
        return None
    socket = next((each for each in rig.sockets if each.name == pins[0].place.name), None)
    if socket is None:
        return None
    shown = {each.place.pin: PinShows(_at_pin(each), not each.is_dark) for each in pins}
    face = probed_face(connector(socket.connector), shown)
    return Markup(face)  # noqa: S704 the drawing escapes its text


def _at_pin(expectation: Expectation) -> str:
    if expectation.quantity is Quantity.SEEN:
        return str(expectation.words[0]) if expectation.words else ""
    if expectation.is_dark or expectation.nominal is None:
        return "dead"
    return f"{expectation.nominal:.1f} {expectation.quantity}"


def _look(expectation: Expectation, kept: KeptAnswer | None) -> Look:
    is_word = expectation.quantity is Quantity.SEEN
    return Look(
        key=expectation.key,
        title=f"{expectation.title[:1].upper()}{expectation.title[1:]}",
        wanted=wanted(expectation),
        usual=str(expectation.words[0]) if is_word and expectation.words else "",
        unit="" if is_word else str(expectation.quantity),
        kind=_kind(expectation),
        is_dark=expectation.is_dark,
        note=expectation.note,
        rule=json.dumps(
            {
                "words": [str(word) for word in expectation.words],
                "doubtful": [str(word) for word in expectation.doubtful],
                "low": expectation.low,
                "high": expectation.high,
            }
        ),
        answer="" if kept is None else said(kept.answer),
        standing="" if kept is None else str(kept.answer.standing),
        says="" if kept is None else kept.answer.says,
    )


def wanted(expectation: Expectation) -> str:
    """Return what must be seen or read, in words."""
    if expectation.quantity is Quantity.SEEN:
        return " or ".join(str(word) for word in expectation.words) or "see the note"
    unit = f"{NARROW_SPACE}{expectation.quantity}"
    places = 2 if abs(expectation.high or 0.0) < 2.0 and not expectation.is_dark else 1
    if expectation.high is None:
        return "" if expectation.low is None else f"{expectation.low:.{places}f}{unit} or more"
    if expectation.low is None or expectation.low <= 0.0:
        return f"under {expectation.high:.{places}f}{unit}"
    return f"{expectation.low:.{places}f} to {expectation.high:.{places}f}{unit}"


def said(answer: Answer) -> str:
    """Return what was answered, in words."""
    observation = answer.observation
    if observation is None:
        return "not tested"
    if observation.word is not None:
        return str(observation.word)
    return f"{observation.value:g}{NARROW_SPACE}{observation.quantity}"


def _kind(expectation: Expectation) -> WordSet:
    if expectation.quantity is not Quantity.SEEN:
        return "number"
    if expectation.place.kind is PlaceKind.CONTROLLER:
        return "message"
    known = {Word.WORKS, Word.LOCKED} & set(expectation.words)
    if known or (expectation.at == "axle" and expectation.place.kind is PlaceKind.LOAD):
        return "brake"
    return "light"


WORD_SETS: Mapping[WordSet, tuple[Word, ...]] = {
    "light": LIGHT,
    "brake": BRAKES,
    "message": MESSAGES,
}
