"""The self test: seeded, small here, large in `benchmarks.trace_selftest`.

The floors are far below what the large runs give; they catch a broken engine, not a worse one.
"""

from __future__ import annotations

import numpy as np
import pytest

from loomwright.observations.word import Word
from loomwright.reference.fault_kinds import fault_forms, fault_kinds
from loomwright.trace.engine import Trace
from loomwright.trace.selftest import (
    SelfTest,
    alike_on,
    draw_faults,
    self_test,
    shows,
    walk_that_shows,
    was_there,
)
from loomwright.trace.selftest_measure import CHECKLIST, hunts
from loomwright.trace.selftest_person import Person
from loomwright.trace.selftest_watched import FORMS, watched
from loomwright.trace.typical import rigs_for


@pytest.fixture(scope="module")
def small() -> SelfTest:
    return self_test(rigs=2, faults=20, seed=11)


def test_most_faults_are_found_as_far_as_lamps_can_tell(small: SelfTest) -> None:
    assert len(small.found) == 40
    assert small.share("alike", 1) > 0.6
    assert small.share("alike", 3) > 0.75
    assert small.share("side", 1) > 0.6


def test_looser_questions_are_answered_at_least_as_often(small: SelfTest) -> None:
    for first in (1, 3, 5):
        assert small.share("part", first) <= small.share("alike", first)
        assert small.share("alike", first) <= small.share("alike", first + 1)


def test_belief_and_share_go_together(small: SelfTest) -> None:
    """Of what is believed at nine in ten, most is right; over all, belief is within a quarter."""
    sure = [each.right_alike for each in small.found if each.believed_alike > 0.9]

    assert np.mean(sure) > 0.75
    assert small.miscalibration() < 0.25


def test_the_same_seed_gives_the_same_test() -> None:
    assert self_test(1, 4, 5).found == self_test(1, 4, 5).found


def test_a_sound_rig_is_mostly_told_as_sound() -> None:
    """A person errs in some words, not in most."""
    trace = Trace(((rigs_for({"connector": "4-flat", "lamps": "filament"})[0].rig, 1.0),))
    (hypotheses,) = trace.singles
    told = list(Person(np.random.default_rng(3)).walks_round(hypotheses, 0).told)
    lit = [each for each in told if each.word in (Word.NORMAL, Word.FLASHING, Word.OFF)]

    assert len(lit) / len(told) > 0.75


def test_only_faults_that_show_are_drawn() -> None:
    trace = Trace(((rigs_for({"connector": "4-flat"})[0].rig, 1.0),))
    (hypotheses,) = trace.singles
    drawn = draw_faults(trace, 40, np.random.default_rng(1))

    assert all(hypotheses.first[number] >= 0 for number in drawn)
    assert all(hypotheses.variant[number] != 0 for number in drawn)


def test_the_checklist_names_places_there_are() -> None:
    assert set(CHECKLIST) <= {row.place for row in (*fault_kinds(), *fault_forms())}
    assert len(set(CHECKLIST)) == len(CHECKLIST)


@pytest.mark.slow
def test_asking_finds_more_of_what_comes_and_goes_than_the_walk_does() -> None:
    found = watched(rigs=1, faults=2, seed=5)
    before, after = (
        np.mean([getattr(each, rank) <= 3 for each in found])
        for rank in ("rank_before", "rank_after")
    )

    assert {each.form for each in found} <= set(FORMS)
    assert after >= before
    assert after > 0.6


def test_a_fault_that_comes_and_goes_is_seen_on_the_walk_that_is_judged() -> None:
    trace = Trace(((rigs_for({"connector": "4-flat"})[0].rig, 1.0),))
    (hypotheses,) = trace.singles
    chance = np.random.default_rng(4)
    loose = np.flatnonzero(hypotheses.loose & shows(hypotheses))

    for truth in loose[:6].tolist():
        walk = walk_that_shows(hypotheses, truth, chance)

        assert was_there(hypotheses, walk)
        assert alike_on(hypotheses, walk, truth)[truth]


@pytest.mark.slow
def test_asking_takes_fewer_measurements_than_fixed_orders() -> None:
    found = hunts(rigs=1, faults=6, seed=2)

    assert found
    assert np.mean([each.right for each in found]) >= 0.5
    assert np.mean([each.asked for each in found]) <= np.mean([each.halves for each in found]) + 1
