"""A rig that nobody described is begun from a few answers, and its fault looked for at once."""

from __future__ import annotations

import pytest
from tests.web.asking import Asker, words

from loomwright import read_rig
from loomwright.rig.model import Braking, Led
from loomwright.store.store import Store
from loomwright.trace.typical import ASKS
from loomwright.web.beginning import Question, answered_text, questions
from loomwright.web.csrf import PROGRAM_HEADER

PAGE = "/new/unknown"


def test_the_kinds_of_job_lead_to_it_and_every_question_may_stay_open(
    host: Asker, store: Store
) -> None:
    assert f'href="{PAGE}"' in host.get("/new").text
    said = words(host.get(PAGE))
    assert said.count("Not known") == len(ASKS)

    answer = host.post(PAGE, PAGE, go="job")
    (entry,) = store.rigs.search()
    assert answer.headers["location"] == f"/rigs/{entry.id}"
    assert entry.usable
    assert "usual was taken for 10 of 10 answers" in words(host.get(answer.headers["location"]))


def test_what_is_answered_holds_and_leads_to_the_fault(host: Asker, store: Store) -> None:
    answers = {"connector": "7-way", "lamps": "led", "brakes": "electric", "magnets": "6"}
    answer = host.post(PAGE, PAGE, name="Oren Vale's stock trailer", go="trace", **answers)
    (entry,) = store.rigs.search()
    rig = read_rig(store.rigs.newest(entry.id).text)

    assert answer.headers["location"] == f"/rigs/{entry.id}/trace"
    assert rig.name == "Oren Vale's stock trailer"
    assert rig.trailer.braking is Braking.ELECTRIC
    assert len(rig.trailer.brakes) == 6
    lights = [light.source for lamp in rig.trailer.lamps for light in lamp.lights]
    assert all(isinstance(source, Led) for source in lights)
    assert "Said: connector 7-blade, lamps led, brakes electric, magnets 6." in rig.notes
    assert "Not known, so the usual was taken: volts 12, feed shared" in rig.notes


def test_an_answer_nobody_offered_is_told_and_the_others_stay(host: Asker, store: Store) -> None:
    answer = host.post(PAGE, PAGE, lamps="candles", brakes="surge", name="Ray", go="trace")

    assert answer.status_code == 422
    assert store.rigs.search() == ()
    assert "give one of filament, led, mixed" in words(answer)
    assert 'value="surge" checked' in answer.text
    assert 'value="Ray"' in answer.text


def test_a_program_begins_a_rig_with_what_is_known(host: Asker, store: Store) -> None:
    headers = {PROGRAM_HEADER: "bench"}
    answers = {each.key: each.answers[-1][0] for each in questions()}
    made = host.client.post(
        "/api/known/rigs", json={"answers": answers, "name": "Known"}, headers=headers
    )

    assert made.status_code == 201
    assert store.rigs.entry(made.json()["id"]).name == "Known"
    wrong = {"answers": {"lamps": "candles", "sun": "1"}}
    refused = host.client.post("/api/known/rigs", json=wrong, headers=headers)
    assert refused.status_code == 422
    assert len(refused.json()["problems"]) == 2


@pytest.mark.parametrize("question", questions(), ids=lambda each: each.key)
def test_every_answer_on_the_screen_begins_a_rig(question: Question) -> None:
    for key, shown, _ in question.answers:
        assert shown[:1] == shown[:1].upper()
        assert read_rig(answered_text({question.key: key})).trailer.lamps
