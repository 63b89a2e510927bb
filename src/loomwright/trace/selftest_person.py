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
from loomwright.trace.bench import Bench
from loomwright.trace.hypotheses import Hypotheses

WALK: Final = ("rest", "park", "left", "right", "brake_pedal", "park+left", "park+brake_pedal")
"""What is held while a person walks round: nothing, each command alone, then the two pairs."""

BRAKED: Final = ("rest", "brake_pedal", "brake_lever")
"""Under which a person feels how it brakes: whether it rolls freely, and whether it is held."""

THERE: Final = 0.5
"""How often what comes and goes is there when somebody looks."""

TELLS: Final = 0.6
"""Share of people who tell that it comes and goes over bumps, where it does."""

TELLS_ANYWAY: Final = 0.05
"""The same where it does not."""

MISJUDGED: Final = 0.3
"""Of the logarithm of light: seven in ten within a third."""

MIXED_UP: Final = 0.04
"""Share of words that are any word at all."""

METER: Final = 0.03
"""Error of a reading, of its value and of a volt: leads, contact, a flashing lamp."""

FLASHES: Final = 1.8
"""Ratio of light in which a flash is noticed."""

HELD: Final = ("brake_lever", "brake_pedal", "park+brake_pedal")
"""Commands under which brakes are to hold."""

DRAGS: Final = 0.25
"""Share of a good brake's current at which a wheel is felt to drag."""

LEVELS: Final = (Word.OFF, Word.GLOW, Word.DIM, Word.NORMAL, Word.BRIGHT)
ANY_WORD: Final = (*LEVELS, Word.FLASHING, Word.FLASHING_DIM)


@dataclass(frozen=True, slots=True)
class Walk:
    """A walk round: what was told, and which variant of the rig was looked at when.

    `moments` holds the numbers of command and variant of each look.
    """

    told: tuple[Observation, ...]
    moments: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who looks and measures, with chance in eye and hand."""

    chance: np.random.Generator

    def walks_round(self, hypotheses: Hypotheses, truth: int) -> Walk:
        """Say what each lamp of the trailer shows under each command, and how it brakes.

        What comes and goes is there at one command and gone at the next; a short that has blown
        a fuse leaves it blown.

        Parameters
        ----------
        hypotheses : Hypotheses
            What may be the case.
        truth : int
            Number of what is the case.
        """
        bench, moments = hypotheses.field.bench, []
        told = list(self._history(hypotheses, truth))
        is_loose, stays, is_blown = hypotheses.loose[truth], hypotheses.stays[truth], False
        for key in (*WALK, "brake_lever"):
            if not bench.has(key):
                continue
            there = not is_loose or is_blown or self.chance.random() < THERE
            variant = int(hypotheses.variant[truth]) if there else 0
            command = bench.number(key)
            is_blown |= bool(stays and hypotheses.field.opened[variant, command].any())
            moments.append((command, variant))
            told += self._looks(hypotheses, command, variant)
        return Walk(tuple(told), tuple(moments))

    def _history(self, hypotheses: Hypotheses, truth: int) -> Iterator[Observation]:
        """Say that it comes and goes over bumps, as people do where it does."""
        tells = TELLS if hypotheses.loose[truth] else TELLS_ANYWAY
        if self.chance.random() < tells:
            yield Observation("", Place(PlaceKind.HISTORY, "bumps"), Quantity.SEEN, word=Word.ON)

    def _looks(self, hypotheses: Hypotheses, command: int, variant: int) -> Iterator[Observation]:
        bench = hypotheses.field.bench
        for load in looked_at(bench, command):
            word = self._word(hypotheses, variant, command, load)
            place = Place(PlaceKind.LOAD, bench.wiring.loads[load].name)
            key = bench.commands[command].key
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
            return self._braking(lit, held=solved.bench.commands[command].key in HELD)
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

    def _braking(self, share: float, *, held: bool) -> Word:
        if self.chance.random() < MIXED_UP:
            share = float(self.chance.random())
        if not held:
            return Word.LOCKED if share > DRAGS else Word.OFF
        return Word.OFF if share < 0.1 else Word.WEAK if share < 0.7 else Word.NORMAL


def looked_at(bench: Bench, command: int) -> list[int]:
    """Return the numbers of the loads that a person looks at under a command."""
    key = bench.commands[command].key
    kinds = {"brake"} if key == "brake_lever" else {"lamp"}
    kinds |= {"brake"} if key in BRAKED else set()
    return [n for n, load in enumerate(bench.wiring.loads) if load.kind in kinds]


def _level(light: float, *, filament: bool) -> Word:
    off = limit("light-share-off-filament" if filament else "light-share-off-led").share
    edges = [off, *(limit(f"light-share-{key}").share for key in ("glow", "dim", "bright"))]
    return LEVELS[sum(light >= edge for edge in edges)]
