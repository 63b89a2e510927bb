"""The JSON interface: the same uses as the screens and the command line."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import sampled_from
from schemathesis.specs.openapi.checks import positive_data_acceptance
from starlette.types import Receive, Scope, Send
from tests.web.asking import Asker

from loomwright import check, examples, read_rig, survey
from loomwright.quantities import Units
from loomwright.reports import check_report, hookup_report
from loomwright.store.settings import ShopSettings
from loomwright.store.store import Store
from loomwright.web.csrf import PROGRAM_HEADER

PROGRAM = {PROGRAM_HEADER: "parts counter"}


def send(host: Asker, method: str, path: str, body: Any, **headers: str) -> Any:
    return host.client.request(method, path, json=body, headers={**PROGRAM, **headers})


def test_a_rig_is_kept_read_changed_and_put_away(host: Asker, store: Store) -> None:
    text = examples.text("boat-surge-brakes")
    made = send(host, "POST", "/api/rigs", {"text": text})
    rig = f"/api/rigs/{made.json()['id']}"

    assert made.status_code == 201
    assert made.json()["created_by"] == "parts counter, shop computer"
    full = host.get(rig).json()
    assert (full["text"], full["problems"], full["version"]) == (text, [], 1)

    changed = text.replace("4,800 lb", "5,100 lb")
    answer = send(host, "PUT", rig, {"text": changed, "based_on": 1})
    assert answer.json()["number"] == 2
    assert host.get(f"{rig}/file").text == changed
    assert host.get(f"{rig}/versions/1/file").text == text
    assert [row["number"] for row in host.get(f"{rig}/versions").json()] == [1, 2]

    copied = send(host, "POST", f"{rig}/copy", {"name": "Another boat"})
    assert copied.json()["name"] == "Another boat"
    assert send(host, "PUT", f"{rig}/shelf", {"archived": True}).json()["archived"]
    assert [row["name"] for row in host.get("/api/rigs").json()] == ["Another boat"]
    assert len(host.get("/api/rigs?archived=true&q=saltmere").json()) == 1


def test_a_rig_begins_with_a_kind_of_job(host: Asker, store: Store) -> None:
    kind = next(iter(host.get("/api/kinds").json()))
    made = send(host, "POST", f"/api/kinds/{kind}/rigs", {"name": "Whitlock's boat"})

    assert made.json()["name"] == "Whitlock's boat"
    assert send(host, "POST", "/api/kinds/moon/rigs", {}).status_code == 404


def test_a_change_on_an_old_version_gets_both_texts(host: Asker, store: Store, rig_id: str) -> None:
    text = store.rigs.newest(rig_id).text
    theirs = text.replace("Dana Whitlock", "Dana Ray")
    store.rigs.save(rig_id, theirs, 1, "Ines")
    yours = text.replace('condition = "aged"', 'condition = "new"')
    answer = send(host, "PUT", f"/api/rigs/{rig_id}", {"text": yours, "based_on": 1})

    assert answer.status_code == 409
    assert answer.json()["newest"] == 2
    assert answer.json()["theirs"] == theirs
    assert answer.json()["merged"] == yours.replace("Dana Whitlock", "Dana Ray")


def test_a_mend_and_a_trial_are_told_and_kept_only_when_sent(
    host: Asker, store: Store, rig_id: str
) -> None:
    rig = f"/api/rigs/{rig_id}"
    text = store.rigs.newest(rig_id).text
    mends = host.get(f"{rig}/mends").json()["findings"]
    brake = next(each for each in mends if each["rule"] == "BRAK03")
    changes = {each["path"]: each["value"] for each in brake["mend"]["edits"]}
    known = {each["path"] for each in host.get(f"{rig}/changeable").json()["values"]}

    assert set(changes) <= known
    told = send(host, "POST", f"{rig}/what-if", {"changes": changes}).json()
    assert "BRAK03" in {each["rule"] for each in told["gone"]}
    assert store.rigs.newest(rig_id).text == text
    kept = send(host, "PUT", rig, {"text": told["text"], "based_on": 1})
    assert kept.json()["number"] == 2
    assert "BRAK03" not in {each["rule"] for each in host.get(f"{rig}/check").json()["findings"]}

    wrong = send(host, "POST", f"{rig}/what-if", {"changes": {"moon": "1", "sun": "2"}})
    assert wrong.status_code == 422
    assert [each["value"] for each in wrong.json()["problems"]] == ["moon", "sun"]
    odd = send(host, "POST", f"{rig}/what-if", {"changes": changes, "conditions": "dimm"})
    assert odd.json()["problems"][0]["fix"] == "not known; did you mean dim?"


def test_the_reports_are_those_of_the_package(host: Asker, store: Store, rig_id: str) -> None:
    store.settings.write(ShopSettings(units=Units.US), "Ines")
    work = survey(read_rig(store.rigs.newest(rig_id).text))

    assert host.get(f"/api/rigs/{rig_id}/check").json() == check_report(work, check(work))
    assert host.get(f"/api/rigs/{rig_id}/hookup").json() == hookup_report(work.rig, work.hookup)


def test_the_sheet_is_a_pdf(host: Asker, rig_id: str) -> None:
    answer = host.get(f"/api/rigs/{rig_id}/sheet?paper=a4")

    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")


def test_a_draft_has_problems_and_no_reports(host: Asker, store: Store) -> None:
    text = examples.text("boat-surge-brakes").replace('"12 V"', '"12"')
    made = send(host, "POST", "/api/rigs", {"text": text}).json()
    answer = host.get(f"/api/rigs/{made['id']}/check")

    assert not made["usable"]
    assert answer.status_code == 409
    assert answer.json()["problems"] == host.get(f"/api/rigs/{made['id']}").json()["problems"]
    assert answer.json()["problems"][0]["field"] == "vehicle.voltage"
    assert answer.json()["problems"][0]["line"] > 1


@pytest.mark.parametrize(
    "body",
    [
        {},
        {"text": 5},
        {"kind": "boat-surge-brakes"},
        {"text": "a", "moon": 1},
        {"text": "a\0"},
        [],
        None,
    ],
)
def test_what_cannot_be_used_is_told_field_by_field(
    host: Asker, store: Store, body: object
) -> None:
    answer = send(host, "POST", "/api/rigs", body)

    assert answer.status_code == 422
    assert answer.json()["problems"]
    assert all(one["fix"] for one in answer.json()["problems"])
    assert store.rigs.search() == ()


def test_a_program_must_say_its_name_to_write(host: Asker, store: Store) -> None:
    body = {"text": examples.text("boat-surge-brakes")}
    for headers in ({}, {PROGRAM_HEADER: " "}):
        assert host.client.post("/api/rigs", json=body, headers=headers).status_code == 403
    other = {"origin": "http://evil.example"}
    assert send(host, "POST", "/api/rigs", body, **other).status_code == 403
    assert store.rigs.search() == ()


def test_a_body_that_does_not_say_it_is_json_is_not_read_as_json(host: Asker, store: Store) -> None:
    """A form of another site can send any text, but not with this type, unasked."""
    for kind in ("text/plain", "application/x-www-form-urlencoded"):
        answer = host.client.post(
            "/api/rigs",
            content=b'{"text": "# a job"}',
            headers={**PROGRAM, "content-type": kind},
        )
        assert answer.status_code == 422
    assert store.rigs.search() == ()


def test_the_description_names_every_use_and_no_page(host: Asker) -> None:
    paths = host.get("/api/openapi.json").json()["paths"]

    assert all(path.startswith("/api/") for path in paths)
    assert {"/api/rigs", "/api/rigs/{rig_id}/check", "/api/rigs/{rig_id}/sheet"} <= set(paths)


class OwnScreen:
    """The workbench as the screen of its own computer reaches it."""

    def __init__(self, app: FastAPI) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "http":
            others = [pair for pair in scope["headers"] if pair[0] != b"host"]
            headers = [*others, (b"host", b"127.0.0.1:5666")]
            scope = {**scope, "client": ("127.0.0.1", 50000), "headers": headers}
        await self.app(scope, receive, send)


@pytest.mark.slow
def test_whatever_the_description_allows_is_answered_as_described(
    app: FastAPI, rig_id: str
) -> None:
    """Random requests within the description, for each use, and some a little outside it."""
    described = schemathesis.openapi.from_asgi("/api/openapi.json", OwnScreen(app))
    steady = settings(
        max_examples=30,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    uses = [found.ok() for found in described.get_all_operations()]
    for use in uses:
        steady(given(case=use.as_strategy(), known=sampled_from([rig_id, ""]))(answers))()

    assert len(uses) > 10


def answers(case: schemathesis.Case, known: str) -> None:
    if known and "rig_id" in case.path_parameters:
        case.path_parameters["rig_id"] = known
    answer = case.call(headers=PROGRAM)
    without = [positive_data_acceptance] if names_what_the_rig_lacks(answer) else []
    case.validate_response(answer, headers=PROGRAM, excluded_checks=without)


def names_what_the_rig_lacks(answer: schemathesis.Response) -> bool:
    """Whether a request fits the description, but not this rig: no description can know that."""
    if answer.status_code != 422:
        return False
    return {one["field"] for one in answer.json()["problems"]} == {"socket"}
