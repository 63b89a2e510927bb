"""The small rig of the worked table of bad grounds, and words for it, for every test of trace."""

from functools import cache

from tests.rigs import small_rig

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import SocketFeed
from loomwright.trace.engine import Trace
from loomwright.trace.expecting import likely_word
from loomwright.trace.hypotheses import Hypotheses

SHARED, MODULE = SocketFeed.SHARED, SocketFeed.MODULE
LEFT, RIGHT = "left rear left stop turn", "right rear right stop turn"
LEFT_TAIL, RIGHT_TAIL, MARKER = "left rear tail", "right rear tail", "marker 1 tail"


@cache
def small_trace(socket_feed: SocketFeed) -> Trace:
    return Trace([(small_rig(socket_feed), 1.0)])


def seen(command: str, place: str, word: Word, kind: PlaceKind = PlaceKind.GROUP) -> Observation:
    return Observation(command, Place(kind, place), Quantity.SEEN, word=word)


def number_of(hypotheses: Hypotheses, key: str) -> int:
    """Number of the fault whose key begins so."""
    found = [n for n, fault in enumerate(hypotheses.faults) if fault.key.startswith(key)]
    assert len(found) == 1, (key, [hypotheses.faults[n].key for n in found])
    return found[0]


def shown(hypotheses: Hypotheses, fault: int, command: str, load: str) -> Word:
    """The likeliest word for a lamp with a fault in the rig."""
    bench = hypotheses.field.bench
    loads = [each.name for each in bench.wiring.loads]
    variant = int(hypotheses.variant[fault + 1])
    return Word(likely_word(hypotheses, loads.index(load), bench.number(command), variant))
