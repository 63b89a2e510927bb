"""Questions to an eye that watches: does it change when moved, does it drag with all off?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.asked import CAUTIONS, Asked
from loomwright.trace.evidence import chance_of
from loomwright.trace.moving import POOR, ZONES, moved_place, shown_under
from loomwright.trace.shortlist import Shortlist

MOVE_MIN: Final[dict[str, float]] = {
    "plug and cord": 1.5,
    "junction box": 3.0,
    "lamp and its wires": 2.0,
    "wires along the frame": 6.0,
    "wires at the axles": 6.0,
    "wires behind the bumper": 5.0,
}
"""Getting there and moving it while a helper watches, or a phone films. [min] Common practice."""

ALONE: Final = 1.5
"""Factor on that without a helper."""

DRAG_MIN: Final = 1.0

NOT_HELD: Final = frozenset({"still", "all", "rest", "charge"})


def watched_questions(
    shortlist: Shortlist, seen: Sequence[Observation], tools: tuple[str, ...]
) -> Iterator[Asked]:
    """Yield the wiggle test of each place where something loose may be, and the brakes at rest.

    Parameters
    ----------
    shortlist : Shortlist
        What may be the case.
    seen : sequence of Observation
        What is known already and need not be asked again.
    tools : tuple of str
        What is at hand.
    """
    yield from _moved(shortlist, seen, tools)
    yield from _drags(shortlist, seen)


def _moved(
    shortlist: Shortlist, seen: Sequence[Observation], tools: tuple[str, ...]
) -> Iterator[Asked]:
    done = {each.place for each in seen}
    for zone in ZONES:
        place = moved_place(zone)
        command = None if place in done else _command_for(shortlist, zone)
        if command is None:
            continue
        bench = shortlist.hypotheses.field.bench
        key = bench.commands[command].key
        changes = Observation(key, place, Quantity.SEEN, word=Word.COMES_AND_GOES)
        steady = Observation(key, place, Quantity.SEEN, word=Word.NORMAL)
        chance = chance_of(shortlist.hypotheses, changes)
        if chance is None:
            continue
        yes = chance[shortlist.number]
        with_helper = "helper" in tools
        yield Asked(
            f"moved_{zone.replace(' ', '_')}",
            f"Hold: {bench.commands[command].title}. Move the {zone} by hand while "
            f"{'a helper watches' if with_helper else 'a phone films'}: does anything change?",
            key,
            MOVE_MIN[zone] * (1.0 if with_helper else ALONE),
            ("helper",) if with_helper else (),
            np.stack([yes, 1.0 - yes], axis=1),
            (("it changes", (changes,)), ("nothing changes", (steady,))),
            CAUTIONS.get(key, ""),
        )


def _command_for(shortlist: Shortlist, zone: str) -> int | None:
    """The command under which most of what may be loose in a zone shows; None if nothing is."""
    hypotheses = shortlist.hypotheses
    bench = hypotheses.field.bench
    loose = [
        f.place in ZONES[zone] and (f.comes_and_goes or f.form in POOR) for f in hypotheses.faults
    ]
    flags = np.array([*loose, False])
    share = shortlist.share * flags[hypotheses.first[shortlist.number]]
    best, most = None, 0.0
    for number, command in enumerate(bench.commands):
        if command.key not in NOT_HELD:
            shown = float(share @ shown_under(hypotheses, number)[shortlist.number])
            if shown > most + 1e-9:
                best, most = number, shown
    return best


def _drags(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    """Whether the brakes hold with everything off: a switch or an output that is stuck on."""
    bench = shortlist.hypotheses.field.bench
    is_done = any(each.command == "rest" and "brake" in each.place.name for each in seen)
    if is_done or not any(load.kind == "brake" for load in bench.wiring.loads):
        return
    place = Place(PlaceKind.GROUP, "brakes")
    each = [Observation("rest", place, Quantity.SEEN, word=w) for w in (Word.LOCKED, Word.OFF)]
    chances = [chance_of(shortlist.hypotheses, one) for one in each]
    if any(chance is None for chance in chances):
        return
    outcomes = np.stack([c[shortlist.number] for c in chances if c is not None], axis=1)
    yield Asked(
        "drag",
        "Everything off, trailer plugged in: does it roll freely, or do the brakes drag?",
        "rest",
        DRAG_MIN,
        (),
        outcomes / outcomes.sum(axis=1, keepdims=True),
        (("the brakes drag", (each[0],)), ("it rolls freely", (each[1],))),
        "On level ground, with somebody at the brake of the tow vehicle.",
    )
