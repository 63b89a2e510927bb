"""The summary of a light check: what is right, doubtful, wrong, usual or untested; and compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.rear_view import rear_view
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing, Step
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.store.checks_values import KeptAnswer
from loomwright.web.light_checking.step_view import said, wanted

LOADED = "load-box"
"""The tester that puts the same load on either socket."""

GRAVEST_FIRST = (
    Standing.WRONG,
    Standing.DOUBTFUL,
    Standing.USUAL,
    Standing.NOT_TESTED,
    Standing.RIGHT,
)
HEADS = {
    Standing.WRONG: "Wrong",
    Standing.DOUBTFUL: "Doubtful",
    Standing.USUAL: "Normal for this vehicle",
    Standing.NOT_TESTED: "Not tested",
    Standing.RIGHT: "Right",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One answer: under what, where, what must be, what was."""

    held: str
    title: str
    wanted: str
    found: str
    says: str
    key: str


@dataclass(frozen=True, slots=True)
class Group:
    """The answers of one standing."""

    standing: Standing
    head: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """The rear of the trailer as it was seen under one command."""

    held: str
    drawing: Markup


@dataclass(frozen=True, slots=True)
class Compared:
    """One place before and after, or on the old and the new socket."""

    held: str
    title: str
    first: str
    second: str
    says: str
    differs: bool


def groups(plan: Plan, answers: Mapping[str, KeptAnswer]) -> tuple[Group, ...]:
    """Return every expectation by how it stands, the gravest first; none is left out.

    Parameters
    ----------
    plan : Plan
        The plan.
    answers : mapping of str to KeptAnswer
        What holds for each expectation that was answered.
    """
    rows: dict[Standing, list[Row]] = {each: [] for each in GRAVEST_FIRST}
    for step in plan.steps:
        for each in step.expectations:
            kept = answers.get(each.key)
            stands = Standing.NOT_TESTED if kept is None else kept.answer.standing
            rows[stands].append(_row(step, each, kept))
    return tuple(
        Group(standing, HEADS[standing], tuple(rows[standing]))
        for standing in GRAVEST_FIRST
        if rows[standing]
    )


def pictures(rig: Rig, plan: Plan, answers: Mapping[str, KeptAnswer]) -> tuple[Shown, ...]:
    """Return the rear of the trailer as it was seen, for each step where lamps were looked at."""
    return tuple(
        Shown(act_of(step), Markup(drawn))  # noqa: S704 the drawing escapes its text
        for step in plan.steps
        if (seen := _seen(step, answers))
        for drawn in [rear_view(rig.trailer, seen, wrong=_wrong(step, answers))]
    )


def compared(
    first: Mapping[str, KeptAnswer], second: Mapping[str, KeptAnswer], plan: Plan
) -> tuple[Compared, ...]:
    """Return the same places of two checks side by side, those that changed first.

    Parameters
    ----------
    first, second : mapping of str to KeptAnswer
        Answers of the check before and of the one after the work.
    plan : Plan
        The plan of the second.
    """
    from loomwright.lightcheck.comparing import Change, compare

    held = {step.command: act_of(step) for step in plan.steps}
    rows = [
        Compared(
            held=held.get(each.command, each.command.replace("_", " ")),
            title=each.title,
            first=found_in(each.before),
            second=found_in(each.after),
            says=str(each.change),
            differs=each.change is not Change.SAME,
        )
        for each in compare(_answers(first), _answers(second))
    ]
    return tuple(sorted(rows, key=lambda each: not each.differs))


def sockets_compared(
    rig: Rig, observations: Sequence[Observation]
) -> tuple[tuple[str, str, tuple[Compared, ...]], ...]:
    """Return the factory's socket beside each added one, under the same load, where both were read.

    Parameters
    ----------
    rig : Rig
        The rig; its first socket is the old one.
    observations : sequence of Observation
        What was read in its checks, the newest last.
    """
    from loomwright.lightcheck.comparing import judge_losses, socket_losses

    loaded = [each for each in observations if each.tester == LOADED and not each.plugged]
    read = {each.place.name for each in loaded}
    found = []
    old, *added = [each.name for each in rig.sockets]
    for new in added:
        if not {old, new} <= read:
            continue
        rows = [
            Compared(
                held=each.loss.command.replace("_", " ").replace("+", " and "),
                title=each.loss.function.replace("_", " "),
                first=f"{each.old_v:.2f}\u00a0V",
                second=f"{each.new_v:.2f}\u00a0V",
                says=each.says or "within what the trade lets it lose",
                differs=each.standing is not Standing.RIGHT,
            )
            for each in judge_losses(socket_losses(rig, old, new, LOADED), loaded)
        ]
        found.append((old, new, tuple(sorted(rows, key=lambda each: not each.differs))))
    return tuple(found)


def found_in(answer: Answer | None) -> str:
    """Return what was answered, in words; "" if nothing was."""
    if answer is None:
        return ""
    return said(answer)


def _answers(kept: Mapping[str, KeptAnswer]) -> tuple[Answer, ...]:
    return tuple(each.answer for each in kept.values())


def _row(step: Step, expectation: Expectation, kept: KeptAnswer | None) -> Row:
    return Row(
        held=act_of(step),
        title=expectation.title,
        wanted=wanted(expectation),
        found="" if kept is None else said(kept.answer),
        says="" if kept is None else kept.answer.says,
        key=expectation.key,
    )


def act_of(step: Step) -> str:
    """Return what is held in a step, without what prepares it."""
    for prepares in ("Key on, engine off. ", "Engine running. "):
        if step.hold.startswith(prepares):
            return step.hold.removeprefix(prepares).rstrip(".")
    return step.hold.rstrip(".")


def _seen(step: Step, answers: Mapping[str, KeptAnswer]) -> dict[str, Word]:
    found = {}
    for name, kept in _lamps(step.expectations, answers):
        observation = kept.answer.observation
        if observation is not None and observation.word is not None:
            found[name] = observation.word
    return found


def _wrong(step: Step, answers: Mapping[str, KeptAnswer]) -> frozenset[str]:
    lamps = _lamps(step.expectations, answers)
    return frozenset(name for name, kept in lamps if kept.answer.standing is Standing.WRONG)


def _lamps(
    expectations: Sequence[Expectation], answers: Mapping[str, KeptAnswer]
) -> Iterator[tuple[str, KeptAnswer]]:
    for each in expectations:
        if each.place.kind is PlaceKind.LOAD and each.quantity is Quantity.SEEN:
            kept = answers.get(each.key)
            if kept is not None:
                yield each.place.name, kept
