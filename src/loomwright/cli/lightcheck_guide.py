"""One question at a time at a terminal: short keys, every answer kept at once, taken up again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from loomwright.cli.files import write_result
from loomwright.cli.lightcheck_view import walks_text, wanted_text
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.answers_file import Noted, with_another, write_noted
from loomwright.lightcheck.judging import judge, observe, where_of
from loomwright.lightcheck.model import Expectation, Plan, Standing, Step
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.word import Word

KEYS: Final = {
    "o": Word.OFF,
    "g": Word.GLOW,
    "d": Word.DIM,
    "n": Word.NORMAL,
    "b": Word.BRIGHT,
    "f": Word.FLASHING,
    "fd": Word.FLASHING_DIM,
    "ff": Word.FLASHING_FAST,
    "k": Word.FLICKER,
    "p": Word.PULSED,
    "w": Word.WRONG,
    "on": Word.ON,
    "we": Word.WEAK,
    "lo": Word.LOCKED,
    "wo": Word.WORKS,
    "fa": Word.FAILS,
    "co": Word.CONNECTED,
    "nt": Word.NO_TRAILER,
    "ov": Word.OVERLOAD,
}
RIGHT, SKIP, USUAL, BACK, STOP = ("", "y"), "s", "u", "<", "x"
ANYWHERE: Final = "Enter or y: as it must be   s: not seen   u: normal here   <: back   x: stop"


@dataclass(frozen=True, slots=True)
class Terminal:
    """Both ends of a talk: what asks and says, and what keeps the answers."""

    ask: Callable[[str], str]
    say: Callable[[str], None]
    keep: Callable[[Noted], None]
    where: str = ""


def terminal(file: Path) -> Terminal:
    """Return the terminal, with the answers kept in a file after each."""

    def keep(noted: Noted) -> None:
        """Write beside and put in place, so that a cut leaves the old or the new, never half."""
        beside = file.with_name(file.name + ".new")
        write_result(beside, write_noted(noted))
        beside.replace(file)

    return Terminal(input, print, keep, str(file))


class _Stopped(Exception):
    """The person broke off."""


@dataclass(frozen=True, slots=True)
class _Ask:
    """What is asked in one go: one place, or all places that must be dark."""

    step: Step
    about: tuple[Expectation, ...]

    @property
    def together(self) -> bool:
        """Whether one answer stands for several places."""
        return len(self.about) > 1


@dataclass(slots=True)
class _Talk:
    """A talk on its way: what has been noted so far, whatever ends it."""

    noted: Noted
    terminal: Terminal

    def note(self, found: Sequence[Observation]) -> None:
        """Take up what was said and keep it."""
        for each in found:
            self.noted = replace(
                self.noted, observations=with_another(self.noted.observations, each)
            )
        self.terminal.keep(self.noted)


def guide(plan: Plan, noted: Noted, terminal: Terminal) -> Noted:
    """Lead through a plan and return what was noted; what is answered already is not asked.

    Parameters
    ----------
    plan : Plan
        The plan.
    noted : Noted
        What was noted before.
    terminal : Terminal
        Who asks, and who keeps.
    """
    talk = _Talk(noted, terminal)
    asks = [each for each in _asks_of(plan) if not _is_answered(each, noted)]
    for caution in plan.cautions if asks else ():
        terminal.say(f"CAUTION: {caution}")
    if asks:
        terminal.say(f"{len(asks)} questions. {ANYWHERE}")
    try:
        _lead(plan, asks, talk)
    except (_Stopped, EOFError, KeyboardInterrupt):
        terminal.say(f"Broken off; the answers are in {terminal.where}. Call again to go on.")
    return talk.noted


def _lead(plan: Plan, asks: Sequence[_Ask], talk: _Talk) -> None:
    queue = list(asks)
    number, step = 0, ""
    while number < len(queue):
        ask = queue[number]
        if ask.step.key != step:
            step = ask.step.key
            _announce(plan, ask.step, talk.terminal)
        said = talk.terminal.ask(_question(ask)).strip().casefold()
        if said == BACK:
            number, step = max(number - 1, 0), ""
        elif ask.together and said in ("n", "no"):
            queue[number : number + 1] = [_Ask(ask.step, (each,)) for each in ask.about]
        elif (found := _understood(ask, said, talk.terminal)) is not None:
            talk.note(found)
            _tell(ask, found, talk)
            number += 1


def _asks_of(plan: Plan) -> Iterator[_Ask]:
    """Questions in the order of the plan: with the plug as it is, first lights, then the dark."""
    for step in plan.steps:
        for plugged in dict.fromkeys(each.plugged for each in step.expectations):
            yield from (_Ask(step, (e,)) for e in step.lit if e.plugged == plugged)
            dark = tuple(e for e in step.dark if e.plugged == plugged)
            if dark:
                yield _Ask(step, dark)


def _is_answered(ask: _Ask, noted: Noted) -> bool:
    known = {(e.command, e.place, e.tester, e.plugged) for e in noted.observations}
    return all(where_of(each)[:4] in known for each in ask.about)


def _announce(plan: Plan, step: Step, terminal: Terminal) -> None:
    terminal.say(f"\n== {step.hold}")
    if walks := walks_text(plan, step):
        terminal.say(f"   {walks}")
    if step.caution:
        terminal.say(f"   CAUTION: {step.caution}")


def _question(ask: _Ask) -> str:
    first = ask.about[0]
    plug = "plug in" if first.plugged else "plug out"
    if ask.together:
        others = "other " if any(e.plugged == first.plugged for e in ask.step.lit) else ""
        return f"{plug}: all {len(ask.about)} {others}places off? [Enter: yes, n: one by one] "
    note = f" ({first.note})" if first.note else ""
    return f"{plug}: {first.title}{note}\n   must be {wanted_text(first)}: "


def _understood(ask: _Ask, said: str, terminal: Terminal) -> list[Observation] | None:
    """Return what an answer says of every place it is about; None, with the reason, if nothing."""
    if said == STOP:
        raise _Stopped
    if said == SKIP:
        return [observe(each, Word.NOT_SEEN) for each in ask.about]
    if said == USUAL:
        return [observe(each, Word.AS_USUAL) for each in ask.about]
    if said in RIGHT and (ask.together or ask.about[0].quantity is Quantity.SEEN):
        return [_as_it_must(each) for each in ask.about]
    if ask.together:
        terminal.say(f"   Enter if all are off, n to go one by one. {ANYWHERE}")
        return None
    return _one(ask.about[0], said, terminal)


def _as_it_must(each: Expectation) -> Observation:
    return observe(each, each.words[0] if each.words else 0.0)


def _one(each: Expectation, said: str, terminal: Terminal) -> list[Observation] | None:
    if each.quantity is Quantity.SEEN:
        word = KEYS.get(said) or next((word for word in Word if word == said), None)
        if word is not None:
            return [observe(each, word)]
        keys = ", ".join(f"{key} {word}" for key, word in KEYS.items())
        terminal.say(f"   {keys}\n   {ANYWHERE}")
        return None
    number = said.rstrip(" va").replace(",", ".")
    try:
        value = float(number)
        return [observe(each, value)]
    except (InvalidInput, ValueError):
        terminal.say(f"   Give the reading in {each.quantity}, such as 12.1. {ANYWHERE}")
        return None


def _tell(ask: _Ask, found: Sequence[Observation], talk: _Talk) -> None:
    """Say at once what a wrong answer suggests."""
    for each, seen in zip(ask.about, found, strict=True):
        answer = judge(each, seen, talk.noted.usual)
        if answer.standing in (Standing.WRONG, Standing.DOUBTFUL):
            talk.terminal.say(f"   {str(answer.standing).upper()}: {answer.says}")
