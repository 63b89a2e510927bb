"""A person who walks round a rig with a fault in it, and does not see or read quite right.

The person errs otherwise than belief allows for: light is misjudged more widely, words are mixed
up, a lamp is looked at twice. All randomness comes from the generator that is handed in.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.reference.limits import limit
from loomwright.rig.model import Bulb
from loomwright.trace.hypotheses import Hypotheses

WALK: Final = ("park", "left", "right", "brake_pedal", "park+left", "park+brake_pedal")
"""What is held while a person walks round: each command alone, then the two pairs."""

MISJUDGED: Final = 0.3
"""Of the logarithm of light: seven in ten within a third."""

MIXED_UP: Final = 0.04
"""Share of words that are any word at all."""

METER: Final = 0.03
"""Error of a reading, of its value and of a volt: leads, contact, a flashing lamp."""

FLASHES: Final = 1.8
"""Ratio of light in which a flash is noticed."""

LEVELS: Final = (Word.OFF, Word.GLOW, Word.DIM, Word.NORMAL, Word.BRIGHT)
ANY_WORD: Final = (*LEVELS, Word.FLASHING, Word.FLASHING_DIM)


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who looks and measures, with chance in eye and hand."""

    chance: np.random.Generator

    def walks_round(self, hypotheses: Hypotheses, truth: int) -> Iterator[Observation]:
        """Say what each lamp of the trailer shows under each command, and how it brakes."""
        bench = hypotheses.field.bench
        for key in (*WALK, "brake_lever"):
            if not bench.has(key):
                continue
            there = not hypotheses.loose[truth] or self.chance.random() < 0.5
            variant = int(hypotheses.variant[truth]) if there else 0
            kind = "brake" if key == "brake_lever" else "lamp"
            for number, load in enumerate(bench.wiring.loads):
                if load.kind == kind:
                    word = self._word(hypotheses, variant, bench.number(key), number)
                    place = Place(PlaceKind.LOAD, load.name)
                    yield Observation(key, place, Quantity.SEEN, word=word)

    def reads(self, volts: float) -> float:
        """Return what a meter shows of some volts. [V]"""
        off = self.chance.normal(0.0, METER, 2)
        return float(volts * (1.0 + off[0]) + off[1])

    def _word(self, hypotheses: Hypotheses, variant: int, command: int, load: int) -> Word:
        solved = hypotheses.field
        source = solved.bench.wiring.loads[load].source
        lit = self._seen(float(solved.light[variant, command, load]))
        if source is None:
            return self._braking(lit)
        if self.chance.random() < MIXED_UP:
            return ANY_WORD[int(self.chance.integers(len(ANY_WORD)))]
        dark_half = solved.bench.dark_half(command)
        filament = isinstance(source, Bulb)
        if dark_half is None:
            return _level(lit, filament=filament)
        dark = self._seen(float(solved.light[variant, dark_half, load]))
        most = _level(max(lit, dark), filament=filament)
        least = limit("light-share-off-filament").share
        steady = max(lit, least) / max(dark, least)
        if most is Word.OFF or 1.0 / FLASHES < steady < FLASHES:
            return most
        return Word.FLASHING_DIM if most in (Word.GLOW, Word.DIM) else Word.FLASHING

    def _seen(self, light: float) -> float:
        return float(light * np.exp(self.chance.normal(0.0, MISJUDGED)))

    def _braking(self, share: float) -> Word:
        if self.chance.random() < MIXED_UP:
            share = float(self.chance.random())
        return Word.OFF if share < 0.1 else Word.WEAK if share < 0.7 else Word.NORMAL


def _level(light: float, *, filament: bool) -> Word:
    off = limit("light-share-off-filament" if filament else "light-share-off-led").share
    edges = [off, *(limit(f"light-share-{key}").share for key in ("glow", "dim", "bright"))]
    return LEVELS[sum(light >= edge for edge in edges)]
