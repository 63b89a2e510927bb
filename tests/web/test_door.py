"""Who is let in, and what writing needs. Each test tries what must not work."""

import re

import pytest
from fastapi import FastAPI
from tests.web.asking import ADDRESS, Asker, Clock, asker, words

from loomwright.store.store import Store
from loomwright.web.app import make_app
from loomwright.web.door import DEVICE_COOKIE, SESSION_COOKIE
from loomwright.web.guards import host_name
from loomwright.web.settings import Settings

CODE = re.compile(r">([2-9A-Z]{4}-[2-9A-Z]{4})<")


def new_code(host: Asker) -> str:
    found = CODE.search(host.post("/devices/code", "/devices").text)
    assert found
    return found[1]


def let_in(host: Asker, far: Asker, name: str = "bench tablet") -> None:
    answer = far.post("/pair", "/pair", code=new_code(host), name=name)
    assert answer.status_code == 303


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:5666", "127.0.0.1.evil.example", "", "[::1]", "192.0.2.18"],
)
def test_a_name_that_is_not_ours_is_refused(app: FastAPI, host: str) -> None:
    """A page elsewhere may point its name at this machine: DNS rebinding."""
    answer = asker(app).get("/rigs", headers={"host": host})

    assert answer.status_code == 400
    assert "set-cookie" not in answer.headers
    assert "rig" not in words(answer).casefold()


@pytest.mark.parametrize(
    ("header", "name"),
    [("shop.local:5666", "shop.local"), ("Shop", "shop"), ("a:b", "a:b"), (":80", ":80")],
)
def test_the_name_in_a_host_header(header: str, name: str) -> None:
    assert host_name(header) == name


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1234"])
def test_writing_from_another_site_is_refused(host: Asker, store: Store, origin: str) -> None:
    token = host.token()
    answer = host.client.post(
        "/new", data={"csrf": token, "kind": "boat-surge-brakes"}, headers={"origin": origin}
    )

    assert answer.status_code == 403
    assert "another site" in words(answer)
    assert store.rigs.search() == ()


def test_writing_from_our_own_page_is_taken(host: Asker, store: Store) -> None:
    token = host.token()
    answer = host.client.post(
        "/new",
        data={"csrf": token, "kind": "boat-surge-brakes"},
        headers={"origin": "http://127.0.0.1:5666"},
    )

    assert answer.status_code == 303
    assert len(store.rigs.search()) == 1


@pytest.mark.parametrize("token", ["", "guess", "x" * 32, "ü"])
def test_writing_without_the_token_is_refused(host: Asker, store: Store, token: str) -> None:
    host.token()
    answer = host.client.post("/new", data={"csrf": token, "kind": "boat-surge-brakes"})

    assert answer.status_code == 403
    assert "too old to send" in words(answer)
    assert store.rigs.search() == ()


def test_the_token_of_another_visitor_does_not_do(app: FastAPI, host: Asker, store: Store) -> None:
    answer = host.client.post(
        "/new", data={"csrf": asker(app).token(), "kind": "boat-surge-brakes"}
    )

    assert answer.status_code == 403
    assert store.rigs.search() == ()


def test_the_token_may_come_in_a_header(host: Asker, store: Store) -> None:
    headers = {"x-csrf-token": host.token()}
    assert host.client.post("/new", data={"kind": "boat-surge-brakes"}, headers=headers)
    assert len(store.rigs.search()) == 1


@pytest.mark.parametrize(
    "path", ["/", "/rigs", "/settings", "/devices", "/nowhere", "/rigs/1/file"]
)
def test_an_unpaired_device_is_asked_for_the_code(far: Asker, path: str) -> None:
    answer = far.get(path)

    assert answer.status_code == 401
    assert "Pair this device" in words(answer)


def test_an_unpaired_device_writes_nothing(far: Asker, store: Store) -> None:
    answer = far.client.post("/new", data={"csrf": far.token("/pair"), "kind": "boat-surge-brakes"})

    assert answer.status_code == 401
    assert store.rigs.search() == ()


def test_an_unpaired_program_is_told_so(far: Asker) -> None:
    answer = far.get("/api/rigs")

    assert answer.status_code == 401
    assert answer.json()["detail"] == "not paired"


def test_our_own_address_in_the_network_is_no_own_screen(app: FastAPI) -> None:
    """Only loopback to loopback is this screen: a name or a forwarded header makes no host."""
    for name, address in ((ADDRESS, "127.0.0.1"), ("127.0.0.1", "192.0.2.44")):
        answer = asker(app, name, address).get("/rigs", headers={"x-forwarded-for": "127.0.0.1"})
        assert answer.status_code == 401


