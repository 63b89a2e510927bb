"""What one wrong answer suggests at once, from where it is, the command, and which way it is off.

Common practice of the trade: which place is looked at first, and what tells it from the next.
"""

from __future__ import annotations

from typing import Final

from loomwright.lightcheck.model import Expectation
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word

FLASHES: Final = (Word.FLASHING, Word.FLASHING_DIM, Word.FLASHING_FAST)
FAINT: Final = (Word.GLOW, Word.DIM, Word.FLASHING_DIM, Word.WEAK)
NONE_SHARE: Final = 0.1
"""A reading under this share of what is expected counts as none."""


def suggest(expectation: Expectation, observation: Observation) -> str:
    """Return what a reading that is off suggests, in one sentence.

    Parameters
    ----------
    expectation : Expectation
        What must be seen or read.
    observation : Observation
        What was.
    """
    if observation.value is not None:
        return _of_number(expectation, observation.value)
    if observation.word is None:
        return ""
    match expectation.place.kind:
        case PlaceKind.PIN:
            return _of_probe(expectation, observation.word)
        case PlaceKind.CONTROLLER:
            return CONTROLLER.get(observation.word, "read the controller's own list of messages")
        case _ if expectation.at == "axle":
            return _of_brake(expectation, observation.word)
        case _:
            return _of_lamp(expectation, observation.word)


CONTROLLER: Final = {
    Word.NO_TRAILER: "the controller finds no magnets: feed or return of the brakes is open ahead "
    "of the split, or the brake type is set wrong",
    Word.OVERLOAD: "short on the brake feed: axle tube, drum, or a magnet that rubs through; "
    "take off one wheel's wires at a time",
    Word.FAULT: "the message says no more than that: read amps and volts of the brakes",
}


def shares_ground(command: str) -> bool:
    """Whether a command asks two things at once of one ground."""
    return "+" in command


def _of_lamp(expectation: Expectation, word: Word) -> str:
    if Word.OFF in expectation.words:
        return _lit_in_the_dark(expectation, word)
    if word is Word.OFF:
        if shares_ground(expectation.command):
            return (
                "out when two commands share the ground: if it lights under each alone, the "
                "shared ground is bad"
            )
        return "dead: bulb, its ground, its fuse, or its pin; does the other side light?"
    if word in FAINT:
        if shares_ground(expectation.command):
            return (
                "dim when two commands share the ground: read the drop on the ground under this "
                "command"
            )
        return "dim: a weak joint in its feed or its ground; compare with the other side"
    return _otherwise_lit(expectation, word)


SEEN: Final = {
    Word.FLASHING_FAST: "fast flash: a lamp is out, or the vehicle takes an LED for a dead one",
    Word.BRIGHT: "too bright: wrong bulb, the stop filament on the tail wire, or too many volts",
    Word.FLICKER: "flickers: a loose contact; move plug, cord and lamp one at a time",
    Word.PULSED: "pulsed: the vehicle feeds in pulses; normal on some, then say so",
}


def _otherwise_lit(expectation: Expectation, word: Word) -> str:
    flashes = set(expectation.words) & set(FLASHES)
    if word in SEEN and not (flashes and word is Word.BRIGHT):
        return SEEN[word]
    if flashes and word not in FLASHES and word is not Word.WRONG:
        return "steady where it must flash: turn and stop or tail wires exchanged"
    if word in FLASHES and not flashes:
        return (
            "flashes where it must be steady: exchanged with the turn signal, or its ground is lost"
        )
    return "something else lights than should: wires exchanged; read the socket pin by pin"


def _lit_in_the_dark(expectation: Expectation, word: Word) -> str:
    if expectation.command == "rest":
        if word in (Word.GLOW, Word.PULSED):
            return "glows with all off: a module leaks, or water across a box"
        return "lit with all off: bridged wires, or a feed exchanged with the charge line"
    if word in FLASHES:
        return "flashes with the other side: a lost ground, or sides exchanged"
    if shares_ground(expectation.command) or word in FAINT:
        return "current comes home through this lamp: its ground or the shared ground is lost"
    return "lit when it must be dark: wires exchanged or bridged, or a wrong bulb in the holder"


def _of_brake(expectation: Expectation, word: Word) -> str:
    if Word.OFF in expectation.words:
        return (
            "brake live with nobody braking: brake and charge wires exchanged, breakaway switch "
            "closed, or the controller stuck"
        )
    if word in (Word.WEAK, Word.GLOW, Word.DIM):
        return "weak: volts at the magnet first; if they are right, adjustment and shoes"
    if expectation.command == "breakaway":
        return "does not pull on its own battery: battery flat, switch dead, or its wires open"
    return "does not pull: read ohms at the magnet, then its two wires along the axle"


