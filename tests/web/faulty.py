"""Somebody at a rig with a fault in it, who tells what its lamps, pins and parts really do.

What they do is solved anew from the faulted network, command by command, by the solver that is
held against ngspice elsewhere; nothing of how faults are ranked is used. So an answer that leads
to the wrong fault is a fault of the screen or of the reasoning, not of the observer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.observations.observation import Observation
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.trace.model import RigFault
from loomwright.trace.shown import faulted_answer

DARK_HALF: Mapping[str, str] = {
    "left": "still",
    "right": "still",
    "hazard": "still",
    "park+left": "park",
}
"""What is left of a flashing command while its lamps are dark."""

FLASH_RATIO = 1.8
"""Of light, in which a flash is noticed; common practice has no number for it."""

A_FLASH = {Word.FLASHING, Word.FLASHING_DIM, Word.FLASHING_FAST}
GROUND = "ground"
LEAST_DROP_V = 0.3
"""Across a part that should have next to none: what the question itself calls too much. [V]"""


@dataclass
class Observer:
    """Looks at one rig, sound or with a fault in it."""

    rig: Rig
    fault: RigFault
    solved: dict[str, CommandAnswer] = field(default_factory=dict)

    def word(self, command: str, lamp: str) -> Word:
        """What a lamp does while a command is held."""
        lit = self._load(command, lamp)
        dark = DARK_HALF.get(command)
        if dark is None:
            return Word(lit.word)
        half = self._load(dark, lamp)
        light = sorted((each.light_share or 0.0) for each in (lit, half))
        best = max((lit, half), key=lambda each: each.light_share or 0.0)
        if best.word == Word.OFF or light[1] < FLASH_RATIO * max(light[0], 0.01):
            return Word(best.word)
        return Word.FLASHING_DIM if best.word in (Word.GLOW, Word.DIM) else Word.FLASHING

    def choose(self, answers: Sequence[Sequence[Observation]]) -> int | None:
        """Return which answer fits best what is really so; None if nobody can tell."""
        misses = [self._misses(each) for each in answers]
        known = [(miss, n) for n, miss in enumerate(misses) if miss is not None]
        return min(known)[1] if known else None

    def _misses(self, told: Sequence[Observation]) -> float | None:
        found = [self._miss(each) for each in told]
        known = [each for each in found if each is not None]
        return sum(known) if known and len(known) == len(found) else None

    def _miss(self, told: Observation) -> float | None:
        """How far one observation is from what is so; None where nobody can tell."""
        if not told.command:
            return None
        if told.value is None:
            is_so = self._is_so(told)
            return None if is_so is None else float(not is_so)
        volts = self._volts(told)
        return None if volts is None else abs(told.value - abs(volts))

    def _is_so(self, told: Observation) -> bool | None:
        read, place = self._answer(told.command), told.place
        match place.kind:
            case PlaceKind.LOAD:
                return told.word is self.word(told.command, place.name)
            case PlaceKind.FUSE:
                return (place.name in read.opened) == (told.word is Word.BLOWN)
            case PlaceKind.POINTS:
                drop_v = abs(read.nodes_v[place.name] - read.nodes_v[place.other])
                return (drop_v >= LEAST_DROP_V) == (told.word is Word.WRONG)
        return None

    def _volts(self, told: Observation) -> float | None:
        pins, place = self._answer(told.command).pins, told.place
        match place.kind:
            case PlaceKind.LOAD:
                return self._load(told.command, place.name).voltage_v
            case PlaceKind.PIN:
                at = (place.name, place.pin)
                return next(p.to_return_v for p in pins if (p.socket, p.pin) == at)
            case PlaceKind.RETURN:
                ground = (place.name, GROUND)
                return next(p.voltage_v for p in pins if (p.socket, p.function) == ground)
        return None

    def _load(self, command: str, name: str) -> LoadAnswer:
        return next(each for each in self._answer(command).loads if each.name == name)

    def _answer(self, command: str) -> CommandAnswer:
        if command not in self.solved:
            self.solved[command] = faulted_answer(self.rig, self.fault, command)
        return self.solved[command]
