"""The next step: tells much, costs little, splits the sides, and ends in a repair."""

import numpy as np
import pytest
from tests.trace.small import LEFT, MODULE, SHARED, seen, small_trace

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.efforts import AT_HAND
from loomwright.trace.evidence import chance_of
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import Outcome, Question

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


def answered(hypotheses: Hypotheses, hidden: int, question: Question) -> Outcome:
    """The answer that the hidden fault would most likely give."""

    def fit(outcome: Outcome) -> float:
        chances = [chance_of(hypotheses, each) for each in outcome.observations]
        known = [float(np.log(each[hidden + 1])) for each in chances if each is not None]
        return sum(known) / len(known) if known else -99.0

    return max(question.outcomes, key=fit)


@pytest.mark.parametrize(
    ("circuit", "place"), [("tail", "trailer.cord"), ("left", "coupling"), ("ground", "coupling")]
)
def test_asking_on_finds_a_hidden_fault_in_few_steps(circuit: str, place: str) -> None:
    """A broken conductor: the answers come from its simulation, each step asks what is best."""
    trace = small_trace(MODULE)
    hypotheses = trace.singles[0]
    hidden = next(
        n
        for n, f in enumerate(hypotheses.faults)
        if (f.place, f.form, f.circuit) == (place, "open", circuit)
    )
    told: list[Observation] = []
    for _ in range(6):
        advice = trace.advise(trace.rank(told, explained=0))
        if advice.repair is not None or not advice.questions:
            break
        told.extend(answered(hypotheses, hidden, advice.questions[0]).observations)

    ranking = trace.rank(told, explained=0)
    assert ranking.groups[0].circuit in (circuit, "all")
    places = [g.place for g in ranking.groups if g.circuit == circuit and g.form == "open"]
    assert places.index(place) < 3
