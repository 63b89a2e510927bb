"""A bad or open common ground in the words of technicians, socket shared or module-fed.

The table was worked out for this small rig with an idealised model of its own: two rear lamps
of two filaments (2.1 A and 0.59 A), four markers, 12.8 V, filament resistance that rises with
the voltage, and nothing else in the way. It was written down before this code and by other
means; where it says a little dim or slightly weak, normal and dim both fit.
"""

import pytest
from tests.trace.small import (
    LEFT,
    LEFT_TAIL,
    MARKER,
    MODULE,
    RIGHT,
    RIGHT_TAIL,
    SHARED,
    number_of,
    seen,
    shown,
    small_trace,
)

from loomwright.observations.word import Word
from loomwright.rig.model import SocketFeed
from loomwright.trace.seen import words_for

GROUND = "coupling_contact_of_plug_pin_1_ground_ground_"
SIZES = {0.3: "high_resistance_0_3_ohm", 1: "high_resistance_1_ohm", 3: "high_resistance_3_ohm"}
OPEN = 0
TAILS, STOPS = (LEFT_TAIL, RIGHT_TAIL, MARKER), (LEFT, RIGHT)

OFF, GLOW, DIM, NORMAL = {Word.OFF}, {Word.GLOW, Word.OFF}, {Word.DIM}, {Word.NORMAL}
WEAKISH = {Word.NORMAL, Word.DIM}
DIPPING = {Word.FLASHING, Word.FLASHING_DIM}


@pytest.mark.parametrize(
    ("feed", "ohm", "command", "lamps", "words"),
    [
        (SHARED, 0.3, "park", TAILS, NORMAL),
        (MODULE, 0.3, "park", TAILS, NORMAL),
        (SHARED, 0.3, "brake_pedal", STOPS, WEAKISH),
        (MODULE, 0.3, "brake_pedal", STOPS, WEAKISH),
        (SHARED, 0.3, "park+brake_pedal", (*TAILS, *STOPS), WEAKISH),
        (MODULE, 0.3, "park+brake_pedal", (*TAILS, *STOPS), WEAKISH),
        (SHARED, 1, "brake_pedal", STOPS, DIM),
        (MODULE, 1, "brake_pedal", STOPS, DIM),
        (SHARED, 1, "park+brake_pedal", (*TAILS, *STOPS), DIM),
        (MODULE, 1, "park+brake_pedal", (*TAILS, *STOPS), DIM),
        (SHARED, 3, "park", TAILS, WEAKISH),
        (MODULE, 3, "park", TAILS, DIM),
        (SHARED, 3, "park+brake_pedal", (*TAILS, *STOPS), GLOW),
        (MODULE, 3, "park+brake_pedal", (*TAILS, *STOPS), GLOW),
        (MODULE, 3, "park+left", TAILS, DIPPING),
        (SHARED, OPEN, "park", TAILS, WEAKISH),
        (MODULE, OPEN, "park", TAILS, OFF),
        (SHARED, OPEN, "left", (LEFT,), DIPPING),
        (SHARED, OPEN, "left", (*TAILS, RIGHT), OFF),
        (MODULE, OPEN, "left", (*TAILS, *STOPS), OFF),
        (SHARED, OPEN, "brake_pedal", STOPS, OFF),
        (MODULE, OPEN, "brake_pedal", (*TAILS, *STOPS), OFF),
        (SHARED, OPEN, "park+left", (LEFT,), OFF),
        (SHARED, OPEN, "park+left", (RIGHT,), DIPPING),
        (MODULE, OPEN, "park+left", (*TAILS, *STOPS), OFF),
        (SHARED, OPEN, "park+brake_pedal", (*TAILS, *STOPS), OFF),
        (MODULE, OPEN, "park+brake_pedal", (*TAILS, *STOPS), OFF),
    ],
)
def test_words_of_the_table(
    feed: SocketFeed, ohm: float, command: str, lamps: tuple[str, ...], words: set[Word]
) -> None:
    hypotheses = small_trace(feed).singles[0]
    fault = number_of(hypotheses, GROUND + SIZES.get(ohm, "open"))

    found = {lamp: shown(hypotheses, fault, command, lamp) for lamp in lamps}

    assert all(word in words for word in found.values()), found


def test_with_three_ohms_the_other_stop_lamp_may_glow() -> None:
    """Park and left, shared wires: all dim, and the other side's stop lamp glows, just so."""
    hypotheses = small_trace(SHARED).singles[0]
    bench = hypotheses.field.bench
    load = [each.name for each in bench.wiring.loads].index(RIGHT)
    words = words_for(hypotheses.field, load, bench.number("park+left"))
    bad = int(hypotheses.variant[number_of(hypotheses, GROUND + SIZES[3]) + 1])

    assert words[bad, 0] < 0.75
    assert words[0, 0] > 0.9


@pytest.mark.parametrize("feed", [SHARED, MODULE])
def test_one_open_lamp_ground_in_words(feed: SocketFeed) -> None:
    """Left lights at tail brightness, with the tails on it goes dark, the right is normal."""
    hypotheses = small_trace(feed).singles[0]
    fault = number_of(hypotheses, "trailer_ground_lamp_ground_wire_of_left_rear_lamp_ground_open")

    assert shown(hypotheses, fault, "park", LEFT_TAIL) is (
        Word.NORMAL if feed is SHARED else Word.OFF
    )
    assert shown(hypotheses, fault, "left", LEFT) is Word.OFF
    assert shown(hypotheses, fault, "left", LEFT_TAIL) is Word.FLASHING
    assert shown(hypotheses, fault, "park+left", LEFT) is Word.OFF
    assert shown(hypotheses, fault, "park+left", RIGHT_TAIL) is Word.NORMAL
    assert shown(hypotheses, fault, "right", RIGHT) is Word.FLASHING


@pytest.mark.parametrize(
    ("feed", "said"),
    [
        (
            SHARED,
            [
                ("park", "tail lamps", Word.DIM),
                ("left", "left rear stop", Word.FLASHING_DIM),
                ("brake_pedal", "stop lamps", Word.OFF),
                ("park+left", "right rear stop", Word.FLASHING_DIM),
                ("park+brake_pedal", "trailer lamps", Word.OFF),
            ],
        ),
        (
            MODULE,
            [
                ("park", "trailer lamps", Word.OFF),
                ("left", "trailer lamps", Word.OFF),
                ("brake_pedal", "trailer lamps", Word.OFF),
            ],
        ),
    ],
)
def test_an_open_common_ground_is_found_from_the_words_of_the_table(
    feed: SocketFeed, said: list[tuple[str, str, Word]]
) -> None:
    """Behind a module a plug that is out, or a module that is off, looks the same."""
    ranking = small_trace(feed).rank([seen(*each) for each in said], explained=0)

    grounds = sum(g.probability for g in ranking.groups if g.circuit == "ground")
    assert ranking.groups[0].circuit == "ground"
    assert grounds > (0.9 if feed is SHARED else 0.6)
