"""Two faults at once: solved in the background, with progress, and stopped when asked."""

import numpy as np
import pytest
from tests.rigs import small_rig
from tests.trace.small import SHARED, seen

from loomwright import examples, read_rig
from loomwright.circuit import Cancelled
from loomwright.circuit.faults import Resisted
from loomwright.circuit.study import Study
from loomwright.observations.word import Word
from loomwright.trace.bench import Bench, make_bench
from loomwright.trace.engine import Trace
from loomwright.trace.pairs import pair_hypotheses
from loomwright.trace.seen import words_for
from loomwright.trace.silence import points_of_faults, silent_beside
from loomwright.trace.solved import solve_field


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
    """On the demo rig, a sample: each pair as both changes in one circuit, solved anew.

    Where one of the two does nothing beside the other, its answer is not solved but copied; the
    volts must agree to what is kept of them, and the same words must be said.
    """
    trace = Trace([(read_rig(examples.text("horse-trailer-van")), 1.0)])
    pairs = pair_hypotheses(trace.singles[0], 1200, executor="arrays").field
    picked = np.arange(1, len(pairs.changes), 16)

    together = solve_field(pairs.bench, [(), *(pairs.changes[n] for n in picked)], every=True)

    assert all(len(pairs.changes[n]) == 2 for n in picked)
    assert np.allclose(pairs.volts[picked], together.volts[1:], rtol=0, atol=2e-6)
    assert np.allclose(pairs.pins[picked], together.pins[1:], rtol=0, atol=2e-6)
    assert (pairs.opened[picked] == together.opened[1:]).all()
    for command, load in np.ndindex(together.volts.shape[1:]):
        if pairs.bench.wiring.loads[load].kind == "lamp":
            said = words_for(pairs, load, command).argmax(axis=1)
            assert (said[picked] == words_for(together, load, command).argmax(axis=1)[1:]).all()


def test_what_does_nothing_reads_as_the_sound_rig() -> None:
    """Every fault of the demo rig under every command, with and without the shortcut."""
    singles = Trace([(read_rig(examples.text("horse-trailer-van")), 1.0)]).singles[0].field

    full = solve_field(singles.bench, singles.changes, every=True)

    assert np.allclose(singles.volts, full.volts, rtol=0, atol=2e-6)
    assert np.allclose(singles.pins, full.pins, rtol=0, atol=2e-6)
    assert np.allclose(singles.drops, full.drops, rtol=0, atol=2e-6)
    assert np.allclose(singles.light, full.light, rtol=0, atol=2e-6)
    assert np.allclose(singles.controller_a, full.controller_a, rtol=0, atol=2e-4)
    assert (singles.opened == full.opened).all()


def test_the_first_variant_of_pairs_is_the_sound_rig() -> None:
    trace = Trace([(small_rig(SHARED), 1.0)])
    pairs = pair_hypotheses(trace.singles[0], 40).field
    alone = trace.singles[0].field

    assert pairs.changes[0] == alone.changes[0] == ()
    assert np.allclose(pairs.volts[0], alone.volts[0], rtol=0, atol=2e-6)
    assert np.allclose(pairs.light[0], alone.light[0], atol=1e-6)


def test_a_fault_in_a_dead_wire_is_silent_and_one_in_a_live_wire_is_not() -> None:
    """With the park lamps on, more resistance in the left signal's wire carries nothing.

    By Ohm's law alone: no current, no drop; and the tail wire carries the tail lamps' current.
    """
    bench = trace_bench()
    faults = (Resisted("feed_tail_wire", 1.0), Resisted("feed_reverse_wire", 1.0))
    study = Study(bench.wiring.network, bench.cases, faults)
    park = bench.number("park")
    felt = study.solve(study.fault_free(), points_of_faults(study.network, faults)).voltages_v
    silent = silent_beside(study.plan.elements[park], faults, felt[[park]])

    assert silent.tolist() == [[False, True]]


def trace_bench() -> Bench:
    return make_bench(read_rig(examples.text("horse-trailer-van")))


def test_two_faults_share_their_belief_between_their_groups() -> None:
    trace = Trace([(small_rig(SHARED), 1.0)])
    trace.prepare_pairs(200)

    ranking = trace.rank([seen("park", "trailer lamps", Word.OFF)], explained=0)

    total = sum(g.probability for g in ranking.groups) + ranking.none + ranking.normal
    assert total == pytest.approx(1.0)
    assert 0.0 < ranking.two < 1.0
