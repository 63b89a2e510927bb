"""What several answers say together that one alone does not."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from loomwright.lightcheck.model import Answer, Expectation, Standing
from loomwright.lightcheck.suggesting import FAINT, FLASHES, magnets_words, shares_ground
from loomwright.observations.observation import Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word

ALIKE_SHARE = 0.25
"""Two sides are low alike if one misses no more than this share more than the other."""


GROUNDS = (PlaceKind.RETURN, PlaceKind.POINTS)


@dataclass(frozen=True, slots=True)
class Around:
    """All answers of a check, to look around from one."""

    answers: tuple[Answer, ...]

    def under(self, command: str) -> Iterator[Answer]:
        """Answers under one command that were given."""
        return (
            each
            for each in self.answers
            if each.expectation.command == command and each.observation is not None
        )

    def same_place(self, answer: Answer, *, plugged: bool) -> Answer | None:
        """The same pin under the same command with the plug in the other state."""
        mine = answer.expectation
        return next(
            (
                each
                for each in self.under(mine.command)
                if each.expectation.place == mine.place
                and each.expectation.quantity is mine.quantity
                and each.expectation.plugged == plugged
            ),
            None,
        )


def with_neighbours(answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """Return the answers, the wrong ones with what they say together with the others.

    Parameters
    ----------
    answers : sequence of Answer
        Every answer of a check.
    """
    around = Around(tuple(answers))
    return tuple(_told(each, around) for each in answers)


def _told(answer: Answer, around: Around) -> Answer:
    if answer.standing is not Standing.WRONG:
        return answer
    for rule in RULES:
        says = rule(answer, around)
        if says:
            return replace(answer, says=says)
    return answer


def _value(answer: Answer) -> float | None:
    return None if answer.observation is None else answer.observation.value


def _word(answer: Answer) -> Word | None:
    return None if answer.observation is None else answer.observation.word


def _is_low(answer: Answer) -> bool:
    value, low = _value(answer), answer.expectation.low
    return value is not None and low is not None and value < low


def _is_faint(answer: Answer) -> bool:
    word = _word(answer)
    is_lamp = Word.OFF not in answer.expectation.words
    return is_lamp and (word in FAINT or word is Word.OFF)


def everything_dead(answer: Answer, around: Around) -> str:
    """Nothing at all lights under any command: what all share is open."""
    lamps = [each for each in around.answers if _must_light(each) and each.observation]
    commands = {each.expectation.command for each in lamps}
    if len(commands) < 2 or not all(_word(each) is Word.OFF for each in lamps):
        return ""
    if not _is_faint(answer):
        return ""
    return "everything is dead: ground open, plug not home, module asleep, or all fuses"


def _must_light(answer: Answer) -> bool:
    mine = answer.expectation
    return mine.quantity is Quantity.SEEN and mine.at == "rear" and Word.OFF not in mine.words


def sides_exchanged(answer: Answer, around: Around) -> str:
    """What must flash is off, and what must be off flashes."""
    if answer.expectation.command not in ("left", "right", "park+left"):
        return ""
    under = [each for each in around.under(answer.expectation.command) if _is_signal(each)]
    dead = [each for each in under if _flashes(each.expectation) and _word(each) is Word.OFF]
    lit = [
        each for each in under if each.expectation.words == (Word.OFF,) and _word(each) in FLASHES
    ]
    if dead and lit and answer in (*dead, *lit):
        return "left and right exchanged: at the vehicle or on the trailer, read the socket"
    return ""


def _is_signal(answer: Answer) -> bool:
    return answer.expectation.quantity is Quantity.SEEN


def _flashes(expectation: Expectation) -> bool:
    return bool(set(expectation.words) & set(FLASHES))


def lost_on_the_ground(answer: Answer, around: Around) -> str:
    """The drop on the return was read under the same command, and is too high."""
    mine = answer.expectation
    if mine.place.kind in GROUNDS or not (_is_low(answer) or _is_faint(answer)):
        return ""
    for each in around.under(mine.command):
        high = each.expectation.place.kind in GROUNDS
        if high and each.standing is Standing.WRONG and not _is_low(each):
            return f"shared ground: {_value(each) or 0.0:.1f} V are lost there under this command"
    return ""


def weak_under_load(answer: Answer, around: Around) -> str:
    """Full volts with nothing on the pin, low volts with the trailer on it."""
    mine = answer.expectation
    if mine.quantity is not Quantity.VOLTS or mine.place.kind is not PlaceKind.PIN:
        return ""
    if not mine.plugged or not _is_low(answer):
        return ""
    bare = around.same_place(answer, plugged=False)
    if bare is None or bare.standing is not Standing.RIGHT:
        return ""
    return (
        "full volts with nothing on it, low under load: a weak joint in this feed, ahead of the pin"
    )


def both_sides_alike(answer: Answer, around: Around) -> str:
    """Two or more pins low by the same share: what they have in common."""
    mine = answer.expectation
    is_pin = mine.quantity is Quantity.VOLTS and mine.place.kind is PlaceKind.PIN
    if not is_pin or not _is_low(answer) or not mine.nominal:
        return ""
    alike = [
        each
        for each in around.under(mine.command)
        if each.expectation.place.kind is PlaceKind.PIN
        and each.expectation.plugged == mine.plugged
        and each.expectation.nominal
        and each.expectation.quantity is Quantity.VOLTS
    ]
    missing = [1.0 - (_value(each) or 0.0) / (each.expectation.nominal or 1.0) for each in alike]
    if len(alike) < 2 or not all(_is_low(each) for each in alike):
        return ""
    if max(missing) - min(missing) > ALIKE_SHARE * max(missing):
        return ""
    return "all low alike: what they share, the supply of the vehicle or the ground"


def _alone(answer: Answer, around: Around) -> list[Answer]:
    """The same place under each of the single commands that light it."""
    mine = answer.expectation
    return [
        each
        for act in mine.command.split("+")
        for each in around.under(act)
        if each.expectation.place == mine.place
        and each.expectation.tester == mine.tester
        and Word.OFF not in each.expectation.words
    ]


def wrong_alone_too(answer: Answer, around: Around) -> str:
    """Wrong under two commands at once, but under one of them as well."""
    if not shares_ground(answer.expectation.command) or not _is_faint(answer):
        return ""
    wrong = next((each for each in _alone(answer, around) if _is_faint(each)), None)
    if wrong is None or wrong.standing is not Standing.WRONG:
        return ""
    command = wrong.expectation.command.replace("_", " ")
    return f"as under {command} alone: {wrong.says}"


def only_together(answer: Answer, around: Around) -> str:
    """Right under single commands, dim or out under two at once."""
    if not shares_ground(answer.expectation.command) or not _is_faint(answer):
        return ""
    alone = _alone(answer, around)
    if not alone or any(each.standing is Standing.WRONG for each in alone):
        return ""
    return "right by itself, not when two commands share the ground: the shared ground is weak"


def magnets_by_volts(answer: Answer, around: Around) -> str:
    """Brake amps beside the volts at the brake pin: magnets out, or volts low."""
    mine, value = answer.expectation, _value(answer)
    if mine.quantity is not Quantity.AMPS or not mine.count or not mine.nominal or value is None:
        return ""
    for each in around.under(mine.command):
        there = each.expectation
        same = there.place == mine.place and there.quantity is Quantity.VOLTS and there.plugged
        volts = _value(each)
        if same and there.nominal and volts:
            share = (value / mine.nominal) / (volts / there.nominal)
            if share > 1.0 - 0.5 / mine.count and _is_low(answer):
                return "every magnet draws what these volts give: the volts at the pin are low"
            return magnets_words(mine.count, share).replace(
                ", or low volts: read the brake pin too", ""
            )
    return ""


RULES: Iterable[Callable[[Answer, Around], str]] = (
    everything_dead,
    sides_exchanged,
    magnets_by_volts,
    lost_on_the_ground,
    weak_under_load,
    both_sides_alike,
    wrong_alone_too,
    only_together,
)
"""In the order in which they are asked; the first that says something is kept."""
