"""One reading: what was held, which wire, with what, and what it showed."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.identify.bundle import Bundle
from loomwright.identify.commands import GROUND_TESTS, command
from loomwright.identify.seen import Seen, Tester, seen_value, seen_word, words_of
from loomwright.invalid import InvalidInput, raise_all

LIVE_ALWAYS = "live always"
LIVE_WITH_IGNITION = "live with ignition"
SUMMARIES = {
    LIVE_ALWAYS: (("rest", Seen.STEADY), ("key_on", Seen.STEADY)),
    LIVE_WITH_IGNITION: (("rest", Seen.NOTHING), ("key_on", Seen.STEADY)),
}
"""Answers that say two readings at once."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What one wire showed under one command; `value` is kept beside the word it stands for."""

    command: str
    wire: str
    tester: Tester
    seen: Seen
    value: float | None = None

    @property
    def says(self) -> str:
        """In words: ``flashing under left signal (led)``."""
        shown = str(self.seen)
        if self.value is not None:
            unit = "ohm" if self.command == "ohms" else "V"
            shown = f"{self.value:g} {unit}"
        held = command(self.command)
        if held in GROUND_TESTS:
            return f"{shown}, {held.title}"
        return f"{shown} under {held.title} ({self.tester})"


def readings_of(
    bundle: Bundle, held: str, wire: str, tester: str, shown: str | float
) -> tuple[Reading, ...]:
    """Return the reading that an answer gives; an answer such as ``live always`` gives two.

    Parameters
    ----------
    bundle : Bundle
        What is identified.
    held : str
        Key of the command or ground test; any, for an answer that gives two readings.
    wire : str
        Key of the wire.
    tester : str
        What it was probed with.
    shown : str or float
        A word; or volts to battery negative (beside a test lamp: while it loads the wire); ohms
        for the test by ohms.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    problems: list[InvalidInput] = []
    try:
        bundle.wire(wire)
    except InvalidInput as problem:
        problems.append(problem)
    if tester not in tuple(Tester):
        problems.append(InvalidInput("tester", tester, "use one of " + ", ".join(Tester)))
    try:
        pairs = _shown(bundle, held, shown)
    except InvalidInput as problem:
        problems.append(problem)
        pairs = ()
    is_number = not isinstance(shown, str)
    if is_number and tester == Tester.LED:
        problems.append(InvalidInput("tester", tester, "an LED tester reads no number: say a word"))
    raise_all(problems, "reading")
    value = shown if isinstance(shown, int | float) else None
    used = Tester.METER if held in {each.key for each in GROUND_TESTS} else Tester(tester)
    return tuple(Reading(at, wire, used, seen, value) for at, seen in pairs)


def _shown(bundle: Bundle, held: str, shown: str | float) -> tuple[tuple[str, Seen], ...]:
    if isinstance(shown, str):
        said = " ".join(shown.split()).casefold()
        if said in SUMMARIES:
            return SUMMARIES[said]
        found = command(held)
        return ((held, seen_word(shown, found.key)),)
    found = command(held)
    return ((held, seen_value(shown, found.key, bundle.nominal_v)),)


def without_last(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """Return readings without those of the last answer: one, or the two of ``live always``."""
    if tuple((each.command, each.seen) for each in readings[-2:]) in SUMMARIES.values():
        first, second = readings[-2:]
        if (first.wire, first.tester) == (second.wire, second.tester):
            return readings[:-2]
    return readings[:-1]


def check_readings(bundle: Bundle, readings: tuple[Reading, ...]) -> None:
    """Refuse readings that are not of this bundle.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    problems: list[InvalidInput] = []
    for place, each in enumerate(readings):
        try:
            bundle.wire(each.wire)
            command(each.command)
            if each.seen not in words_of(each.command):
                fix = "use one of " + ", ".join(words_of(each.command))
                raise InvalidInput("seen", str(each.seen), fix)
        except InvalidInput as problem:
            problems.append(problem.at(f"readings[{place}].{problem.field}"))
    raise_all(problems, "readings")
