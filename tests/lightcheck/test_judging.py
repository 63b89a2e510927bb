"""Answers judged: right, grazing, wrong, normal here; and what they say together."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.rigs import brake_rig, simple_rig

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.answers_file import Noted, read_noted, write_noted
from loomwright.lightcheck.comparing import Change, compare
from loomwright.lightcheck.judging import for_tracing, judge, judge_all, observe, remembered
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing
from loomwright.lightcheck.plain import (
    answer_from_plain,
    answer_to_plain,
    plan_from_plain,
    plan_to_plain,
)
from loomwright.lightcheck.plan import plan_for
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word

PIN = Expectation(
    "pin",
    Place(PlaceKind.PIN, "rear", "3"),
    "pin 3 of the rear, tail",
    Quantity.VOLTS,
    low=11.0,
    nominal=11.8,
    high=12.5,
    least=10.0,
    most=13.0,
    command="park",
    tester="meter",
    at="socket",
)
LAMP = Expectation(
    "lamp",
    Place(PlaceKind.LOAD, "left rear tail"),
    "left rear lamp, tail",
    Quantity.SEEN,
    words=(Word.NORMAL,),
    doubtful=(Word.DIM,),
    command="park",
    tester="trailer",
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_for(simple_rig(), "trailer+meter", samples=100)


def healthy(plan: Plan) -> list[Observation]:
    return [
        observe(each, each.words[0] if each.words else each.nominal or 0.0)
        for step in plan.steps
        for each in step.expectations
    ]


@pytest.mark.parametrize(
    ("value", "standing"),
    [
        (11.0, Standing.RIGHT),
        (12.5, Standing.RIGHT),
        (10.99, Standing.DOUBTFUL),
        (13.0, Standing.DOUBTFUL),
        (9.99, Standing.WRONG),
        (13.01, Standing.WRONG),
    ],
)
def test_a_number_in_its_band_grazing_it_and_beyond(value: float, standing: Standing) -> None:
    assert judge(PIN, observe(PIN, value)).standing is standing


@pytest.mark.parametrize(
    ("word", "standing"),
    [
        (Word.NORMAL, Standing.RIGHT),
        (Word.ON, Standing.RIGHT),
        (Word.DIM, Standing.DOUBTFUL),
        (Word.GLOW, Standing.WRONG),
        (Word.OFF, Standing.WRONG),
        (Word.FLASHING, Standing.WRONG),
        (Word.NOT_SEEN, Standing.NOT_TESTED),
        (Word.AS_USUAL, Standing.USUAL),
    ],
)
def test_words(word: Word, standing: Standing) -> None:
    answer = judge(LAMP, observe(LAMP, word))
    assert answer.standing is standing
    assert bool(answer.says) == (standing in (Standing.DOUBTFUL, Standing.WRONG, Standing.USUAL))


@pytest.mark.parametrize(
    ("expectation", "said", "suggests"),
    [
        (PIN, 0.0, "fuse and relay for the trailer alone"),
        (PIN, 7.0, "low under load: a weak joint or thin wire"),
        (PIN, 14.0, "part of the load is missing"),
        (replace(PIN, plugged=False), 9.0, "low with nothing on it"),
        (replace(PIN, low=-0.5, nominal=0.0, high=0.5, least=-0.5, most=0.5), 9.0, "live under"),
        (replace(LAMP, command="park+left"), Word.GLOW, "drop on the ground"),
        (replace(LAMP, words=(Word.OFF,), command="rest"), Word.GLOW, "module leaks"),
        (replace(LAMP, words=(Word.FLASHING,)), Word.NORMAL, "steady where it must flash"),
        (LAMP, Word.FLASHING_FAST, "fast flash"),
        (LAMP, Word.WRONG, "wires exchanged"),
        (replace(LAMP, at="axle", words=(Word.OFF,), command="rest"), Word.LOCKED, "breakaway"),
        (replace(LAMP, at="axle", words=(Word.WORKS,)), Word.FAILS, "ohms at the magnet"),
    ],
)  # fmt: skip
def test_what_a_wrong_answer_suggests_at_once(
    expectation: Expectation, said: Word | float, suggests: str
) -> None:
    """Common practice of the trade, by place, command and direction."""
    answer = judge(expectation, observe(expectation, said))

    assert answer.standing is Standing.WRONG
    assert suggests in answer.says


def test_full_volts_bare_and_low_under_load_is_a_weak_joint() -> None:
    bare = replace(PIN, key="bare", plugged=False, low=12.0, nominal=12.4, high=12.9)
    plan = _plan_of(bare, PIN)
    _, loaded = judge_all(plan, [observe(bare, 12.4), observe(PIN, 8.0)])

    assert "full volts with nothing on it" in loaded.says


def test_all_pins_low_alike_is_the_supply() -> None:
    pins = [
        replace(PIN, key=f"pin {n}", place=Place(PlaceKind.PIN, "rear", str(n))) for n in range(3)
    ]
    answers = judge_all(_plan_of(*pins), [observe(each, 9.0) for each in pins])
    assert all("all low alike" in each.says for each in answers)

    one = judge_all(_plan_of(*pins), [observe(pins[0], 5.0), *(observe(p, 11.8) for p in pins[1:])])
    assert "all low alike" not in one[0].says


def test_a_reading_of_the_wrong_kind_is_refused() -> None:
    with pytest.raises(InvalidInput):
        judge(PIN, observe(LAMP, Word.NORMAL))
    with pytest.raises(InvalidInput):
        judge(LAMP, observe(PIN, 12.0))


def test_what_was_found_normal_is_remembered_and_accepted(plan: Plan) -> None:
    """A charge line that waits, pulses, a module that wants a trailer: normal for this vehicle."""
    first = judge(PIN, observe(PIN, Word.AS_USUAL))
    low = judge(PIN, observe(PIN, 6.1), usual=[observe(PIN, 6.15)])
    off = judge(PIN, observe(PIN, 6.1), usual=[observe(PIN, 9.0)])

    assert first.standing is Standing.USUAL
    assert low.standing is Standing.USUAL
    assert off.standing is Standing.WRONG
    assert remembered([first, low, off]) == (first.observation, low.observation)


def test_a_healthy_rig_is_right_and_its_readings_are_in_the_form_of_tracing(plan: Plan) -> None:
    answers = judge_all(plan, healthy(plan))

    assert {each.standing for each in answers} == {Standing.RIGHT}
    told = for_tracing(answers)
    assert len(told) == len(answers)
    assert {each.command for each in told} == {step.key for step in plan.steps}
    assert all(each.tester in ("trailer", "meter") for each in told)


def test_a_load_box_tells_tracing_only_what_is_wrong() -> None:
    """Volts under its load are low for a bare pin, which is what tracing takes it for."""
    box = replace(PIN, tester="load-box", plugged=False)
    right, low = judge(box, observe(box, 11.8)), judge(box, observe(box, 6.0))

    assert for_tracing([right, low]) == (low.observation,)


def test_what_was_not_looked_at_is_not_tested(plan: Plan) -> None:
    answers = judge_all(plan, [])
    assert {each.standing for each in answers} == {Standing.NOT_TESTED}


def test_plan_and_answers_go_out_and_come_back(plan: Plan) -> None:
    assert plan_from_plain(plan_to_plain(plan)) == plan
    for answer in judge_all(plan, healthy(plan))[:20]:
        assert answer_from_plain(answer_to_plain(answer), plan) == answer
    noted = Noted(plan.rig, tuple(healthy(plan)), (observe(LAMP, Word.DIM),))
    assert read_noted(write_noted(noted)) == noted


def test_before_and_after_side_by_side() -> None:
    def answer(expectation: Expectation, said: Word | float) -> Answer:
        return judge(expectation, observe(expectation, said))

    other = replace(LAMP, key="other", place=Place(PlaceKind.LOAD, "right rear tail"))
    gone = replace(LAMP, key="gone", place=Place(PlaceKind.LOAD, "plate tail"))
    before = [answer(LAMP, Word.OFF), answer(other, Word.NORMAL), answer(gone, Word.NORMAL)]
    after = [answer(LAMP, Word.NORMAL), answer(other, Word.OFF), answer(PIN, 11.8)]
    changes = {row.title + str(row.change): row for row in compare(before, after)}

    assert [row.change for row in compare(before, after)] == [
        Change.MENDED, Change.WORSE, Change.NEW, Change.GONE,
    ]  # fmt: skip
    assert len(changes) == 4
    assert compare(before, before)[0].change is Change.STILL_WRONG


def test_each_doubtful_answer_says_why() -> None:
    answer = judge(LAMP, observe(LAMP, Word.DIM))
    assert "cannot tell" in answer.says
    assert "edge of what healthy rigs read" in judge(PIN, observe(PIN, 10.5)).says


def test_the_brake_pin_live_at_rest_is_told_as_a_danger() -> None:
    plan = plan_for(brake_rig(), "meter", samples=100)
    pin = next(each for each in plan.steps[0].expectations if "brakes" in each.title)
    assert "would lock" in judge(pin, observe(pin, 12.6)).says


def _plan_of(*expectations: Expectation) -> Plan:
    from loomwright.lightcheck.model import Step

    return Plan("rig", "meter", 2, (Step("park", "park", "", True, "rear", expectations),), 0)
