"""The event log, and the settings of the shop."""

import pytest
from tests.store.conftest import Clock

from loomwright.invalid import InvalidInput
from loomwright.quantities import Units
from loomwright.store.settings import ShopSettings
from loomwright.store.store import Store


def test_events_come_back_in_order_from_any_point(store: Store, clock: Clock) -> None:
    made = [store.events.append_event("light-check/1", {"n": n}, "Kim") for n in range(5)]

    assert [each.seq for each in made] == [1, 2, 3, 4, 5]
    assert store.events.events_since(0) == tuple(made)
    assert store.events.events_since(3) == tuple(made[3:])
    assert store.events.events_since(5) == ()
    assert store.events.events_since(0, limit=2) == tuple(made[:2])
    assert (made[0].at, made[0].who, made[0].payload) == (clock.time, "Kim", {"n": 0})
    assert store.events.newest() == 5


def test_a_point_that_never_was_is_before_all_or_after_all(store: Store) -> None:
    made = store.events.append_event("a", {})

    for seq in (-1, -(10**30)):
        assert store.events.events_since(seq) == (made,)
    assert store.events.events_since(10**30) == ()
    assert store.events.events_since(0, "a\0\ud800") == ()
    assert store.events.events_since(0, limit=-1) == ()


def test_a_topic_takes_what_is_below_it_and_nothing_beside(store: Store) -> None:
    for topic in ("rig", "rig/7", "rig/7/a", "rig/70", "rigs", "ri_"):
        store.events.append_event(topic, {})

    def found(topic: str) -> list[str]:
        return [each.topic for each in store.events.events_since(0, topic)]

    assert found("rig") == ["rig", "rig/7", "rig/7/a", "rig/70"]
    assert found("rig/7") == ["rig/7", "rig/7/a"]
    assert found("ri_") == ["ri_"]
    assert found("r%") == []


def test_what_is_sent_twice_counts_once(store: Store) -> None:
    first = store.events.append_event("light-check/1", {"v": 12.1}, "Kim", key="outbox-0001")
    again = store.events.append_event("light-check/1", {"v": 12.1}, "Kim", key="outbox-0001")
    other = store.events.append_event("light-check/1", {"v": 12.1}, "Kim", key="outbox-0002")

    assert again == first
    assert other.seq == 2


def test_any_plain_values_come_back_as_they_were(store: Store) -> None:
    payload = {"text": "ü\0€🔧\ud800", "list": [1, 2.5, None, True], "inner": {"a": {}}}

    store.events.append_event("a", payload)

    assert store.events.events_since(0)[0].payload == payload


@pytest.mark.parametrize("topic", ["", "Rig", "rig/", "/rig", "a b", "a//b", "x" * 201, "a\n"])
def test_a_topic_is_words_joined_by_slashes(store: Store, topic: str) -> None:
    with pytest.raises(InvalidInput, match="joined by slashes"):
        store.events.append_event(topic, {})


@pytest.mark.parametrize("key", ["", "short", "x" * 65, "has a space", "\0" * 10])
def test_a_mark_is_neither_short_nor_long(store: Store, key: str) -> None:
    with pytest.raises(InvalidInput, match="8 to 64"):
        store.events.append_event("a", {}, key=key)


def test_a_value_that_is_no_number_is_a_bug_and_is_not_stored(store: Store) -> None:
    with pytest.raises(ValueError, match="JSON"):
        store.events.append_event("a", {"v": float("nan")})

    assert store.events.newest() == 0


def test_settings_nobody_set_are_plain(store: Store) -> None:
    assert store.settings.read() == ShopSettings(Units.US, "")


def test_settings_are_kept(store: Store) -> None:
    for settings in (
        ShopSettings(Units.METRIC, "Marsh Hollow Wiring"),
        ShopSettings(Units.US, ""),
        ShopSettings(Units.METRIC, "Søn & Co."),
    ):
        assert store.settings.write(settings, "Kim") == settings
        assert store.settings.read() == settings

    assert [each.payload["units"] for each in store.events.events_since(0, "settings")] == [
        *("metric", "us", "metric"),
    ]


@pytest.mark.parametrize("name", ["x" * 201, "a\0b"])
def test_a_shop_name_no_sheet_can_print_is_refused(store: Store, name: str) -> None:
    with pytest.raises(InvalidInput, match="shop_name"):
        store.settings.write(ShopSettings(Units.US, name), "Kim")
