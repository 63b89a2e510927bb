"""Light checks: nothing given is lost or counted twice, and the last word of each place holds."""

from dataclasses import replace
from datetime import timedelta
from threading import Thread

import pytest
from tests.store.checking import LEFT, PIN, PLAN, add_check, begun, seen, wrong
from tests.store.conftest import Clock
from tests.store.jobs import SMALL

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Answer, Standing
from loomwright.lightcheck.plain import answer_from_plain, plan_from_plain, plan_to_plain
from loomwright.observations.word import Word
from loomwright.store.checks import is_over
from loomwright.store.checks_values import Given, NewCheck, Stage, latest
from loomwright.store.store import Store


@pytest.fixture
def rig_id(store: Store) -> str:
    return store.rigs.create(SMALL, "Kim").id


def test_a_check_comes_back_as_it_was_begun(store: Store, rig_id: str, clock: Clock) -> None:
    check = begun(store, rig_id)

    assert store.checks.check(check.id) == store.checks.numbered(1) == check
    assert store.checks.checks_of(rig_id) == (check,)
    assert (check.plan, check.step, check.stage) == (PLAN, 0, Stage.PLAIN)
    assert (check.vehicle, check.begun_at, check.begun_by) == (
        "Quillon 150 pickup",
        clock.time,
        "Kim",
    )
    assert not is_over(check)


def test_checks_are_counted_and_the_newest_stands_first(store: Store, rig_id: str) -> None:
    first, second = begun(store, rig_id), begun(store, rig_id)

    assert (first.number, second.number) == (1, 2)
    assert store.checks.checks_of(rig_id) == (second, first)


def test_every_answer_is_kept_and_the_last_one_given_holds(
    store: Store, rig_id: str, clock: Clock
) -> None:
    check = begun(store, rig_id)
    store.checks.give(check.id, Given("first-key", (wrong(),), 0), "Kim")
    clock.wind(minutes=5)
    mended = wrong(Word.FLASHING, Standing.RIGHT)
    store.checks.give(check.id, Given("second-key", (mended,), 1), "Ola")

    kept = store.checks.answers(check)

    assert [each.answer for each in kept] == [wrong(), mended]
    assert latest(kept)[LEFT.key].answer == mended
    assert [each.who for each in kept] == ["Kim", "Ola"]
    assert store.checks.check(check.id).step == 1


def test_what_waited_for_the_link_stands_at_the_time_it_was_given(
    store: Store, rig_id: str, clock: Clock
) -> None:
    check = begun(store, rig_id)
    clock.wind(hours=1)
    now = wrong(Word.FLASHING, Standing.RIGHT)
    store.checks.give(check.id, Given("given-now", (now,)), "Kim")
    store.checks.give(check.id, Given("given-before", (wrong(),), age_s=1800.0), "Ola")

    kept = store.checks.answers(check)

    assert latest(kept)[LEFT.key].answer == now
    assert kept[1].at == clock.time - timedelta(minutes=30)
    assert kept[1].kept_at == clock.time


@pytest.mark.parametrize(("age_s", "counts_as"), [(-60.0, 0.0), (4.9, 0.0), (1e12, 30 * 86400.0)])
def test_an_age_out_of_reason_is_brought_within_it(
    store: Store, rig_id: str, clock: Clock, age_s: float, counts_as: float
) -> None:
    check = begun(store, rig_id)

    store.checks.give(check.id, Given("some-key", (wrong(),), age_s=age_s), "Kim")

    (kept,) = store.checks.answers(check)
    assert kept.at == clock.time - timedelta(seconds=counts_as)


def test_what_is_sent_twice_counts_once(store: Store, rig_id: str) -> None:
    check = begun(store, rig_id)
    for _ in range(3):
        store.checks.give(check.id, Given("same-key-", (wrong(),), 1), "Kim")

    assert len(store.checks.answers(check)) == 1
    said = [each.payload["what"] for each in store.events.events_since(0, "light-check")]
    assert said == ["begun", "answered"]


