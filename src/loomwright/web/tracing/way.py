"""The run beside the conversation: how the current flows, where the fault is, where to look."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.checks.rule import Severity
from loomwright.circuit.elements import ends
from loomwright.drawing.folded import DrawnCircuit, folded_circuits
from loomwright.drawing.run import run_drawing
from loomwright.drawing.run_marks import WRONG_WAY, PartMark
from loomwright.drawing.run_plan import CONVERTER_ROW, row_of
from loomwright.electrics.answers import CommandAnswer, Part
from loomwright.electrics.commands import commands_for, find_command
from loomwright.electrics.solved import answer
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.rig.model import Rig
from loomwright.trace.model import Group, Question
from loomwright.trace.shown import elements_at, faulted_answer, is_drawn

MOST_CIRCUITS = 3
FAULT, PERHAPS, LOOK, READ = "fault", "fault?", "look here", "read here"
FIRST_COMMAND = "park"
ALWAYS_ON = ("battery", CONVERTER_ROW)
"""Circuits that no command of the driver calls for."""


@dataclass(frozen=True, slots=True)
class Way:
    """The run under one command: with the likeliest fault in it, or as it should be.

    Attributes
    ----------
    title : str
        What is drawn.
    says : str
        How the current finds its way home, where that is not as ever.
    folded : tuple of (str, Markup)
        Circuits by themselves, those with marks first.
    wide : Markup
        The whole run.
    """

    title: str
    says: str
    folded: tuple[tuple[str, Markup], ...]
    wide: Markup


def way_of(rig: Rig, suspect: Group | None, question: Question | None, *, is_sure: bool) -> Way:
    """Return the run as it is drawn beside the conversation.

    Parameters
    ----------
    rig : Rig
        The rig.
    suspect : Group or None
        What is likeliest; drawn if the network can show it.
    question : Question or None
        What is asked: the place to look at is marked.
    is_sure : bool
        Whether the suspect is sure enough to repair.
    """
    wiring = wire_up(rig)
    asked = list(_asked_marks(wiring, question))
    if suspect is None or suspect.flow is None or not is_drawn(rig, suspect.best.fault):
        return _sound(rig, wiring, question, asked)
    flow, fault = suspect.flow, suspect.best.fault
    parts = [wiring.parts[name] for name in elements_at(fault) if name in wiring.parts][:1]
    marks = [_mark(part, FAULT if is_sure else PERHAPS, Severity.MUST) for part in parts]
    back = [wiring.parts[name] for name in flow.backwards if name in wiring.parts]
    marks += [_mark(part, WRONG_WAY, Severity.SHOULD) for part in back if part.kind == "load"]
    command = find_command(flow.command, commands_for(rig)).title
    title = f"{command} with {suspect.title}"
    read = faulted_answer(rig, fault, flow.command)
    return _drawn(rig, title, flow.says, read, [*marks, *asked])


def _sound(rig: Rig, wiring: Wiring, question: Question | None, marks: list[PartMark]) -> Way:
    known = {command.key: command for command in commands_for(rig)}
    key = question.command if question is not None else ""
    command = known.get(key) or known[FIRST_COMMAND]
    title = f"{command.title}, as it should be"
    return _drawn(rig, title, "", answer(wiring, command), marks)


def _drawn(rig: Rig, title: str, says: str, read: CommandAnswer, marks: list[PartMark]) -> Way:
    kept = list(dict.fromkeys(marks))
    rows = [row_of(function) for _, function, *_ in kept]
    every = folded_circuits(rig, read, kept)
    marked = [each for each in every if each.row in rows]
    live = [
        each for each in every if each.row not in (*rows, *ALWAYS_ON) and each.current_a is not None
    ]
    shown = [*marked, *live][: max(MOST_CIRCUITS, len(marked))]
    wide = Markup(run_drawing(rig, read, kept))  # noqa: S704 the drawing escapes its text
    return Way(title[:1].upper() + title[1:], says, tuple(map(_shown, shown)), wide)


def _shown(each: DrawnCircuit) -> tuple[str, Markup]:
    return each.title, Markup(each.svg)  # noqa: S704 the drawing escapes its text


def _mark(part: Part, word: str, severity: Severity) -> PartMark:
    return part.station, part.function, word, str(severity), part.element


def _asked_marks(wiring: Wiring, question: Question | None) -> Iterator[PartMark]:
    """Yield a mark where a question asks to look, if it asks for one place."""
    if question is None:
        return
    first = next((each.observation for each in question.outcomes if each.observation), None)
    if first is None:
        return
    is_read = first.quantity is not Quantity.SEEN or first.tester != "eye"
    for part in _parts_at(wiring, first.place):
        yield _mark(part, READ if is_read else LOOK, Severity.SHOULD)


def _parts_at(wiring: Wiring, place: Place) -> Iterator[Part]:
    match place.kind:
        case PlaceKind.FUSE:
            if place.name in wiring.parts:
                yield wiring.parts[place.name]
        case PlaceKind.LOAD:
            yield from (wiring.parts[x.element] for x in wiring.loads if x.name == place.name)
        case PlaceKind.PIN:
            for pin in wiring.pins:
                if (pin.socket, pin.pin) == (place.name, place.pin):
                    yield Part("", "contact", "supply", "socket", "", pin.function, "socket")
        case PlaceKind.POINTS:
            for element in wiring.network.elements:
                if {place.name, place.other} in map(set, ends(element)):
                    yield wiring.parts[element.name]
        case _:
            return
