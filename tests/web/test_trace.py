"""Finding a fault in the workbench: said by tapping or in words, kept, taken back, explained."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi import FastAPI
from tests.web.asking import Asker, words

from loomwright.observations.observation import Observation, Quantity, to_plain
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.store.store import Store
from loomwright.web.csrf import PROGRAM_HEADER
from loomwright.web.tracing.places import value_of
from loomwright.web.tracing.talk import Talk

LEFT_REAR = value_of(Place(PlaceKind.LOAD, "left rear"))
RIGHT_REAR = value_of(Place(PlaceKind.LOAD, "right rear"))


@pytest.fixture(autouse=True)
def quiet(app: FastAPI) -> Iterator[None]:
    """End what is still worked out behind a page when the test is over."""
    yield
    app.state.workbench.tracers.stop()


def place(rig_id: str) -> str:
    return f"/rigs/{rig_id}/trace"


def seen(store: Store, rig_id: str) -> list[Observation]:
    return list(Talk(store, rig_id).told().observations)


def test_what_is_said_is_kept_explained_and_taken_back(
    host: Asker, store: Store, rig_id: str
) -> None:
    """A lamp that goes dark when two filaments are on at once has lost its own ground.

    Common practice: the pair of park lamps and a signal tells ground faults from the rest.
    """
    path = place(rig_id)
    assert "Nothing yet" in words(host.get(path))
    told = host.post(f"{path}/seen", said="park+left: left rear dark, right rear normal")
    assert (told.status_code, told.headers["location"]) == (303, f"{path}#next")
    assert [(each.command, each.word) for each in seen(store, rig_id)] == [
        ("park+left", Word.OFF),
        ("park+left", Word.NORMAL),
    ]

    assert host.get(f"{path}/reasoned").status_code == 200
    answer = words(host.get(path))
    assert "Likeliest now" in answer
    assert "round of the left rear lamp" in answer.partition("Likeliest now")[2][:200]
    assert "Walk round and look at every lamp" in answer
    assert "current finds its way home through left rear tail" in answer.casefold()

    (first,) = Talk(store, rig_id).told().said
    for _ in range(2):
        host.post(f"{path}/take-back", seq=first.seq, number=0, key="the-very-same-tap")
    assert [each.word for each in seen(store, rig_id)] == [Word.NORMAL]
    host.post(f"{path}/take-back", seq=first.seq)
    assert seen(store, rig_id) == []
    host.post(f"{path}/seen", said="park: left rear dark")
    host.post(f"{path}/again")
    assert seen(store, rig_id) == []


def test_a_walk_round_keeps_a_word_for_each_lamp_looked_at(
    host: Asker, store: Store, rig_id: str
) -> None:
    host.client.post(
        f"{place(rig_id)}/round",
        data={
            "csrf": host.token(),
            "command": "park",
            "at": [LEFT_REAR, RIGHT_REAR],
            "looked": ["", "dim"],
            "key": "walk-round-1",
        },
    )

    (only,) = seen(store, rig_id)
    assert (only.place.name, only.word) == ("right rear", Word.DIM)


def test_what_is_sent_twice_counts_once(host: Asker, store: Store, rig_id: str) -> None:
    given = json.dumps(
        to_plain(Observation("park", Place(PlaceKind.LOAD, "plate"), Quantity.SEEN, Word.OFF))
    )
    for _ in range(2):
        host.post(f"{place(rig_id)}/seen", observation=given, key="the-same-tap")

    assert len(seen(store, rig_id)) == 1


def test_a_number_is_kept_with_its_unit(host: Asker, store: Store, rig_id: str) -> None:
    host.post(f"{place(rig_id)}/seen", command="park", place=LEFT_REAR, value="9,6", unit="V")

    (only,) = seen(store, rig_id)
    assert (only.quantity, only.value) == (Quantity.VOLTS, 9.6)


def test_what_cannot_be_used_is_told_beside_the_field_and_stays(
    host: Asker, store: Store, rig_id: str
) -> None:
    path = f"{place(rig_id)}/seen"
    nothing = host.post(path, command="park", place="", value="nine")
    assert nothing.status_code == 422
    assert "choose where you looked" in words(nothing)
    assert "type a number" in words(nothing)
    assert 'value="nine"' in nothing.text

    phrase = host.post(path, said="park: the moon <b>is</b> full")
    assert phrase.status_code == 422
    assert "To mend" in words(phrase)
    assert "<b>is</b>" not in phrase.text
    assert 'value="park: the moon &lt;b&gt;is&lt;/b&gt; full"' in phrase.text

    for bad in ("[]", "no", '{"place": 3}', json.dumps({"command": "x", "quantity": "W"})):
        assert host.post(path, observation=bad).status_code == 422
    assert host.post(path, place="[1]", word="off").status_code == 422
    assert host.post(path, place=LEFT_REAR, word="purple").status_code == 422
    assert seen(store, rig_id) == []


def test_a_check_of_another_rig_is_not_taken_over(host: Asker, rig_id: str) -> None:
    assert host.post(f"{place(rig_id)}/from-check", check="0" * 32).status_code == 404
    assert host.get(f"{place(rig_id)}?check=none").status_code == 404


def test_programs_trace_in_the_same_words(host: Asker, rig_id: str) -> None:
    def send(body: dict[str, Any]) -> Any:
        headers = {PROGRAM_HEADER: "parts counter"}
        return host.client.post(f"/api/rigs/{rig_id}/trace", json=body, headers=headers)

    told = send({"said": ["park+left: left rear dark, right rear normal"]}).json()
    assert told["faults"][0]["place"] == "trailer.ground.lamp"
    again = send({"observations": told["observations"]}).json()
    assert again["faults"][0] == told["faults"][0]
    refused = send({"said": ["park: the moon is full"], "observations": [{"quantity": "W"}]})
    assert refused.status_code == 422
    assert len(refused.json()["problems"]) >= 2
