"""One question at a time at a terminal; every answer is kept before the next question."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from loomwright.cli.complaints import show_complaints
from loomwright.cli.identify_file import Work
from loomwright.cli.identify_view import show_cautions, show_question
from loomwright.cli.paint import Page
from loomwright.identify.bundle import Bundle
from loomwright.identify.commands import GROUND_TESTS
from loomwright.identify.identification import Identification, identify
from loomwright.identify.question import Question
from loomwright.identify.reading import readings_of, without_last
from loomwright.identify.sight import sight
from loomwright.invalid import InvalidInput, complaints_in

Ask = Callable[[str], str]
PROMPT = "What does it show? (b back, x not on this vehicle, q stop) "
READY = "Press Enter when all of this is heeded, q to stop. "
STOP, BACK, NEVER = "q", "b", "x"


def talk(work: Work, keep: Callable[[Work], None], ask: Ask = input) -> Work:
    """Ask until every wire is known, nothing more can be told, or the person stops.

    Parameters
    ----------
    work : Work
        The bundle and what was read of it before.
    keep : callable
        Called with the work after every answer, before the next question.
    ask : callable
        Prints a prompt and returns what is answered; ends the talk by EOFError.
    """
    page = Page()
    keep(work)
    if not work.readings:
        show_cautions(page, identify(work.bundle))
        if _answer(ask, READY) == STOP:
            return work
    seen = sight(work.bundle)
    while (asked := (found := identify(work.bundle, work.readings, seen)).question) is not None:
        page.line()
        _show_standing(page, found)
        show_question(page, asked)
        said = _answer(ask, PROMPT)
        if said == STOP:
            break
        changed = _taken(work, asked, said)
        if changed != work:
            work = changed
            keep(work)
    return work


def _answer(ask: Ask, prompt: str) -> str:
    try:
        return ask(prompt).strip()
    except EOFError:
        return STOP


def _taken(work: Work, asked: Question, said: str) -> Work:
    """Return the work with an answer in it; as it was, with the mend told, if it has none."""
    if said == BACK:
        return replace(work, readings=without_last(work.readings))
    try:
        if said == NEVER:
            return replace(work, bundle=_without(work, asked))
        shown = _shown(asked, said)
        more = readings_of(work.bundle, asked.command, asked.wire, str(asked.tester), shown)
    except (InvalidInput, ExceptionGroup) as problem:
        show_complaints(complaints_in(problem))
        return work
    return replace(work, readings=work.readings + more)


def _shown(asked: Question, said: str) -> str | float:
    """Return the number or the word that an answer stands for; a word by its beginning."""
    text = said.casefold()
    try:
        return float(text.removesuffix("ohm").removesuffix("v").strip().replace(",", "."))
    except ValueError:
        words = (*asked.answers, *asked.summaries)
        near = [each for each in words if text and each.startswith(text)]
    return str(near[0]) if len(near) == 1 else said


def _without(work: Work, asked: Question) -> Bundle:
    """Return the bundle of a vehicle that has no such command."""
    if asked.command in {each.key for each in GROUND_TESTS} or asked.command == "rest":
        fix = "every vehicle can do this; stop with q if you cannot"
        raise InvalidInput("answer", NEVER, fix)
    left = tuple(each for each in work.bundle.commands if each != asked.command)
    return replace(work.bundle, commands=left)


def _show_standing(page: Page, found: Identification) -> None:
    known = [each for each in found.wires if each.is_settled]
    said = "; ".join(f"{each.wire.key} {each.guesses[0].title}" for each in known)
    page.line(f"Known so far: {said or 'none'}.", "quiet")