def _of_probe(expectation: Expectation, word: Word) -> str:
    if Word.OFF in expectation.words:
        if word is Word.PULSED:
            return "pulses with nothing asked: many modules look for a trailer so"
        return _live_pin(expectation)
    if word is Word.OFF:
        return (
            "nothing here: the fuse and relay for the trailer alone (often in a second box), then "
            "the joint behind the socket"
        )
    if word in FAINT:
        return (
            "dim with one lamp on it: a weak joint or contact ahead of the socket, feed or ground"
        )
    return _otherwise_lit(expectation, word)


def _live_pin(expectation: Expectation) -> str:
    if "brake" in expectation.title:
        return (
            "brake pin live with nobody braking: brake and charge wires exchanged, or the "
            "controller stuck; the brakes would lock"
        )
    if expectation.command == "rest":
        return "live with all off: exchanged with the charge line, or bridged"
    return "live under the wrong command: wires exchanged or bridged; read every pin"


def _of_number(expectation: Expectation, value: float) -> str:
    nominal = expectation.nominal or 0.0
    low = value < (expectation.low if expectation.low is not None else value)
    if expectation.quantity is Quantity.AMPS:
        return _of_amps(expectation, value, nominal, low=low)
    match expectation.place.kind:
        case PlaceKind.RETURN | PlaceKind.POINTS:
            return _of_return(expectation, value, low=low)
        case PlaceKind.PIN:
            return _of_pin(expectation, value, nominal, low=low)
        case _ if low:
            return (
                "low at the battery: drop along the charge line, out and home, or its relay is off"
            )
        case _:
            return "more than the vehicle gives: another charger is on"


def _of_return(expectation: Expectation, value: float, *, low: bool) -> str:
    if value < 0.0:
        return "below zero: swap the leads of the meter"
    if low:
        return (
            "less is lost on the ground than should be: part of the load is missing, or current "
            "goes home another way, by the ball or another return"
        )
    share = " under the heaviest command" if shares_ground(expectation.command) else ""
    where = "socket ground contact, its wire, then the ring on the frame"
    if expectation.place.kind is PlaceKind.POINTS:
        where = "plug and socket ground contacts and the cord, then the vehicle's ground wire"
    return f"{value:.1f} V lost on the ground{share}: the shared ground is weak; {where}"


def _of_pin(expectation: Expectation, value: float, nominal: float, *, low: bool) -> str:
    if not nominal:
        return _live_pin(expectation)
    if low and value < NONE_SHARE * nominal:
        return (
            "no volts: the fuse and relay for the trailer alone (often in a second box), then the "
            "joint behind the socket"
        )
    if low and not expectation.plugged and expectation.tester == "meter":
        return "low with nothing on it: the battery is low, or the feed is pulsed"
    if low:
        return (
            "low under load: a weak joint or thin wire between battery and this pin; the drop on "
            "the ground says on which side"
        )
    if expectation.plugged:
        return "more than expected under load: part of the load is missing, a lamp or magnet is out"
    return "more than expected: what does the battery read with the engine as it is now?"


def _of_amps(expectation: Expectation, value: float, nominal: float, *, low: bool) -> str:
    if not expectation.count:
        if not low:
            return "more than the line is made for: a flat battery, or a short"
        return "little charge: fuse and relay of the line, drop along it, or the battery is full"
    return magnets_words(expectation.count, value / nominal if nominal else 0.0)


def magnets_words(count: int, share: float) -> str:
    """Return what a share of the brake current that all magnets would draw says.

    Parameters
    ----------
    count : int
        Magnets on the trailer.
    share : float
        What was read over what all would draw at the same volts.
    """
    out = round(count * (1.0 - share))
    if share < NONE_SHARE:
        return "no brake current: feed or return is open ahead of the split"
    if out >= 1:
        which = "one" if out == 1 else str(out)
        verb = "is" if out == 1 else "are"
        return (
            f"{which} of {_number(count)} magnets {verb} out, or low volts: read the brake pin too"
        )
    if share < 1.0:
        return "low, but less than one magnet: low volts at the brake pin, or hot magnets"
    return "more than all magnets draw: a shorted magnet, or its wire on the axle tube"


def _number(count: int) -> str:
    names = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
    return names[count] if count < len(names) else str(count)
