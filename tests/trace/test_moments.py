"""What comes and goes: seen at one moment for all lamps alike, found by moving it, or at rest."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from tests.trace.small import LEFT, LEFT_TAIL, RIGHT, SHARED, number_of, seen, small_trace

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.evidence import chance_of
from loomwright.trace.moments import RATES, log_chance
from loomwright.trace.moving import CHANGES, ZONES, moved_place
from loomwright.trace.reasons import said_of

DARK_ONCE = (
    seen("left", LEFT, Word.OFF, PlaceKind.LOAD),
    seen("brake_pedal", LEFT, Word.NORMAL, PlaceKind.LOAD),
    seen("park+brake_pedal", LEFT, Word.OFF, PlaceKind.LOAD),
)


def forms(told: tuple[Observation, ...]) -> list[str]:
    return [group.form for group in small_trace(SHARED).rank(told, explained=0).groups[:5]]


def test_a_lamp_that_is_dark_at_one_look_and_lit_at_the_next_is_loose() -> None:
    """By the words alone: no steady fault lights the same filament under one command only."""
    assert set(forms(DARK_ONCE)) == {"intermittent_open"}


def test_the_lamps_of_one_moment_are_dark_together_or_not_at_all() -> None:
    """A plug half out: both lamps dark at one look go with it, one dark and one lit do not."""
    trace = small_trace(SHARED)
    hypotheses = trace.singles[0]
    one = next(
        n
        for n, fault in enumerate(hypotheses.faults, start=1)
        if (fault.place, fault.form) == ("coupling", "intermittent_open") and fault.circuit == "all"
    )
    dark = [seen("brake_pedal", name, Word.OFF, PlaceKind.LOAD) for name in (LEFT, RIGHT)]
    half = [dark[0], seen("brake_pedal", RIGHT, Word.NORMAL, PlaceKind.LOAD)]

    together, apart = (log_chance(hypotheses, each)[one] for each in (dark, half))
    each_alone = sum(float(np.log(np.asarray(chance_of(hypotheses, o))[one])) for o in dark)

    assert together > each_alone
    assert apart < together - 1.0


def test_mixing_by_moment_is_the_sum_over_what_may_have_been_there() -> None:
    """Against brute force: every pattern of there and gone over three looks, at every rate."""
    hypotheses = small_trace(SHARED).singles[0]
    loose = np.flatnonzero(hypotheses.loose & ~hypotheses.stays)
    there = np.stack([np.asarray(chance_of(hypotheses.if_there, o)) for o in DARK_ONCE])
    gone = there[:, [0]]
    total = np.zeros(len(hypotheses))
    for rate, weight in RATES:
        for pattern in itertools.product((True, False), repeat=3):
            is_there = np.array(pattern)[:, None]
            chance = np.where(is_there, rate * there, (1.0 - rate) * gone)
            total += weight * chance.prod(axis=0)

    found = np.exp(log_chance(hypotheses, DARK_ONCE))

    assert found[loose] == pytest.approx(total[loose], rel=1e-9)
    assert sum(weight for _, weight in RATES) == pytest.approx(1.0)


def test_a_short_that_blew_its_fuse_is_seen_as_that_from_then_on() -> None:
    """With the tail lamps dark at every look, a chafe now and then is not ruled down to chance."""
    hypotheses = small_trace(SHARED).singles[0]
    short = next(
        n
        for n, fault in enumerate(hypotheses.faults, start=1)
        if fault.form == "intermittent_short" and fault.circuit == "tail" and hypotheses.stays[n]
    )
    dark = [
        seen(key, LEFT_TAIL, Word.OFF, PlaceKind.LOAD)
        for key in ("park", "park+left", "park+brake_pedal")
    ]

    assert np.exp(log_chance(hypotheses, dark)[short]) > 0.5


def test_told_twice_of_one_place_is_two_moments_in_any_order() -> None:
    hypotheses = small_trace(SHARED).singles[0]
    twice = [
        seen("left", LEFT, Word.OFF, PlaceKind.LOAD),
        seen("left", LEFT, Word.FLASHING, PlaceKind.LOAD),
        seen("left", LEFT_TAIL, Word.OFF, PlaceKind.LOAD),
    ]

    orders = [log_chance(hypotheses, order) for order in itertools.permutations(twice)]

    assert all(order == pytest.approx(orders[0]) for order in orders)


def test_a_wiggle_test_is_asked_for_when_something_loose_has_weight() -> None:
    trace = small_trace(SHARED)
    ranking = trace.rank(DARK_ONCE, explained=0)

    questions = {q.key: q for q in trace.advise(ranking, shown=50).questions}

    assert {o.says for o in questions["moved_plug_and_cord"].outcomes} == {
        "it changes",
        "nothing changes",
    }
    alone = trace.advise(ranking, tools=("eye",), shown=50).questions
    minutes = {q.key: q.minutes for q in alone}["moved_plug_and_cord"]
    assert minutes > questions["moved_plug_and_cord"].minutes


def test_what_changes_when_the_plug_is_moved_is_at_the_plug() -> None:
    trace = small_trace(SHARED)
    moved = Observation(
        "left", moved_place("plug and cord"), Quantity.SEEN, word=Word.COMES_AND_GOES
    )
    still = Observation("left", moved_place("plug and cord"), Quantity.SEEN, word=Word.NORMAL)

    shares = {
        name: sum(
            group.probability
            for group in trace.rank((*DARK_ONCE, told), explained=0).groups
            if group.place in ZONES["plug and cord"]
        )
        for name, told in (("moved", moved), ("still", still))
    }

    assert shares["moved"] > 0.8
    assert shares["still"] < 0.4
    assert said_of(moved) == "left: plug and cord moved, it changes"
    assert said_of(still) == "left: plug and cord moved, nothing changes"


def test_moving_tells_nothing_of_what_is_not_shown_under_that_command() -> None:
    """With the park lamps on, a loose left signal wire disturbs no lamp, moved or not."""
    hypotheses = small_trace(SHARED).singles[0]
    screw = 1 + number_of(hypotheses, "trailer_plug_terminal_screw_of_plug_pin_3_left_intermittent")
    chances = {}
    for key in ("park", "left"):
        moved = Observation(
            key, moved_place("plug and cord"), Quantity.SEEN, word=Word.COMES_AND_GOES
        )
        chances[key] = float(np.asarray(chance_of(hypotheses, moved))[screw])

    assert chances["left"] == CHANGES["loose", True]
    assert chances["park"] < 0.05


def test_a_place_that_cannot_be_moved_says_nothing() -> None:
    hypotheses = small_trace(SHARED).singles[0]
    place = Place(PlaceKind.HISTORY, "roof rack moved")

    odd = Observation("park", place, Quantity.SEEN, word=Word.COMES_AND_GOES)

    assert chance_of(hypotheses, odd) is None
