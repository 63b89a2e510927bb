"""The spread of one reading over healthy rigs, and the words a light may have within it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.electrics.lights import share_of_light, word_for
from loomwright.observations.word import Word
from loomwright.rig.model import Bulb, Led

LOW, HIGH = 0.05, 0.95
ORDER: Final = (Word.OFF, Word.GLOW, Word.DIM, Word.NORMAL, Word.BRIGHT)
FLASHES: Final = {
    Word.OFF: Word.OFF,
    Word.GLOW: Word.FLASHING_DIM,
    Word.DIM: Word.FLASHING_DIM,
    Word.NORMAL: Word.FLASHING,
    Word.BRIGHT: Word.FLASHING,
}
"""What is seen of a lamp that is fed in beats, by how bright its lit half is."""


@dataclass(frozen=True, slots=True)
class Spread:
    """One reading: the 5, 50 and 95 % quantiles, and how far a healthy rig may go.

    Beyond the extreme of the drawn rigs there may be more: as much again as from the quantile
    to the extreme. Of a normal distribution that is past 3 deviations, of an even one just past
    its end.
    """

    low: float
    middle: float
    high: float
    least: float
    most: float


def spread_of(values: NDArray[np.float64]) -> Spread:
    """Return the spread of a reading.

    Parameters
    ----------
    values : float array, shape (1 + samples,)
        The nominal rig first.
    """
    drawn = values[1:] if len(values) > 1 else values
    low, middle, high = (float(q) for q in np.quantile(drawn, (LOW, 0.5, HIGH)))
    least, most = float(drawn.min()), float(drawn.max())
    return Spread(low, middle, high, 2.0 * least - low, 2.0 * most - high)


@dataclass(frozen=True, slots=True)
class Words:
    """Words that are right, the usual one first, and those in which a healthy rig may differ."""

    right: tuple[Word, ...]
    doubtful: tuple[Word, ...]


def light_words(
    spread: Spread, source: Bulb | Led, nominal_v: float, duty: float, *, flashes: bool
) -> Words:
    """Return what may be seen of a light.

    Parameters
    ----------
    spread : Spread
        Mean volts across it. [V]
    source : Bulb or Led
        What it is.
    nominal_v : float
        Voltage of the system it is in. [V]
    duty : float
        Share of time its feed is on.
    flashes : bool
        Whether its command flashes it.
    """

    def rank(mean_v: float) -> int:
        share = share_of_light(source, nominal_v, max(mean_v, 0.0) / duty, duty)
        return ORDER.index(Word(word_for(share, source)))

    right = _ranks(rank(spread.middle), rank(spread.low), rank(spread.high))
    wider = _ranks(rank(spread.middle), rank(spread.least), rank(spread.most))
    return _as_seen(right, wider, flashes=flashes, pulsed=duty < 1.0)


def _ranks(first: int, low: int, high: int) -> list[int]:
    return [first, *(n for n in range(min(low, high), max(low, high) + 1) if n != first)]


def _as_seen(right: list[int], wider: list[int], *, flashes: bool, pulsed: bool) -> Words:
    """Nobody tells a bright lamp from a normal one without another beside it."""
    said, perhaps = [ORDER[n] for n in right], [ORDER[n] for n in wider]
    if Word.NORMAL in said or Word.BRIGHT in said:
        perhaps += [Word.NORMAL, Word.BRIGHT]
    if flashes:
        said, perhaps = [FLASHES[w] for w in said], [FLASHES[w] for w in perhaps]
    if pulsed and Word.OFF not in said:
        perhaps += [Word.PULSED, Word.FLICKER]
    first = tuple(dict.fromkeys(said))
    return Words(first, tuple(w for w in dict.fromkeys(perhaps) if w not in first))
