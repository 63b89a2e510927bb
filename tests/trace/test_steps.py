"""The next step: tells much, costs little, splits the sides, and ends in a repair."""

import pytest
from tests.trace.small import LEFT, MODULE, SHARED, seen, small_trace

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.efforts import AT_HAND

TAILS_DARK = seen("park", "tail lamps", Word.OFF)


def test_questions_come_in_the_order_of_information_for_effort() -> None:
    trace = small_trace(SHARED)

    advice = trace.advise(trace.rank([TAILS_DARK], explained=0), shown=50)

    rates = [question.bit_per_minute for question in advice.questions]
    assert rates == sorted(rates, reverse=True)
    assert all(question.information_bit > 0.0 for question in advice.questions)
    assert advice.repair is None


def test_what_each_answer_means_is_said_and_answers_sum_to_one() -> None:
    trace = small_trace(SHARED)

    for question in trace.advise(trace.rank([TAILS_DARK], explained=0), shown=50).questions:
        assert sum(o.probability for o in question.outcomes) == pytest.approx(1.0, abs=0.15)
        assert all(outcome.says and outcome.means for outcome in question.outcomes)


def test_information_is_never_more_than_there_is_to_know() -> None:
    """An answer with n outcomes tells at most log2 n bit (Shannon 1948)."""
    from math import log2

    trace = small_trace(SHARED)

    for question in trace.advise(trace.rank([TAILS_DARK], explained=0), shown=50).questions:
        assert question.information_bit <= log2(max(len(question.outcomes), 2)) + 0.3


def test_vehicle_and_trailer_can_be_split_first() -> None:
    """The two quickest recipes: a second vehicle, or a load box (common practice)."""
    trace = small_trace(SHARED)

    questions = trace.advise(
        trace.rank([TAILS_DARK], explained=0), tools=(*AT_HAND, "load box"), shown=50
    ).questions

    splits = {q.key: q for q in questions if q.key in ("other vehicle", "load box")}
    assert set(splits) == {"other vehicle", "load box"}
    assert "trailer" in splits["load box"].outcomes[0].means[0] or (
        "vehicle" in splits["load box"].outcomes[0].means[0]
    )
    assert splits["load box"].bit_per_minute > splits["other vehicle"].bit_per_minute


def test_a_tool_that_is_not_there_is_not_asked_for() -> None:
    trace = small_trace(SHARED)

    questions = trace.advise(
        trace.rank([TAILS_DARK], explained=0), tools=("eye",), shown=50
    ).questions

    assert questions
    assert not {need for q in questions for need in q.needs} & {"meter", "other vehicle"}


def test_what_is_known_is_not_asked_again() -> None:
    trace = small_trace(SHARED)
    blown = seen("", "feed_tail_fuse", Word.WHOLE, PlaceKind.FUSE)

    questions = trace.advise(trace.rank([TAILS_DARK, blown], explained=0), shown=50).questions

    assert "fuse_feed_tail_fuse" not in {question.key for question in questions}


def test_it_stops_when_the_cause_is_sure_and_says_repair_and_retest() -> None:
    trace = small_trace(SHARED)
    told = [
        seen("left", "left rear stop", Word.OFF),
        seen("brake_pedal", "left rear stop", Word.OFF),
        seen("park", "left rear tail", Word.NORMAL),
        seen("park+left", "left rear tail", Word.NORMAL),
        seen("left", "left rear tail", Word.OFF),
        Observation(
            "left", Place(PlaceKind.LOAD, LEFT), Quantity.VOLTS, value=12.4, tester="meter"
        ),
    ]

    advice = trace.advise(trace.rank(told, explained=0))

    assert advice.repair is not None
    assert advice.repair.place == "trailer.lamp.bulb"
    assert any("left signal" in each for each in advice.retest)
    assert "light check" in advice.retest[-1]
    assert "Two faults" in advice.watch


@pytest.mark.parametrize("circuit", ["tail", "left"])
def test_asking_on_finds_a_hidden_fault_in_few_steps(circuit: str) -> None:
    """The answers come from the simulation of a broken cord conductor; each step asks the best.

    A question without an observation to give back (look, or across a part) is skipped here.
    """
    trace = small_trace(MODULE)
    hypotheses = trace.singles[0]
    hidden = next(
        n
        for n, f in enumerate(hypotheses.faults)
        if f.place == "trailer.cord" and f.form == "open" and f.circuit == circuit
    )
    told = [seen("park", "tail lamps", Word.OFF if circuit == "tail" else Word.NORMAL)]
    told.append(seen("left", "left rear stop", Word.OFF if circuit == "left" else Word.FLASHING))
    from loomwright.trace.evidence import chance_of

    for _ in range(8):
        advice = trace.advise(trace.rank(told, explained=0), shown=50)
        asked = [q for q in advice.questions if all(o.observation for o in q.outcomes)]
        if not asked:
            break
        answers = [o.observation for o in asked[0].outcomes if o.observation is not None]
        chances = [chance_of(hypotheses, each) for each in answers]
        best = max(
            range(len(answers)),
            key=lambda n: 0.0 if chances[n] is None else float(chances[n][hidden + 1]),
        )
        told.append(answers[best])

    ranking = trace.rank(told, explained=0)
    assert ranking.groups[0].circuit == circuit
    rank = [g.place for g in ranking.groups if g.form == "open"].index("trailer.cord")
    assert rank < 6
