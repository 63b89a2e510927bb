"""Laws of belief and of the simulation behind it: they hold whatever the tables say."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.trace.small import MODULE, SHARED, seen, small_trace

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import LIGHT, Word
from loomwright.rig.model import SocketFeed
from loomwright.trace.belief import Belief
from loomwright.trace.model import Ranking

COMMANDS = ("", "park", "left", "right", "brake_pedal", "park+left", "park+brake_pedal")
PLACES = ("trailer lamps", "left rear", "right rear tail", "markers", "stop lamps", "vehicle lamps")

WORDS = st.builds(seen, st.sampled_from(COMMANDS), st.sampled_from(PLACES), st.sampled_from(LIGHT))
VOLTS = st.builds(
    lambda command, pin, volts: Observation(
        command,
        Place(PlaceKind.PIN, "rear", pin),
        Quantity.VOLTS,
        value=volts,
        tester="meter",
    ),
    st.sampled_from(COMMANDS[1:]),
    st.sampled_from(["2", "3", "4"]),
    st.floats(-20.0, 20.0),
)
BESIDES = st.sampled_from(
    [
        seen("", "other vehicle", Word.WORKS, PlaceKind.ELSEWHERE),
        seen("", "bench supply", Word.FAILS, PlaceKind.ELSEWHERE),
        seen("", "rain", Word.ON, PlaceKind.HISTORY),
        seen("", "tail", Word.BLOWN, PlaceKind.FUSE),
        seen("left", "plug and cord moved", Word.COMES_AND_GOES, PlaceKind.HISTORY),
    ]
)
OBSERVATIONS = st.lists(WORDS | VOLTS | BESIDES, max_size=8)


def shares(belief: Belief) -> np.ndarray:
    return np.concatenate([*belief.shares, [belief.none]])


@settings(max_examples=60, deadline=None)
@given(observations=OBSERVATIONS)
def test_probabilities_sum_to_one_and_none_is_lost(observations: list[Observation]) -> None:
    """Contradictions lower belief; they never make it vanish or stop being a number."""
    belief = small_trace(SHARED).believe(observations)

    assert shares(belief).sum() == pytest.approx(1.0, abs=1e-9)
    assert np.isfinite(shares(belief)).all()
    assert (shares(belief) >= 0.0).all()


@settings(max_examples=40, deadline=None)
@given(observations=OBSERVATIONS, seed=st.integers(0, 1000))
def test_the_order_of_observations_does_not_matter(
    observations: list[Observation], seed: int
) -> None:
    other = [observations[n] for n in np.random.default_rng(seed).permutation(len(observations))]
    trace = small_trace(SHARED)

    assert shares(trace.believe(other)) == pytest.approx(
        shares(trace.believe(observations)), rel=1e-9, abs=1e-15
    )


@settings(max_examples=30, deadline=None)
@given(observations=OBSERVATIONS)
def test_what_all_hypotheses_explain_alike_changes_nothing(
    observations: list[Observation],
) -> None:
    """The vehicle's own tail lamps hang on wires of their own, and no fault here touches them."""
    trace = small_trace(MODULE)
    alike = seen("park", "vehicle tail lamps", Word.NORMAL)

    assert shares(trace.believe([*observations, alike])) == pytest.approx(
        shares(trace.believe(observations)), rel=1e-9, abs=1e-15
    )


def test_what_was_not_seen_and_what_the_rig_lacks_change_nothing() -> None:
    trace = small_trace(SHARED)
    unseen = seen("park", "left rear", Word.NOT_SEEN)
    missing = seen("brake_lever", "brakes", Word.WEAK)

    ranking = trace.rank([unseen, missing], explained=0)

    assert set(ranking.unread) == {unseen, missing}
    assert shares(trace.believe([unseen, missing])) == pytest.approx(shares(trace.believe([])))


def test_saying_the_same_twice_is_saying_it_once() -> None:
    trace, said = small_trace(SHARED), seen("park", "left rear tail", Word.OFF)

    assert shares(trace.believe([said, said])) == pytest.approx(shares(trace.believe([said])))


def everything(ranking: Ranking) -> float:
    return sum(g.probability for g in ranking.groups) + ranking.none + ranking.normal


@pytest.mark.parametrize("feed", [SHARED, MODULE])
def test_groups_sides_and_places_sum_up_with_none_and_normal(feed: SocketFeed) -> None:
    ranking = small_trace(feed).rank([seen("left", "left rear", Word.OFF)], explained=0)

    assert everything(ranking) == pytest.approx(1.0)
    for table in (ranking.by_side, ranking.by_place):
        assert sum(table.values()) + ranking.none + ranking.normal == pytest.approx(1.0)


def test_contradictions_leave_room_for_none_of_these() -> None:
    """A lamp that is dark, normal, bright and flashing at once is no fault of any kind here."""
    trace = small_trace(SHARED)
    words = (Word.OFF, Word.NORMAL, Word.BRIGHT, Word.FLASHING, Word.GLOW)
    places = ("left rear tail", "right rear tail", "markers", "left rear stop", "right rear stop")
    told = [seen("park", place, word) for place in places for word in words]

    before, after = trace.rank([], explained=0), trace.rank(told, explained=0)

    assert everything(after) == pytest.approx(1.0)
    assert after.none > before.none


def test_more_faults_never_leave_the_residual_limit() -> None:
    """Currents into every node balance to a nanoampere, with one fault and with two."""
    from tests.rigs import small_rig

    from loomwright.trace.engine import Trace

    trace = Trace([(small_rig(SHARED), 1.0)])
    assert trace.residual_a < 1e-9
    trace.prepare_pairs(500)
    assert trace.has_pairs
    assert trace.residual_a < 1e-9
    belief = trace.believe([seen("park", "trailer lamps", Word.OFF)])
    assert shares(belief).sum() == pytest.approx(1.0, abs=1e-9)
