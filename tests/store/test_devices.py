"""Who may enter: a code that works once, tokens that are never stored, sessions that end."""

import re
from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import select
from tests.store.conftest import Clock

from loomwright.invalid import InvalidInput
from loomwright.store.devices import NotPaired, PairedDevice, PairingRefused
from loomwright.store.opening import open_store
from loomwright.store.store import Store
from loomwright.store.tables import METADATA
from loomwright.store.tokens import LETTERS, new_code


def test_a_device_with_the_code_is_let_in(store: Store, clock: Clock) -> None:
    code = store.devices.new_pairing_code("Kim").code
    clock.wind(minutes=2)

    paired = store.devices.pair(code, " Ola's\tphone ")

    assert paired.device.name == "Ola's phone"
    assert (paired.device.paired_by, paired.device.paired_at) == ("Kim", clock.time)
    assert store.devices.devices() == (paired.device,)


@pytest.mark.parametrize("typed", [str.lower, lambda code: code.replace("-", ""), " {} ".format])
def test_a_code_may_be_typed_as_people_type(store: Store, typed: "type[str]") -> None:
    code = store.devices.new_pairing_code("Kim").code

    assert store.devices.pair(typed(code), "Phone").device.name == "Phone"


def test_a_code_is_short_and_has_no_signs_that_look_alike(store: Store) -> None:
    code = store.devices.new_pairing_code("Kim").code

    assert re.fullmatch(f"[{LETTERS}]{{4}}-[{LETTERS}]{{4}}", code)
    assert len(set(LETTERS)) == 32
    assert not set("01IO") & set(LETTERS)


