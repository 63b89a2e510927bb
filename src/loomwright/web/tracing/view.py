"""What the trace screen shows: what it may be, what to look at next, the run beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.rear_view import rear_view
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.trace.model import Advice, Group, Outcome, Question, Ranking
from loomwright.web.tracing.forms import value_of_observations
from loomwright.web.tracing.places import value_of
from loomwright.web.tracing.retest import RIGHT
from loomwright.web.tracing.talk import Told
from loomwright.web.tracing.way import Way, way_of

MOST_SUSPECTS = 5
LAMPS_OF_A_LOOK = 2
WITH = {
    "meter": "a meter",
    "helper": "a helper",
    "other vehicle": "another vehicle",
    "other trailer": "another trailer",
    "bench supply": "a bench supply",
    "load box": "a load box",
}
MOST_ANSWERS = 4
LEAST_SHOWN = 0.01
LEAST_DRAWN = 0.1
SHOWN = 5
ASKED_AT_MOST = 12
"""Questions to choose from: those that were passed over make room for the next."""
SURE = ((0.95, "nearly sure"), (0.7, "likely"), (0.35, "quite possible"), (0.1, "possible"))
UNSURE = "not ruled out"
COMES = {Word.COMES_AND_GOES, Word.FLICKER, Word.AS_USUAL}
"""Words that go together with any other."""


@dataclass(frozen=True, slots=True)
class AnswerChoice:
    """One answer to a question: its words, what it would mean, and itself as a value of a form.

    `told` is how it is remembered; `is_right` whether it says that all is as it should be.
    """

    says: str
    means: tuple[str, ...]
    value: str
    told: str
    is_right: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """A question with its answers: the likeliest to tap, the others folded away.

    Attributes
    ----------
    question : Question
        What is asked.
    effort : str
        What it costs, and what it needs.
    first, others : tuple of AnswerChoice
        Its answers.
    is_look : bool
        Whether every lamp is looked at: then a word for each lamp can be said as well.
    must : Markup
        The rear of the trailer as it should be then; empty where nothing is to light.
    read_at : str
        Where a number is read, as a value of a form; empty where none is.
    unit : str
        The unit of that number.
    """

    question: Question
    effort: str
    first: tuple[AnswerChoice, ...]
    others: tuple[AnswerChoice, ...]
    is_look: bool
    must: Markup
    read_at: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class TraceView:
    """The whole answer.

    `asked` holds the questions that are not passed over, the one to ask first; `is_retest` says
    that the first one tests a repair, `left` how many such tests are still to do.
    """

    ranking: Ranking
    advice: Advice
    suspects: tuple[Group, ...]
    asked: tuple[Asked, ...]
    way: Way
    sides: tuple[tuple[str, float], ...]
    is_retest: bool = False
    left: int = 0


def trace_view(
    rig: Rig, ranking: Ranking, advice: Advice, told: Told, tests: Sequence[Question] = ()
) -> TraceView:
    """Return what the screen shows of a ranking.

    Parameters
    ----------
    rig : Rig
        The rig.
    ranking : Ranking
        What it may be.
    advice : Advice
        What to do next.
    told : Told
        How far the conversation is.
    tests : sequence of Question
        Tests of a repair that are still to do, the next one first.
    """
    shown = [group for group in ranking.groups[:MOST_SUSPECTS] if group.probability >= LEAST_SHOWN]
    first = {test.key for test in tests[:1]}
    others = [q for q in advice.questions if q.key not in told.passed | first]
    questions = [*tests[:1], *others]
    likeliest = shown[0] if shown and told.observations else None
    drawn = likeliest if likeliest and likeliest.probability >= LEAST_DRAWN else None
    now = questions[0] if questions else None
    return TraceView(
        ranking,
        advice,
        tuple(shown),
        tuple(asked_of(rig, question) for question in questions[:SHOWN]),
        way_of(rig, None if tests else drawn, now, is_sure=advice.repair is not None),
        tuple(sorted(ranking.by_side.items(), key=lambda each: -each[1])),
        is_retest=bool(tests),
        left=len(tests),
    )


def cautions_of(repair: Group) -> tuple[str, ...]:
    """Return what to mind at a repair, by where it is (common practice).

    Parameters
    ----------
    repair : Group
        What is repaired.
    """
    told = ["Key out, wheels chocked. Disconnect the battery before you cut or join."]
    if repair.place.startswith("vehicle"):
        told.append("Yellow or orange looms are airbags and high voltage: for licensed hands.")
    if "fuse" in repair.place:
        told.append("Find what blew it first. The same rating again, never a larger one.")
    if "brake" in repair.place or repair.circuit == "brake":
        told.append("Brakes: do not drive until every one of them is seen to pull.")
    return tuple(told)


def contradictions(observations: Sequence[Observation]) -> tuple[tuple[Observation, ...], ...]:
    """Return what cannot both be so at one moment: one place, one command, two words.

    Parameters
    ----------
    observations : sequence of Observation
        What was said.
    """
    by_place: dict[tuple[str, object], dict[object, Observation]] = {}
    for each in observations:
        if each.quantity is Quantity.SEEN and each.command:
            by_place.setdefault((each.command, each.place), {})[each.word] = each
    return tuple(
        tuple(words.values())
        for words in by_place.values()
        if len(words) > 1 and not words.keys() & COMES
    )


def how_sure(probability: float) -> str:
    """Return in words how much is believed."""
    return next((word for least, word in SURE if probability >= least), UNSURE)


def percent(probability: float) -> str:
    """Return a probability as people say it: never quite 0 or 100."""
    if probability > 0.99:
        return "over 99\u00a0%"
    return f"{100 * probability:.0f}\u00a0%" if probability >= 0.01 else "under 1\u00a0%"


def asked_of(rig: Rig, question: Question) -> Asked:
    """Return a question with its answers.

    Parameters
    ----------
    rig : Rig
        The rig.
    question : Question
        The question.
    """
    answers = [_choice(question, each) for each in question.outcomes if each.observations]
    reading = _reading(question.outcomes)
    return Asked(
        question,
        _effort(question),
        tuple(answers[:MOST_ANSWERS]),
        tuple(answers[MOST_ANSWERS:]),
        is_look=any(len(each.observations) > 1 for each in question.outcomes),
        must=_must_light(rig, question),
        read_at="" if reading is None else value_of(reading.place),
        unit="" if reading is None else str(reading.quantity),
    )


def _choice(question: Question, outcome: Outcome) -> AnswerChoice:
    held = question.says.removeprefix("Hold: ").partition(". ")[0]
    return AnswerChoice(
        outcome.says,
        tuple(each.replace("%)", "\u00a0%)") for each in outcome.means),
        value_of_observations(outcome.observations),
        f"{held}: {outcome.says}" if len(outcome.observations) > 1 else "",
        is_right=outcome.says == RIGHT,
    )


def _reading(outcomes: Iterable[Outcome]) -> Observation | None:
    """A number that the question asks for, where it asks for one."""
    for each in outcomes:
        seen = each.observation
        if seen is not None and seen.quantity is not Quantity.SEEN:
            return seen if seen.place.kind is not PlaceKind.POINTS else None
    return None


def _effort(question: Question) -> str:
    minutes = question.minutes
    took = "about a minute" if minutes < 1.5 else f"about {minutes:.0f} minutes"
    needs = [WITH.get(each, each) for each in question.needs if each != "eye"]
    return took + (f", with {' and '.join(needs)}" if needs else "")


def _must_light(rig: Rig, question: Question) -> Markup:
    """Draw the rear of the trailer as it should be, where every lamp is looked at."""
    right = next((each for each in question.outcomes if each.says == RIGHT), None)
    if right is None or len(right.observations) < LAMPS_OF_A_LOOK:
        return Markup("")
    seen = {each.place.name: each.word for each in right.observations if each.word is not None}
    return Markup(rear_view(rig.trailer, seen))  # noqa: S704 the drawing escapes its text
