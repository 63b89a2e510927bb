"""A bad common ground, both ways of feeding: what is seen, and that the check says so.

The table was worked out with an idealised model of its own: two rear lamps of two filaments (2.1 A
and 0.59 A), four small markers, 12.8 V, and no resistance but that of the ground. Common practice;
not measured. "Shared": vehicle lamps on the same wires offer a way home; "module": they do not.
"""

from __future__ import annotations

import math
from functools import cache

import pytest
from tests.lightcheck.person import person
from tests.rigs import small_rig

from loomwright.circuit import Case
from loomwright.lightcheck.bench import Held
from loomwright.lightcheck.judging import judge_all
from loomwright.lightcheck.model import Answer, Plan, Standing
from loomwright.lightcheck.plan import checked_commands, plan_for
from loomwright.lightcheck.setting import Setting
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import SocketFeed

SHARED, MODULE = SocketFeed.SHARED, SocketFeed.MODULE
TESTERS, SETTING = "trailer+meter", Setting("running", battery_v=12.8)
LEFT, RIGHT = "left rear left stop turn", "right rear right stop turn"
LEFT_TAIL, RIGHT_TAIL, MARKER = "left rear tail", "right rear tail", "marker 1 tail"
GROUND = "lead_wire_rear_4_way_ground"
LIT = {Word.NORMAL, Word.DIM}
FAINT = {Word.GLOW, Word.OFF}
FLASHING = {Word.FLASHING, Word.FLASHING_DIM}


@cache
@cache
def plan_of(socket_feed: SocketFeed) -> Plan:
    return plan_for(small_rig(socket_feed), TESTERS, setting=SETTING)


@cache
def checked(socket_feed: SocketFeed, ohm: float) -> tuple[Answer, ...]:
    """The whole check with so much resistance in the ground of the socket's own wire."""
    wrong = Case(resistance_ohm={GROUND: ohm})
    seen = person(small_rig(socket_feed), TESTERS, wrong, SETTING).says(plan_of(socket_feed))
    return judge_all(plan_of(socket_feed), seen)


def answer(answers: tuple[Answer, ...], command: str, name: str) -> Answer:
    return next(
        each
        for each in answers
        if each.expectation.command == command and each.expectation.place.name == name
    )


@pytest.mark.parametrize(
    ("socket_feed", "ohm", "command", "name", "words"),
    [
        (MODULE, 0.3, "park", LEFT_TAIL, LIT),  # looks normal, 12.0 V
        (MODULE, 1.0, "brake_pedal", LEFT, {Word.DIM}),  # dim, 9.0 V
        (SHARED, 1.0, "brake_pedal", LEFT, {Word.DIM}),  # dim, 9.4 V
        (MODULE, 3.0, "park", LEFT_TAIL, {Word.DIM}),  # dim, 7.7 V
        (SHARED, 3.0, "park+brake_pedal", LEFT, FAINT),  # practically out, 3 V
        (MODULE, 3.0, "park+brake_pedal", LEFT, FAINT),
        (MODULE, 3.0, "park+left", LEFT_TAIL, {Word.FLASHING_DIM}),  # 7.7 V dips to 4.7 V
        (SHARED, 3.0, "park+left", RIGHT, {Word.GLOW, *FLASHING}),  # the other stop lamp glows
        (SHARED, math.inf, "park", LEFT_TAIL, LIT),  # fairly bright, 9.9 V
        (SHARED, math.inf, "brake_pedal", LEFT, {Word.OFF}),  # stop lamps off
        (SHARED, math.inf, "brake_pedal", RIGHT, {Word.OFF}),
        (SHARED, math.inf, "park+left", RIGHT, FLASHING),  # the other side lights and flashes
        (SHARED, math.inf, "park+brake_pedal", LEFT, FAINT),  # everything off
        (SHARED, math.inf, "park+brake_pedal", LEFT_TAIL, FAINT),
        *((MODULE, math.inf, c, n, {Word.OFF}) for c, n in (
            ("park", LEFT_TAIL), ("left", LEFT), ("brake_pedal", RIGHT),
            ("park+left", RIGHT), ("park+brake_pedal", MARKER),
        )),
    ],
)  # fmt: skip
def test_words_of_the_table(
    socket_feed: SocketFeed, ohm: float, command: str, name: str, words: set[Word]
) -> None:
    seen = answer(checked(socket_feed, ohm), command, name).observation
    assert seen is not None
    assert seen.word in words


@pytest.mark.parametrize(
    ("socket_feed", "ohm", "command", "volts"),
    [
        (MODULE, 0.3, "park+brake_pedal", 1.7),
        (SHARED, 0.3, "park+brake_pedal", 1.7),
        (MODULE, 1.0, "park+brake_pedal", 5.0),
        (SHARED, 3.0, "park+brake_pedal", 9.6),
        (MODULE, math.inf, "park+brake_pedal", 12.8),
        (SHARED, math.inf, "park+brake_pedal", 12.5),
    ],
)
def test_the_drop_of_the_table_is_read_and_called_wrong(
    socket_feed: SocketFeed, ohm: float, command: str, volts: float
) -> None:
    """The eye does not see 0.3 ohm, the meter does: 1.7 V under the heaviest command.

    The table has no wires; those of this rig take a little, so it is met within 0.6 V.
    """
    found = next(
        each
        for each in checked(socket_feed, ohm)
        if each.expectation.command == command and each.expectation.place.kind is PlaceKind.RETURN
    )
    assert found.observation is not None
    assert found.observation.value == pytest.approx(volts, abs=0.6)
    assert found.standing is Standing.WRONG
    assert "ground" in found.says


@pytest.mark.parametrize("name", [LEFT_TAIL, RIGHT_TAIL, MARKER])
def test_current_goes_home_the_wrong_way_through_the_tail_lamps(name: str) -> None:
    """Ground open, vehicle lamps on the same wires, pedal held: tails and markers run backwards."""
    rig = small_rig(SHARED)
    seen = person(rig, TESTERS, Case(resistance_ohm={GROUND: math.inf}), SETTING)
    pedal = next(each for each in checked_commands(rig) if each.key == "brake_pedal")
    load = next(each for each in seen.bench.wiring.loads if each.name == name)

    assert seen.across(Held(pedal), load.a, load.b) < -1.0


@pytest.mark.parametrize("socket_feed", [SHARED, MODULE])
@pytest.mark.parametrize("ohm", [1.0, 3.0, math.inf])
def test_a_bad_ground_is_named(socket_feed: SocketFeed, ohm: float) -> None:
    wrong = [each for each in checked(socket_feed, ohm) if each.standing is Standing.WRONG]

    assert len(wrong) >= 6
    named = [each for each in wrong if "ground" in each.says]
    assert len(named) > len(wrong) / 2


@pytest.mark.parametrize("socket_feed", [SHARED, MODULE])
def test_a_sound_ground_is_not(socket_feed: SocketFeed) -> None:
    seen = person(small_rig(socket_feed), TESTERS, setting=SETTING).says(plan_of(socket_feed))
    answers = judge_all(plan_of(socket_feed), seen)

    assert {each.standing for each in answers} <= {Standing.RIGHT, Standing.DOUBTFUL}