def test_every_sign_of_a_code_is_as_likely_as_any_other() -> None:
    """Each of the 256 bytes once, eight at a time."""
    chances = iter([bytes(range(at, at + 8)) for at in range(0, 256, 8)])
    signs = "".join(new_code(lambda _: next(chances)) for _ in range(32))

    assert {signs.count(letter) for letter in LETTERS} == {256 // 32}


def test_a_code_works_once(store: Store) -> None:
    code = store.devices.new_pairing_code("Kim").code
    store.devices.pair(code, "Phone")

    with pytest.raises(PairingRefused, match=r"make a new code.*was used") as caught:
        store.devices.pair(code, "Another phone")

    assert caught.value.tries_left == 0
    assert len(store.devices.devices()) == 1


def test_of_two_devices_with_one_code_one_is_let_in(store: Store) -> None:
    code = store.devices.new_pairing_code("Kim").code

    def pair(name: str) -> PairedDevice | PairingRefused:
        try:
            return store.devices.pair(code, name)
        except PairingRefused as refused:
            return refused

    with ThreadPoolExecutor(4) as people:
        answers = list(people.map(pair, "abcd"))

    assert [type(each) for each in answers].count(PairedDevice) == 1
    assert len(store.devices.devices()) == 1


def test_a_code_lasts_ten_minutes(store: Store, clock: Clock) -> None:
    made = store.devices.new_pairing_code("Kim")
    clock.wind(minutes=10)

    assert made.expires_at == clock.time
    with pytest.raises(PairingRefused, match="run out"):
        store.devices.pair(made.code, "Phone")


def test_a_code_may_be_tried_five_times(store: Store) -> None:
    code = store.devices.new_pairing_code("Kim").code
    left = []
    for _ in range(5):
        with pytest.raises(PairingRefused) as caught:
            store.devices.pair("2222-2222", "Stranger")
        left.append(caught.value.tries_left)

    assert left == [4, 3, 2, 1, 0]
    with pytest.raises(PairingRefused):
        store.devices.pair(code, "Phone")


def test_tries_count_after_the_store_was_closed(place: str) -> None:
    with open_store(place) as store:
        store.devices.new_pairing_code("Kim")
        with pytest.raises(PairingRefused):
            store.devices.pair("2222-2222", "Stranger")

    with open_store(place) as store, pytest.raises(PairingRefused) as caught:
        store.devices.pair("2222-2222", "Stranger")

    assert caught.value.tries_left == 3


def test_a_new_code_ends_the_one_before(store: Store) -> None:
    old = store.devices.new_pairing_code("Kim").code
    new = store.devices.new_pairing_code("Kim").code

    with pytest.raises(PairingRefused):
        store.devices.pair(old, "Phone")
    assert store.devices.pair(new, "Phone").device.name == "Phone"


@pytest.mark.parametrize("typed", ["", "\0", "ÄÖÜ", "x" * 100_000, "\ud800", "🔧"])
def test_whatever_is_typed_is_only_a_wrong_code(store: Store, typed: str) -> None:
    store.devices.new_pairing_code("Kim")

    with pytest.raises(PairingRefused) as caught:
        store.devices.pair(typed, "Phone")

    assert typed == "" or typed not in str(caught.value)


def test_no_code_lets_in_when_none_was_made(store: Store) -> None:
    with pytest.raises(PairingRefused):
        store.devices.pair("", "Phone")


def test_nothing_that_lets_in_is_stored(store: Store) -> None:
    code = store.devices.new_pairing_code("Kim").code
    paired = store.devices.pair(code, "Phone")
    session = store.sessions.begin(paired.token)
    other = store.devices.new_pairing_code("Kim").code

    with store.access.reading() as connection:
        stored = "".join(
            str(tuple(row))
            for table in METADATA.sorted_tables
            for row in connection.execute(select(table))
        )

    for secret in (code, other, other.replace("-", ""), paired.token, session.token):
        assert secret not in stored
    assert paired.token != session.token
    assert min(map(len, (paired.token, session.token))) >= 43  # 256 bits


def test_a_session_knows_its_device(store: Store, clock: Clock) -> None:
    paired = store.devices.admit("Bench", "Kim")
    clock.wind(minutes=5)

    begun = store.sessions.begin(paired.token)

    assert begun.session.device.id == paired.device.id
    assert begun.session.device.seen_at == clock.time
    assert store.sessions.session_for(begun.token) == begun.session


def test_a_session_ends_twelve_hours_after_its_last_use(store: Store, clock: Clock) -> None:
    token = store.sessions.begin(store.devices.admit("Bench", "Kim").token).token
    clock.wind(hours=11)
    assert store.sessions.session_for(token).device.seen_at == clock.time
    clock.wind(hours=11, minutes=59)
    session = store.sessions.session_for(token)
    assert session.expires_at > clock.time
    clock.wind(hours=12)

    with pytest.raises(NotPaired):
        store.sessions.session_for(token)


def test_looking_at_a_page_writes_nothing_more_than_once_a_minute(
    store: Store, clock: Clock
) -> None:
    token = store.sessions.begin(store.devices.admit("Bench", "Kim").token).token
    begun = store.sessions.session_for(token).expires_at
    clock.wind(seconds=59)
    assert store.sessions.session_for(token).expires_at == begun
    clock.wind(seconds=1)
    assert store.sessions.session_for(token).expires_at > begun


def test_a_session_can_be_ended(store: Store) -> None:
    paired = store.devices.admit("Bench", "Kim")
    one, two = (store.sessions.begin(paired.token).token for _ in range(2))

    store.sessions.end(one)
    store.sessions.end(one)

    with pytest.raises(NotPaired):
        store.sessions.session_for(one)
    assert store.sessions.session_for(two).device == store.devices.devices()[0]


def test_a_dropped_device_is_out_at_once(store: Store, clock: Clock) -> None:
    phone, bench = (store.devices.admit(name, "Kim") for name in ("Phone", "Bench"))
    session, other = (store.sessions.begin(each.token).token for each in (phone, bench))

    gone = store.devices.drop_device(phone.device.id, "Ola")

    assert gone.dropped_at == clock.time
    assert store.devices.drop_device(phone.device.id, "Ola") == gone
    assert [each.name for each in store.devices.devices()] == ["Bench"]
    assert store.devices.devices(dropped=True) == (gone,)
    with pytest.raises(NotPaired, match="make a code on the workbench"):
        store.sessions.session_for(session)
    with pytest.raises(NotPaired):
        store.sessions.begin(phone.token)
    assert store.sessions.session_for(other).device.name == "Bench"


@pytest.mark.parametrize("token", ["", "x", "\0", "\ud800", "' or 1=1 --"])
def test_a_token_nobody_was_given_lets_nobody_in(store: Store, token: str) -> None:
    store.devices.admit("Bench", "Kim")

    with pytest.raises(NotPaired):
        store.sessions.begin(token)
    with pytest.raises(NotPaired):
        store.sessions.session_for(token)


def test_sessions_that_ran_out_are_cleared_away(store: Store, clock: Clock) -> None:
    paired = store.devices.admit("Bench", "Kim")
    store.sessions.begin(paired.token)
    clock.wind(days=1)
    store.sessions.begin(paired.token)

    with store.access.reading() as connection:
        assert len(connection.execute(select(METADATA.tables["sessions"])).all()) == 1


def test_a_device_that_is_not_there_is_named(store: Store) -> None:
    for unknown in ("00" * 16, "a\0b", "a\ud800b"):
        with pytest.raises(InvalidInput, match="choose a device"):
            store.devices.drop_device(unknown, "Kim")


def test_letting_in_and_shutting_out_are_events_without_tokens(store: Store) -> None:
    paired = store.devices.pair(store.devices.new_pairing_code("Kim").code, "Phone")
    store.devices.drop_device(paired.device.id, "Ola")

    events = store.events.events_since(0, "device")

    assert [(each.payload, each.who) for each in events] == [
        ({"name": "Phone", "what": "paired"}, "Kim"),
        ({"name": "Phone", "what": "dropped"}, "Ola"),
    ]