def test_what_several_devices_send_twice_at_once_counts_once(store: Store, rig_id: str) -> None:
    check = begun(store, rig_id)

    def send() -> None:
        for number in range(5):
            store.checks.give(check.id, Given(f"same-key-{number}", (wrong(),)), "Kim")

    threads = [Thread(target=send) for _ in range(4)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()

    assert [each.number for each in store.checks.answers(check)] == [1, 2, 3, 4, 5]


def test_a_key_of_another_check_is_refused(store: Store, rig_id: str) -> None:
    one, other = begun(store, rig_id), begun(store, rig_id)
    store.checks.give(one.id, Given("same-key-", (wrong(),)), "Kim")

    with pytest.raises(InvalidInput, match="a mark of its own"):
        store.checks.give(other.id, Given("same-key-", (wrong(),)), "Kim")


def test_events_tell_step_and_answers(store: Store, rig_id: str) -> None:
    check = begun(store, rig_id)
    store.checks.give(check.id, Given("first-key", (wrong(),), 1), "Kim")
    store.checks.give(check.id, Given("second-key", step=2), "Kim")
    store.checks.end(check.id, "Kim")
    store.checks.end(check.id, "Ola")

    events = store.events.events_since(0, f"light-check/{check.id}")

    assert [(each.payload["what"], each.payload["step"]) for each in events] == [
        ("begun", 0),
        ("answered", 1),
        ("moved", 2),
        ("ended", 2),
    ]
    (answer,) = events[1].payload["answers"]
    assert answer_from_plain(answer, check.plan) == wrong()
    assert is_over(store.checks.check(check.id))


def test_an_answer_after_the_end_is_not_lost(store: Store, rig_id: str) -> None:
    check = begun(store, rig_id)
    store.checks.end(check.id, "Kim")

    store.checks.give(check.id, Given("late-key-", (wrong(),)), "Ola")

    assert len(store.checks.answers(check)) == 1


def test_an_answer_may_say_that_nothing_was_tested(store: Store, rig_id: str) -> None:
    check = begun(store, rig_id)
    answer = Answer(PIN, None, Standing.NOT_TESTED, "no meter at hand")

    store.checks.give(check.id, Given("some-key", (answer,)), "Kim")

    assert store.checks.answers(check)[0].answer == answer


@pytest.mark.parametrize(
    ("given", "who", "field"),
    [
        (Given("short"), "Kim", "key"),
        (Given("good-key", step=-1), "Kim", "step"),
        (Given("good-key", step=3), "Kim", "step"),
        (Given("good-key", age_s=float("nan")), "Kim", "age_s"),
        (Given("good-key", (replace(wrong(), expectation=replace(LEFT, key="x")),)), "Kim", "exp"),
        (Given("good-key"), " ", "who"),
    ],
)
def test_what_cannot_be_used_is_refused_and_leaves_no_trace(
    store: Store, rig_id: str, given: Given, who: str, field: str
) -> None:
    check = begun(store, rig_id)

    with pytest.raises(InvalidInput, match=field):
        store.checks.give(check.id, given, who)

    assert store.checks.answers(check) == ()
    assert store.checks.check(check.id) == check


def test_unknown_checks_are_refused(store: Store, rig_id: str) -> None:
    for unknown in ("00" * 16, "a\0b", "a\ud800b"):
        with pytest.raises(InvalidInput, match="choose a light check"):
            store.checks.check(unknown)
    for number in (0, -1, 2**80):
        with pytest.raises(InvalidInput, match="choose a light check"):
            store.checks.numbered(number)
    with pytest.raises(InvalidInput, match="rig"):
        begun(store, "00" * 16)
    with pytest.raises(InvalidInput, match="version"):
        store.checks.begin(NewCheck(rig_id, 7, "Check", Stage.PLAIN, PLAN), "Kim")
    empty = replace(PLAN, steps=())
    with pytest.raises(InvalidInput, match="no steps"):
        store.checks.begin(NewCheck(rig_id, 1, "Check", Stage.PLAIN, empty), "Kim")


def test_a_check_after_the_work_finds_the_one_before(store: Store, rig_id: str) -> None:
    begun(store, rig_id, Stage.BEFORE)
    before = begun(store, rig_id, Stage.BEFORE)
    begun(store, rig_id)
    after = begun(store, rig_id, Stage.AFTER)
    begun(store, rig_id, Stage.BEFORE)

    assert store.checks.before(after) == before


def test_a_reading_normal_for_a_vehicle_is_remembered_for_the_next(
    store: Store, rig_id: str
) -> None:
    check = add_check(store, rig_id)
    store.checks.give(check.id, Given("once-more", (Answer(LEFT, seen(), Standing.USUAL),)), "Kim")

    (usual,) = store.usual.usual_for("QUILLON 150  pickup")

    assert (usual.vehicle, usual.fits, usual.map_id) == ("Quillon 150 pickup",) * 2 + (None,)
    assert (usual.observation, usual.check_id, usual.kept_by) == (seen(), check.id, "Søren")
    assert store.usual.usual_for("Quillon 250") == ()


def test_what_is_normal_goes_with_the_wire_map(store: Store, rig_id: str) -> None:
    kept = store.wire_maps.keep_wire_map(rig_id, "meter", "Kim", fits="Quillon 150*")
    add_check(store, rig_id)

    (usual,) = store.usual.usual_for("Quillon 150 pickup 2019")

    assert (usual.fits, usual.map_id) == ("Quillon 150*", kept.id)


def test_what_was_wrongly_taken_for_normal_is_retired(store: Store, rig_id: str) -> None:
    add_check(store, rig_id)
    (usual,) = store.usual.usual_for("Quillon 150 pickup")

    store.usual.retire(usual.id, "Ola")
    store.usual.retire(usual.id, "Ola")

    assert store.usual.usual_for("Quillon 150 pickup") == ()
    with pytest.raises(InvalidInput, match="choose a reading"):
        store.usual.retire("00" * 16, "Ola")


def test_nothing_is_normal_for_a_vehicle_without_a_name(store: Store) -> None:
    rig = store.rigs.create("[rig]\nname = 'no vehicle'\n", "Kim")
    add_check(store, rig.id)

    assert store.usual.usual_for("") == ()


def test_a_plan_survives_plain_values() -> None:
    assert plan_from_plain(plan_to_plain(PLAN)) == PLAN
    with pytest.raises(InvalidInput, match="plan"):
        plan_from_plain({"rig": "x"})
    with pytest.raises(InvalidInput, match="plan"):
        plan_from_plain(plan_to_plain(PLAN) | {"steps": [{"key": 1}]})