def test_a_workbench_that_is_not_offered_says_so(store: Store) -> None:
    closed = make_app(store, Settings("a secret", names=frozenset({"shop.local"})))
    answer = asker(closed, "shop.local", "192.0.2.44").get("/rigs")

    assert answer.status_code == 401
    assert "not offered to the network" in words(answer)


def test_a_code_lets_one_device_in(host: Asker, far: Asker, app: FastAPI) -> None:
    code = new_code(host)
    first = far.post("/pair", "/pair", code=code.lower().replace("-", " "), name="bench tablet")
    second = asker(app, ADDRESS, "192.0.2.45").post("/pair", "/pair", code=code, name="another")

    assert first.status_code == 303
    assert far.get("/rigs").status_code == 200
    assert second.status_code == 422
    assert "new code" in words(second)


def test_looking_at_the_link_of_a_code_uses_nothing_up(host: Asker, far: Asker) -> None:
    """Cameras and messengers open links before a person does."""
    code = new_code(host)
    for _ in range(3):
        assert code in far.get(f"/pair?code={code}").text

    assert far.post("/pair", "/pair", code=code, name="tablet").status_code == 303


def test_a_code_can_be_tried_five_times(host: Asker, far: Asker) -> None:
    code = new_code(host)
    for _ in range(5):
        assert far.post("/pair", "/pair", code="AAAA-AAAA", name="tablet").status_code == 422

    answer = far.post("/pair", "/pair", code=code, name="tablet")
    assert answer.status_code == 422
    assert far.get("/rigs").status_code == 401


def test_a_code_runs_out(host: Asker, far: Asker, clock: Clock) -> None:
    code = new_code(host)
    clock.wind(minutes=11)

    assert far.post("/pair", "/pair", code=code, name="tablet").status_code == 422


def test_what_was_typed_stays_when_the_code_is_wrong(host: Asker, far: Asker) -> None:
    new_code(host)
    answer = far.post("/pair", "/pair", code="AAAA-AAAA", name="Ana's phone")

    assert 'value="AAAA-AAAA"' in answer.text
    assert "Ana&#39;s phone" in answer.text


def test_codes_and_devices_are_shown_on_the_own_screen_only(host: Asker, far: Asker) -> None:
    let_in(host, far)

    assert "bench tablet" in words(host.get("/devices"))
    for answer in (
        far.get("/devices"),
        far.post("/devices/code", "/settings"),
        far.post("/devices/1/drop", "/settings"),
    ):
        assert answer.status_code == 403
        assert not CODE.search(answer.text)
    assert 'href="/devices"' not in far.get("/rigs").text


def test_a_dropped_device_is_out_at_once(host: Asker, far: Asker, store: Store) -> None:
    let_in(host, far)
    (device,) = store.devices.devices()
    assert device.name == "bench tablet"
    assert far.get("/rigs").status_code == 200

    host.post(f"/devices/{device.id}/drop", "/devices")

    assert far.get("/api/rigs").status_code == 401
    assert far.get("/rigs", follow_redirects=True).status_code in {200, 401}
    assert far.post("/pair/again", "/pair/again", name="Ana").headers["location"] == "/pair"
    assert store.devices.devices() == ()


def test_a_session_ends_when_it_rests_and_asks_who_goes_on(
    host: Asker, far: Asker, clock: Clock, store: Store
) -> None:
    let_in(host, far)
    clock.wind(hours=13)

    assert far.get("/api/rigs").status_code == 401
    assert far.get("/rigs").headers["location"] == "/pair/again"
    assert far.post("/pair/again", "/pair/again", name="Tomas").status_code == 303
    far.post("/new", kind="boat-surge-brakes")
    (entry,) = store.rigs.search()
    assert entry.created_by == "Tomas, bench tablet"


def test_a_stolen_or_made_up_session_token_lets_nobody_in(far: Asker) -> None:
    far.client.cookies.set(SESSION_COOKIE, "made-up")
    far.client.cookies.set(DEVICE_COOKIE, "made-up")

    assert far.get("/api/rigs").status_code == 401


def test_cookies_are_for_the_server_and_our_pages_only(host: Asker, far: Asker) -> None:
    let_in_answer = far.post("/pair", "/pair", code=new_code(host), name="tablet")
    set_cookies = [
        *host.get("/rigs").headers.get_list("set-cookie"),
        *let_in_answer.headers.get_list("set-cookie"),
        *asker(host.client.app).get("/rigs").headers.get_list("set-cookie"),
    ]

    assert {one.partition("=")[0] for one in set_cookies} >= {DEVICE_COOKIE, SESSION_COOKIE}
    for one in set_cookies:
        assert "httponly" in one.casefold()
        assert "samesite=strict" in one.casefold()
