"""Two faults at once: solved in the background, with progress, and stopped when asked."""

import numpy as np
import pytest
from tests.rigs import small_rig
from tests.trace.small import SHARED, seen

from loomwright.circuit import Cancelled
from loomwright.observations.word import Word
from loomwright.trace.engine import Trace
from loomwright.trace.simulate import solve_field


def test_progress_counts_every_case_once_to_the_end() -> None:
    trace, told = Trace([(small_rig(SHARED), 1.0)]), list[tuple[int, int]]()

    trace.prepare_pairs(60, progress=lambda done, total: told.append((done, total)))

    done = [each for each, _ in told]
    assert done == sorted(done)
    assert told[-1][0] == told[-1][1] > 60
    assert trace.has_pairs


def test_it_stops_when_asked_and_nothing_is_changed() -> None:
    trace = Trace([(small_rig(SHARED), 1.0)])
    before = trace.rank([seen("park", "tail lamps", Word.OFF)], explained=0)

    with pytest.raises(Cancelled):
        trace.prepare_pairs(60, cancelled=lambda: True)

    assert not trace.has_pairs
    after = trace.rank([seen("park", "tail lamps", Word.OFF)], explained=0)
    assert after.groups[0].probability == before.groups[0].probability


def test_a_pair_reads_as_its_two_faults_put_in_together() -> None:
    """The pairs of the background are the same circuit as both changes in one set."""
    trace = Trace([(small_rig(SHARED), 1.0)])
    trace.prepare_pairs(40)
    pairs = trace.parts[1].hypotheses.field
    picked = [(), *pairs.changes[::8]]

    together = solve_field(pairs.bench, picked)

    for number, changes in enumerate(picked[1:], start=1):
        assert len(changes) == 2
        there = pairs.changes.index(changes)
        assert np.allclose(pairs.volts[there], together.volts[number], atol=1e-4)


def test_two_faults_share_their_belief_between_their_groups() -> None:
    trace = Trace([(small_rig(SHARED), 1.0)])
    trace.prepare_pairs(200)

    ranking = trace.rank([seen("park", "trailer lamps", Word.OFF)], explained=0)

    total = sum(g.probability for g in ranking.groups) + ranking.none + ranking.normal
    assert total == pytest.approx(1.0)
    assert 0.0 < ranking.two < 1.0
