"""Reads what a person saw, place by place: "left rear dark", "tail fuse blown", "worse in rain"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.electrics.wiring import Wiring
from loomwright.invalid import InvalidInput
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.moving import moved_place
from loomwright.trace.phrase_places import bare, fuse_named, load_named, pin_named
from loomwright.trace.phrase_words import CHANGED, ELSEWHERE, MOVED, PAST, STEADY, WORDS
from loomwright.trace.whereabouts import meant_by

MESSAGES = (Word.NO_TRAILER, Word.OVERLOAD, Word.CONNECTED)
"""Words that a brake controller says; with no place named they are its."""


def seen_said(said: str, command: str, wiring: Wiring) -> Observation:
    """Return what a person says was seen at one place.

    Parameters
    ----------
    said : str
        Place and word.
    command : str
        Key of the command that was held; empty for none.
    wiring : Wiring
        The rig.

    Raises
    ------
    InvalidInput
        If word or place is not understood.
    """
    low = said.casefold()
    besides = _history(low) if not command else None
    besides = besides or _moved(low)
    if besides is not None:
        place, word = besides
        return Observation(command, place, Quantity.SEEN, word=word)
    found, rest = _word_in(low)
    if found is None:
        known = "dark, glows, dim, normal, bright, flashing, comes and goes, blown, no trailer"
        raise InvalidInput("seen", said, f"end it with one of: {known}")
    told = _Told(said, low, rest, found, wiring)
    place = next(told.places())
    return Observation(command, place, Quantity.SEEN, word=told.word_at(place))


@dataclass(frozen=True, slots=True)
class _Told:
    """What was said: all of it, in small letters, without its word; the word; of which rig."""

    said: str
    low: str
    rest: str
    word: Word
    wiring: Wiring

    def places(self) -> Iterator[Place]:
        """Yield the places it may mean, the plainest first; lamps and brakes last."""
        words = self.rest.split()
        for saying, elsewhere in ELSEWHERE:
            if saying in self.low:
                yield Place(PlaceKind.ELSEWHERE, elsewhere)
        if "fuse" in words:
            name = " ".join(w for w in words if w not in ("fuse", "the", "is"))
            yield Place(PlaceKind.FUSE, fuse_named(name, self.said, self.wiring))
        if "controller" in self.rest or (not self.rest and self.word in MESSAGES):
            yield Place(PlaceKind.CONTROLLER)
        if "dash" in words:
            yield Place(PlaceKind.CONTROLLER, "dash")
        pin = pin_named(self.rest, self.wiring)
        if pin is not None:
            yield pin
        yield Place(
            PlaceKind.GROUP, load_named(self.rest or "trailer lamps", self.said, self.wiring)
        )

    def word_at(self, place: Place) -> Word:
        """Return the word as it is meant there: a weak lamp is dim, a weak brake is weak."""
        if self.word is not Word.WEAK or place.kind is not PlaceKind.GROUP:
            return self.word
        loads = meant_by(self.wiring, place.name).loads
        is_brake = all(self.wiring.loads[n].kind == "brake" for n in loads)
        return Word.WEAK if is_brake else Word.DIM


def _history(low: str) -> tuple[Place, Word] | None:
    """Weather, movement, the past."""
    named = next((history for saying, history in PAST if saying in low), None)
    return None if named is None else (Place(PlaceKind.HISTORY, named), Word.ON)


def _moved(low: str) -> tuple[Place, Word] | None:
    """Something moved by hand: "flickers when the plug is moved".

    Raises
    ------
    InvalidInput
        If it is not said what moved, or whether anything changed.
    """
    if not re.search(r"\b(moved|wiggled)\b", low):
        return None
    zone = next((zone for saying, zone in MOVED if saying in low), None)
    is_steady = any(saying in low for saying in STEADY)
    if zone is None or not (is_steady or any(saying in low for saying in CHANGED)):
        raise InvalidInput(
            "seen", low, "say it as in: left: flickers when the plug is moved; or nothing changes"
        )
    return moved_place(zone), Word.NORMAL if is_steady else Word.COMES_AND_GOES


def _word_in(low: str) -> tuple[Word | None, str]:
    """The word at the end of a saying, or at its beginning, and the rest."""
    for saying, word in WORDS:
        match = re.search(rf"(?:^|\b){re.escape(saying)}$", low)
        if match:
            return word, bare(low[: match.start()])
    for saying, word in WORDS:
        if low.startswith(saying + " "):
            return word, bare(low[len(saying) :])
    return None, low
