"""What a sound rig shows under a command: what a repair is tested against."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.trace.eye import BASIC

if TYPE_CHECKING:
    from loomwright.trace.engine import Trace

KINDS = ("lamp", "vehicle lamp")


def right_seen(trace: Trace, command: str) -> tuple[Observation, ...]:
    """Return what is seen of every lamp of a sound rig under a command.

    Parameters
    ----------
    trace : Trace
        The rig, solved.
    command : str
        Key of the command; nothing is seen under one that the rig does not have.
    """
    from loomwright.trace.shortlist import shortlist_of, words_shown

    shortlist = shortlist_of(trace.believe(()), trace.groups)
    bench = shortlist.hypotheses.field.bench
    if not bench.has(command):
        return ()
    words = words_shown(shortlist)[0, bench.number(command)]
    return tuple(
        Observation(
            command, Place(PlaceKind.LOAD, load.name), Quantity.SEEN, word=BASIC[int(words[n])]
        )
        for n, load in enumerate(bench.wiring.loads)
        if load.kind in KINDS
    )
