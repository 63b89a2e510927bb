"""Several people at once: one wins, nobody overwrites, nothing clashes."""

import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from threading import Barrier

import pytest
from sqlalchemy import func, insert, select
from tests.store.jobs import SMALL

from loomwright.store.engine import is_sqlite
from loomwright.store.opening import open_store
from loomwright.store.problem import StoreProblem
from loomwright.store.rig_values import EditConflict, Version
from loomwright.store.store import Store
from loomwright.store.tables import EVENTS

ROUNDS = 8
POSTGRES_SHORT = "set lock_timeout to 50"


def test_of_two_who_save_the_same_rig_one_wins_and_the_other_is_told(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    at_once = Barrier(2)

    def save(who: str, number: int) -> Version | EditConflict:
        at_once.wait()
        try:
            return store.rigs.save(rig.id, f"{SMALL}# {who} {number}\n", number, who)
        except EditConflict as conflict:
            return conflict

    with ThreadPoolExecutor(2) as people:
        for number in range(1, ROUNDS + 1):
            both = list(people.map(save, ("Kim", "Ola"), (number, number)))
            (won,) = (each for each in both if isinstance(each, Version))
            (lost,) = (each for each in both if isinstance(each, EditConflict))

            assert lost.theirs == won
            assert won.number == number + 1
            assert lost.base.number == number
            assert lost.yours != won.text

    assert len(store.rigs.history(rig.id)) == ROUNDS + 1


@pytest.mark.parametrize("programs", [1, 4])
def test_numbers_counted_by_four_at_once_never_clash(place: str, programs: int) -> None:
    """Count the rows, add one with that number: 50 times each, in threads or in programs."""

    def count(store: Store) -> None:
        for _ in range(50):
            with store.access.writing() as connection:
                rows = connection.execute(select(func.count()).select_from(EVENTS)).scalar_one()
                row = {"seq": rows + 1, "topic": "count", "payload": "{}", "who": "Kim"}
                connection.execute(insert(EVENTS).values(**row, at=store.access.at()))

    with ExitStack() as opened:
        stores = [opened.enter_context(open_store(place)) for _ in range(programs)]
        with ThreadPoolExecutor(4) as people:
            list(people.map(count, stores * (4 // programs)))

        assert [each.seq for each in stores[0].events.events_since(0)] == list(range(1, 201))


def test_two_programs_on_one_store_count_on_together(place: str) -> None:
    with open_store(place) as one, open_store(place) as two:

        def append(store: Store) -> None:
            for number in range(25):
                store.events.append_event("count", {"number": number})

        with ThreadPoolExecutor(2) as people:
            list(people.map(append, (one, two)))

        assert [each.seq for each in one.events.events_since(0)] == list(range(1, 51))
        assert one.events.events_since(0) == two.events.events_since(0)


def test_several_programs_may_open_a_new_store_at_once(place: str) -> None:
    at_once = Barrier(4)

    def create(number: int) -> None:
        at_once.wait()
        with open_store(place) as store:
            store.rigs.create(SMALL, f"Kim {number}")

    with ThreadPoolExecutor(4) as people:
        list(people.map(create, range(4)))

    with open_store(place) as store:
        assert len(store.rigs.search()) == 4


def test_whoever_follows_events_sees_each_once_and_in_order(store: Store) -> None:
    """A number that is seen is never followed by a lower one that was slower to be written."""

    def append(_: int) -> None:
        for number in range(20):
            store.events.append_event("count", {"number": number})

    seen: list[int] = []
    with ThreadPoolExecutor(4) as people:
        writers = [people.submit(append, number) for number in range(4)]
        while len(seen) < 80:
            seen += [each.seq for each in store.events.events_since(seen[-1] if seen else 0)]
            time.sleep(0.001)
        for writer in writers:
            writer.result()

    assert seen == list(range(1, 81))


def test_a_reader_sees_one_state_while_others_write(store: Store) -> None:
    store.events.append_event("count", {})
    with store.access.reading() as connection:
        first = connection.execute(select(func.count()).select_from(EVENTS)).scalar_one()
        store.events.append_event("count", {})
        again = connection.execute(select(func.count()).select_from(EVENTS)).scalar_one()

    assert (first, again) == (1, 1)
    assert store.events.newest() == 2


def test_what_fails_halfway_leaves_no_trace(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")

    row = {"seq": 99, "topic": "a", "payload": "{}", "who": "Kim", "at": store.access.at()}

    def fail() -> None:
        with store.access.writing() as connection:
            connection.execute(insert(EVENTS).values(row))
            raise KeyError("something that has nothing to do with the database")

    with pytest.raises(KeyError):
        fail()

    assert store.events.newest() == 1
    assert store.rigs.save(rig.id, SMALL + "# on\n", 1, "Kim").number == 2


def test_a_store_that_another_program_holds_is_said_to_be_in_use(place: str) -> None:
    with open_store(place) as ours, open_store(place) as others:
        with ours.access.reading() as connection:  # do not wait as long as usual
            short = "pragma busy_timeout=0" if is_sqlite(ours.access.engine) else POSTGRES_SHORT
            connection.exec_driver_sql(short)

        with others.access.writing(), pytest.raises(StoreProblem, match="in use by another"):
            ours.events.append_event("count", {})

        assert ours.events.append_event("count", {}).seq == 1
