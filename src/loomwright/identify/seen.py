"""What a tester shows, in few words; volts and ohms are brought to these words."""

from __future__ import annotations

from enum import StrEnum

from loomwright.identify.commands import DROP, OHMS
from loomwright.invalid import InvalidInput
from loomwright.observations.word import Word

NOTHING_BELOW = 0.06
STEADY_FROM = 0.8
TOO_MUCH = 1.45
"""Shares of the nominal supply: 0.7 V, 9.6 V and 17.4 V of 12 V. Common practice."""

LOW_OHM = 3.0
OPEN_OHM = 5000.0
"""A ground reads under 1 ohm and the leads of a cheap meter add up to 0.5; common practice."""

SMALL_DROP_V = 0.1
POOR_DROP_V = 1.0
"""A good ground drops less than 0.1 V under a 21 W lamp; common practice."""


class Tester(StrEnum):
    """What the wire is probed with."""

    METER = "meter"  # high impedance; the only one that reads volts and ohms
    LED = "led"  # LED tester, high impedance
    LAMP = "lamp"  # test lamp with a 21 W bulb


class Seen(StrEnum):
    """What is seen on one wire."""

    NOTHING = "nothing"
    PARTIAL = "partial"
    STEADY = "steady"
    FLASHING = "flashing"
    PULSED = "pulsed"
    LOW = "low ohms"
    MIDDLE = "some ohms"
    OPEN = "open"
    SMALL_DROP = "small drop"
    POOR_DROP = "some drop"
    FULL_DROP = "full drop"


VOLT_WORDS = (Seen.NOTHING, Seen.PARTIAL, Seen.STEADY, Seen.FLASHING, Seen.PULSED)
OHM_WORDS = (Seen.LOW, Seen.MIDDLE, Seen.OPEN)
DROP_WORDS = (Seen.SMALL_DROP, Seen.POOR_DROP, Seen.FULL_DROP)

OF_WORD = {
    Word.OFF: Seen.NOTHING,
    Word.GLOW: Seen.PARTIAL,
    Word.DIM: Seen.PARTIAL,
    Word.WEAK: Seen.PARTIAL,
    Word.NORMAL: Seen.STEADY,
    Word.BRIGHT: Seen.STEADY,
    Word.ON: Seen.STEADY,
    Word.FLASHING: Seen.FLASHING,
    Word.FLASHING_DIM: Seen.FLASHING,
    Word.FLASHING_FAST: Seen.FLASHING,
    Word.FLICKER: Seen.PULSED,
    Word.PULSED: Seen.PULSED,
}
"""Words of the eye, brought to the few that matter here."""


def words_of(command: str) -> tuple[Seen, ...]:
    """Return the words that answer a command or a ground test."""
    return {OHMS.key: OHM_WORDS, DROP.key: DROP_WORDS}.get(command, VOLT_WORDS)


def seen_word(text: str, command: str, field: str = "seen") -> Seen:
    """Return what a word says under a command.

    Raises
    ------
    InvalidInput
        If it is none of the words for it.
    """
    said = " ".join(text.split()).casefold()
    for each in words_of(command):
        if said == each:
            return each
    for word, each in OF_WORD.items():
        if said == word and each in words_of(command):
            return each
    raise InvalidInput(field, text, "use one of " + ", ".join(words_of(command)))


def seen_value(value: float, command: str, nominal_v: float, field: str = "value") -> Seen:
    """Return what a reading of a meter says.

    Parameters
    ----------
    value : float
        Volts to battery negative; ohms for the ground test by ohms. [V] or [ohm]
    command : str
        Key of what was held.
    nominal_v : float
        Nominal supply, 12 or 24. [V]
    field : str
        Name of the value, for messages.

    Raises
    ------
    InvalidInput
        If no wire of such a vehicle can read so.
    """
    if command == OHMS.key:
        if not value >= 0.0:
            raise InvalidInput(field, value, "give ohms, 0 or more; 'open' if the meter shows OL")
        return _step(value, (LOW_OHM, OPEN_OHM), OHM_WORDS)
    highest_v = TOO_MUCH * nominal_v
    lowest_v = -NOTHING_BELOW * nominal_v
    if not lowest_v <= value <= highest_v:
        fix = f"give volts to battery negative, 0 to {highest_v:.1f}; below 0, swap the leads"
        raise InvalidInput(field, value, fix)
    if command == DROP.key:
        return _step(value, (SMALL_DROP_V, POOR_DROP_V), DROP_WORDS)
    edges = (NOTHING_BELOW * nominal_v, STEADY_FROM * nominal_v)
    return _step(value, edges, VOLT_WORDS[:3])


def _step(value: float, edges: tuple[float, float], words: tuple[Seen, ...]) -> Seen:
    return words[sum(value >= edge for edge in edges)]
