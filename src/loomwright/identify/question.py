"""The next reading as one question a person can answer under a truck."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.identify.alike import alike
from loomwright.identify.asking import Choice, group_shares
from loomwright.identify.belief import Belief
from loomwright.identify.commands import DROP, OHMS
from loomwright.identify.reading import LIVE_ALWAYS, LIVE_WITH_IGNITION, SUMMARIES, Reading
from loomwright.identify.seen import Seen, Tester, words_of
from loomwright.identify.titles import titles

REMAINS = 0.05
TESTER_WORDS = {
    Tester.METER: "meter",
    Tester.LED: "LED tester",
    Tester.LAMP: "21 W test lamp",
}
NEAR: dict[str, str] = {
    Seen.NOTHING: "under 1 V, or dark",
    Seen.PARTIAL: "some volts, or dim",
    Seen.STEADY: "battery volts, or bright",
    Seen.FLASHING: "on and off, about once a second",
    Seen.PULSED: "flickers fast",
    Seen.LOW: "under 3 ohm",
    Seen.MIDDLE: "3 to 5000 ohm",
    Seen.OPEN: "more, or OL",
    Seen.SMALL_DROP: "under 0.1 V, lamp bright",
    Seen.POOR_DROP: "0.1 to 1 V",
    Seen.FULL_DROP: "over 1 V, or lamp dim or dark",
    LIVE_ALWAYS: "steady, key out and key on",
    LIVE_WITH_IGNITION: "nothing key out, steady key on",
}
"""What the words mean, in numbers for 12 V where there are any."""


@dataclass(frozen=True, slots=True)
class Question:
    """One reading to take.

    Attributes
    ----------
    command, title : str
        Key and name of what to hold.
    hold : str
        What the person in the cab does.
    wire : str
        Key of the wire to touch.
    tester : Tester
        What with.
    touch : str
        What the person at the wires does.
    answers : tuple of Seen
        The words that answer it.
    summaries : tuple of str
        Words that answer it for whoever tried the wire with the key out and with the key on; none
        where no key helps.
    unit : str
        Unit of a number that answers it too; empty if none does.
    why : str
        What it is for.
    caution : str
        What to heed; may be empty.
    bits : float
        What it tells on average. [bit]
    then : tuple of str
        Wires to probe after it while the same is held, likely.
    """

    command: str
    title: str
    hold: str
    wire: str
    tester: Tester
    touch: str
    answers: tuple[Seen, ...]
    summaries: tuple[str, ...]
    unit: str
    why: str
    caution: str
    bits: float
    then: tuple[str, ...]


def question(belief: Belief, readings: tuple[Reading, ...], choice: Choice) -> Question:
    """Return a choice as a question."""
    held, tester = choice.probe.command, choice.probe.tester
    unit = "ohm" if held == OHMS else "V" if tester is Tester.METER else ""
    return Question(
        command=held.key,
        title=held.title,
        hold=held.hold,
        wire=choice.wire,
        tester=tester,
        touch=_touch(choice),
        answers=words_of(held.key),
        summaries=_summaries(belief, choice),
        unit=unit,
        why=_why(belief, readings, choice),
        caution=held.caution,
        bits=choice.bits,
        then=choice.wires,
    )


def _summaries(belief: Belief, choice: Choice) -> tuple[str, ...]:
    """Return the words that say two readings at once, where the wire is read for volts."""
    asked = {held for pair in SUMMARIES.values() for held, _ in pair}
    if choice.probe.is_ground_test or not asked <= set(belief.bundle.commands):
        return ()
    return tuple(SUMMARIES)


def _touch(choice: Choice) -> str:
    held, wire = choice.probe.command, choice.wire
    if held == OHMS:
        return f"Meter on ohms, wire {wire} to battery negative. First touch the leads together."
    if held == DROP:
        return (
            f"21 W lamp from battery positive, through a 5 A fuse, to wire {wire}. "
            f"Meter on volts, wire {wire} to battery negative."
        )
    name = TESTER_WORDS[choice.probe.tester]
    return f"{name[0].upper()}{name[1:]} on wire {wire}, other end on battery negative."


def _why(belief: Belief, readings: tuple[Reading, ...], choice: Choice) -> str:
    mine = (choice.probe.command.key, choice.wire, choice.probe.tester)
    again = any((each.command, each.wire, each.tester) == mine for each in readings)
    place = [each.key for each in belief.bundle.wires].index(choice.wire)
    row = group_shares(belief)[place]
    groups = alike(belief.bundle)
    open_ones = [groups[n] for n in row.argsort()[::-1] if row[n] >= REMAINS]
    if choice.for_ground:
        return {
            OHMS: "A ground reads low ohms to battery negative; so does a cold filament.",
            DROP: "Under a lamp's current a good ground stays under 0.1 V; a filament does not.",
        }.get(choice.probe.command, "Ground first. Ohms are read on dead wires only: see that.")
    if again:
        return "Once more, to be sure: one reading may be wrong."
    if len(open_ones) == 2:
        return f"Two remain: {titles(open_ones[0])}, or {titles(open_ones[1])}."
    if len(open_ones) == 1:
        return f"To confirm: {titles(open_ones[0])}."
    return f"{len(open_ones)} functions are still open for this wire."
