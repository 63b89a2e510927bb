"""What a person says of a light: how words spread about the light that a solver computes.

The eye judges light by ratios, and people differ in what they call dim. So the computed light
is spread by a factor of about two either way before the words are told apart. The shares at
which the words change are those of the limits table.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.observations.word import Word
from loomwright.reference.limits import limit

Floats = NDArray[np.float64]

BASIC: Final = (
    Word.OFF,
    Word.GLOW,
    Word.DIM,
    Word.NORMAL,
    Word.BRIGHT,
    Word.FLASHING,
    Word.FLASHING_DIM,
)
"""The words a light is told in; all others are made of them."""

SPREAD: Final = 0.22
"""Of the logarithm of light, as judged by eye: 95 of 100 within a factor of two. From memory."""

BEAT: Final = 0.6
"""Logarithm of the ratio of lit to dark half at which half the people see a flash. From memory."""

BEAT_SPREAD: Final = 0.15

LEAST: Final = 1e-9
"""Light that stands for none."""

SLIP: Final = 0.03
"""Share of words that are plain wrong: another lamp, another command, a slip. From memory."""


def spoken(lit: Floats, dark: Floats | None, *, filament: bool) -> Floats:
    """Return the chance of each basic word for each light, shape (light, word).

    Parameters
    ----------
    lit : float array, shape (light,)
        Light as a share of rated; in the lit half, if the command flashes.
    dark : float array or None, shape (light,)
        Light in the dark half; None under a steady command.
    filament : bool
        Whether it is a filament: its glow is seen later than that of an LED.
    """
    steady = _levels(lit, filament=filament)
    words = np.zeros((len(lit), len(BASIC)))
    if dark is None:
        words[:, :5] = steady
    else:
        most = _levels(np.maximum(lit, dark), filament=filament)
        flash = _flash(lit, dark) * (1.0 - most[:, 0])
        mean = _levels(np.maximum(lit, dark) * 0.7 + np.minimum(lit, dark) * 0.3, filament=filament)
        shown = most[:, 1:] / np.maximum(most[:, 1:].sum(axis=1, keepdims=True), LEAST)
        clear = shown[:, 2] + shown[:, 3] + 0.5 * shown[:, 1]
        words[:, :5] = (1.0 - flash)[:, None] * mean
        words[:, 5] = flash * clear
        words[:, 6] = flash * (1.0 - clear)
    words += 1e-6
    words /= words.sum(axis=1, keepdims=True)
    return np.asarray((1.0 - SLIP) * words + SLIP / len(BASIC))


def _levels(light: Floats, *, filament: bool) -> Floats:
    """Chance of off, glow, dim, normal, bright, shape (light, 5)."""
    off = limit("light-share-off-filament" if filament else "light-share-off-led").share
    edges = [off, *(limit(f"light-share-{key}").share for key in ("glow", "dim", "bright"))]
    above = [_above(light, edge) for edge in edges]
    ones = np.ones_like(above[0])
    up = [ones, *above, np.zeros_like(ones)]
    return np.stack([up[n] - up[n + 1] for n in range(5)], axis=1)


def _above(light: Floats, edge: float) -> Floats:
    x = (np.log(np.maximum(light, LEAST)) - np.log(edge)) / SPREAD
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(x, -40.0, 40.0))))


def _flash(lit: Floats, dark: Floats) -> Floats:
    seen = limit("light-share-off-filament").share
    ratio = np.abs(np.log(np.maximum(lit, seen)) - np.log(np.maximum(dark, seen)))
    x = (ratio - BEAT) / BEAT_SPREAD
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(x, -40.0, 40.0))))


def chance(words: Floats, said: Word, healthy: Floats, *, flashes: bool) -> Floats:
    """Return the chance that a word is said, of the chances of the basic words.

    Parameters
    ----------
    words : float array, shape (light, word)
        As `spoken` gives them.
    said : Word
        What was said.
    healthy : float array, shape (word,)
        The same for the healthy rig.
    flashes : bool
        Whether the command flashes some lamps: then "normal" may mean that it flashes.
    """
    off, glow, dim, normal, bright, flashing, flashing_dim = words.T
    usual = words[:, int(np.argmax(healthy))]
    lit = 1.0 - off
    match said:
        case Word.NORMAL | Word.WORKS:
            found = normal + 0.6 * bright + (flashing if flashes else 0.0)
        case Word.ON:
            found = lit - 0.6 * flashing - 0.6 * flashing_dim - 0.3 * glow
        case Word.FLASHING | Word.FLASHING_FAST:
            share = 1.0 if said is Word.FLASHING else 0.3
            found = share * (flashing + 0.35 * flashing_dim)
        case Word.FLASHING_DIM:
            found = flashing_dim + 0.25 * flashing
        case Word.WEAK:
            found = dim + glow + 0.5 * flashing_dim
        case Word.WRONG | Word.FAILS:
            found = 1.0 - usual
        case Word.AS_USUAL:
            found = usual
        case Word.FLICKER | Word.COMES_AND_GOES | Word.PULSED:
            found = 0.05 + 0.1 * (dim + glow + flashing_dim)
        case Word.BRIGHT:
            found = bright + 0.3 * normal
        case _ if said in BASIC:
            found = words[:, BASIC.index(said)]
        case _:
            found = np.full(len(words), 1.0 / len(BASIC))
    return np.asarray(np.clip(found, SLIP / len(BASIC), 1.0))
