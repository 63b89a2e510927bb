"""The light check without a browser: asked once, answered, followed, summed up."""

from __future__ import annotations

import asyncio
import json
import re
import threading
import time
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any

import pytest
from fastapi import FastAPI
from tests.web.asking import Asker, asker, words
from tests.web.checking import LAMPS, PLAN, begun

from loomwright import examples, read_rig
from loomwright.circuit.progress import Progress
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.comparing import socket_losses
from loomwright.lightcheck.model import Expectation, Plan, Standing, Step
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.store.checks_values import Given, LightCheck, NewCheck, Stage, latest
from loomwright.store.store import Store
from loomwright.web.csrf import PROGRAM_HEADER
from loomwright.web.light_checking.step_view import step_views
from loomwright.web.light_checking_live.following import Following
from loomwright.web.light_checking_live.planning import Wish
from loomwright.web.workbench import Workbench

PROGRAM = {PROGRAM_HEADER: "phone"}


def send(host: Asker, path: str, body: Any) -> Any:
    return host.client.request("POST", path, json=body, headers=PROGRAM)


@pytest.fixture
def bench(app: FastAPI) -> Workbench:
    found: Workbench = app.state.workbench
    return found


@pytest.fixture
def quick(bench: Workbench) -> Workbench:
    """Plans that are there at once."""
    bench.plans.make = lambda rig, wish, progress: PLAN
    return bench


@pytest.fixture
def check(store: Store, rig_id: str) -> LightCheck:
    return begun(store, rig_id)


@pytest.fixture
def base(check: LightCheck) -> str:
    return f"/rigs/{check.rig_id}/light-check/{check.number}"


def run_apart(awaited: Coroutine[Any, Any, Any]) -> Any:
    """Run to the end in a thread: a browser, if one was opened before, keeps this one's loop."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, awaited).result()


@pytest.fixture
def api(check: LightCheck) -> str:
    return f"/api/rigs/{check.rig_id}/light-checks/{check.number}"


def test_what_a_check_needs_is_asked_once(
    host: Asker, quick: Workbench, store: Store, rig_id: str
) -> None:
    page = f"/rigs/{rig_id}/light-check"
    wishes = []
    quick.plans.make = lambda rig, wish, progress: wishes.append(wish) or PLAN
    answer = host.post(page, page, tester=["trailer", "meter"], people="1", stage="before")

    assert answer.status_code == 303
    assert answer.headers["location"] == f"{page}/1"
    (check,) = store.checks.checks_of(rig_id)
    assert (check.plan, check.stage, check.version) == (PLAN, Stage.BEFORE, 1)
    assert wishes == [Wish("trailer+meter", 1, "off", "", prop=False)]
    assert "Go on with Check 1" in words(host.get(page))


def test_what_cannot_be_used_is_named_all_at_once(
    host: Asker, quick: Workbench, store: Store, rig_id: str
) -> None:
    page = f"/rigs/{rig_id}/light-check"
    answer = host.post(page, page, tester=["moon"], people="7", stage="never", engine="maybe")

    assert answer.status_code == 422
    assert words(answer).count("To mend") == 4
    assert store.checks.checks_of(rig_id) == ()


def test_a_plan_that_takes_long_shows_how_far_it_is(
    host: Asker, bench: Workbench, store: Store, rig_id: str
) -> None:
    gate = threading.Event()

    def slow(rig: Rig, wish: Wish, progress: Progress) -> Plan:
        progress(30, 120)
        gate.wait(20)
        return PLAN

    bench.plans.make = slow
    page = f"/rigs/{rig_id}/light-check"
    answer = host.post(page, page, tester=["trailer"], people="2", stage="after")
    waiting = answer.headers["location"]
    assert "25 of 100" in words(host.get(waiting))
    gate.set()
    time.sleep(0.1)
    ready = host.get(waiting)

    assert "data-send-now" in ready.text
    fields = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', ready.text))
    del fields["csrf"]
    assert fields["stage"] == "after"
    assert host.post(page, page, **fields).headers["location"] == f"{page}/1"
    assert store.checks.numbered(1).stage is Stage.AFTER


def test_a_plan_that_is_refused_is_told(host: Asker, bench: Workbench, rig_id: str) -> None:
    def refuse(rig: Rig, wish: Wish, progress: Progress) -> Plan:
        raise InvalidInput("socket", wish.socket, "use one of rear 7-way")

    bench.plans.make = refuse
    page = f"/rigs/{rig_id}/light-check"
    answer = host.post(page, page, tester=["trailer"], socket="moon")

    assert answer.status_code == 422
    assert "use one of rear 7-way" in words(answer)


@pytest.mark.slow
def test_the_plan_is_that_of_the_rig(host: Asker, rig_id: str) -> None:
    made = send(host, f"/api/rigs/{rig_id}/light-checks", {"tester": "trailer", "people": 2})

    assert made.status_code == 201
    commands = [each["command"] for each in made.json()["plan"]["steps"]]
    assert {"rest", "park", "left", "right", "brake_pedal", "park+left"} <= set(commands)


def test_the_cab_says_what_to_hold_and_the_lamps_what_must_light(host: Asker, base: str) -> None:
    cab, lamps = host.get(f"{base}/cab"), host.get(f"{base}/lamps")

    assert "Left signal on" in words(cab)
    assert "Hold the brake pedal" in words(cab)
    assert lamps.text.count("<svg") == 6  # five steps with lamps, one with pins
    assert "flashing" in words(lamps)
    assert "11.8 to 12.5 V" in words(lamps)


@pytest.mark.parametrize(
    ("hold", "prepare", "act", "then", "lasts_s"),
    [
        (
            "Key on, engine off. Left signal on.",
            "Key on, engine off.",
            "Left signal on",
            "",
            0,
        ),
        (
            "Engine running. Hold the brake pedal. It stays on for 30 s: go straight to the rear.",
            "Engine running.",
            "Hold the brake pedal",
            "It stays on for 30 s: go straight to the rear.",
            30,
        ),
        ("Everything off, key out.", "", "Everything off, key out", "", 0),
    ],
)
def test_the_act_stands_alone_in_large_letters(
    hold: str, prepare: str, act: str, then: str, lasts_s: int
) -> None:
    rig = read_rig(examples.text(examples.DEMO))
    plan = replace(PLAN, steps=(replace(PLAN.steps[0], hold=hold),))

    (view,) = step_views(rig, plan, {})
    assert (view.prepare, view.act, view.then, view.lasts_s) == (prepare, act, then, lasts_s)


def test_what_helps_one_person_goes_into_the_plan(
    host: Asker, quick: Workbench, rig_id: str
) -> None:
    wishes = []
    quick.plans.make = lambda rig, wish, progress: wishes.append(wish) or PLAN
    page = f"/rigs/{rig_id}/light-check"
    host.post(page, page, tester="trailer", people="1", wall="1", fob=["hazard"], pedal_s="30")
    refused = host.post(page, page, tester="trailer", people="1", pedal_s="moon")

    assert wishes == [
        Wish("trailer", 1, prop=False, wall=True, fob=("hazard",), pedal_s=30),
    ]
    assert refused.status_code == 422


def test_a_form_answers_without_any_script(host: Asker, store: Store, base: str) -> None:
    page = f"{base}/lamps"
    all_right = host.post(f"{base}/give", page, step="0", all_of="seen")
    assert all_right.headers["location"] == page
    assert store.checks.numbered(1).step == 1

    host.post(f"{base}/give", page, step="1", answer=f"park {LAMPS[0]}=off")
    assert store.checks.numbered(1).step == 1
    shown = words(host.get(page))
    assert "wrong" in shown

    host.post(f"{base}/give", page, step="1", go="2")
    host.post(
        f"{base}/give", page, step="2", number_of="left pin 5", value="9,1", value_of="left pin 5"
    )
    kept = latest(store.checks.answers(store.checks.numbered(1)))
    observation = kept["left pin 5"].answer.observation
    assert observation is not None
    assert observation.value == 9.1
    assert kept["left pin 5"].answer.standing is Standing.WRONG
    assert kept["left pin 5"].answer.says
    assert kept["left pin 5"].who == "shop computer"

    refused = host.post(
        f"{base}/give", page, step="2", number_of="left pin 5", value="x", value_of="left pin 5"
    )
    assert refused.status_code == 422
    assert "such as 12.4" in words(refused)


def test_all_dead_pins_are_answered_together(host: Asker, store: Store, base: str) -> None:
    host.post(f"{base}/give", f"{base}/lamps", step="2", all_of="dead")

    (kept,) = store.checks.answers(store.checks.numbered(1))
    assert kept.answer.expectation.key == "left pin 6"
    assert kept.answer.standing is Standing.RIGHT


def test_a_program_answers_and_reads_back(host: Asker, api: str) -> None:
    answers = [
        {"expectation": f"left {LAMPS[1]}", "word": "off"},
        {"expectation": "left pin 5", "value": 12.2},
        {"expectation": "left pin 6", "not_tested": True},
    ]
    sent = {"key": "k" * 16, "answers": answers, "step": 2, "age_s": 60}
    for _ in range(2):
        state = send(host, f"{api}/answers", sent).json()

    assert state["step"] == 2
    stands = {each["expectation"]: each["standing"] for each in state["answers"]}
    assert stands == {
        f"left {LAMPS[1]}": "wrong",
        "left pin 5": "right",
        "left pin 6": "not tested",
    }
    assert host.get(api).json()["answers"] == state["answers"]
    assert host.get(api).json()["plan"]["steps"][2]["command"] == "left"
    (listed,) = host.get(api.rpartition("/")[0]).json()
    assert listed["number"] == 1
    assert send(host, f"{api}/end", {}).json()["ended_at"]


def test_a_wrong_reading_says_at_once_what_it_suggests(host: Asker, api: str) -> None:
    answers = [{"expectation": f"park {LAMPS[0]}", "word": "off"}]
    state = send(host, f"{api}/answers", {"key": "k" * 16, "answers": answers}).json()

    assert state["answers"][0]["says"]


def test_every_answer_that_cannot_be_used_is_named_and_none_is_kept(
    host: Asker, store: Store, api: str
) -> None:
    answers = [
        {"expectation": "moon", "word": "off"},
        {"expectation": f"park {LAMPS[0]}", "word": "purple"},
        {"expectation": "left pin 5", "word": "off"},
        {"expectation": "left pin 5", "value": 12.0},
    ]
    refused = send(host, f"{api}/answers", {"key": "k" * 16, "answers": answers})

    assert refused.status_code == 422
    fields = [each["field"] for each in refused.json()["problems"]]
    assert fields == ["answers[0].expectation", "answers[1].word", "answers[2].value"]
    assert store.checks.answers(store.checks.numbered(1)) == ()


def test_what_is_normal_for_this_vehicle_is_so_in_the_next_check(
    host: Asker, store: Store, rig_id: str, api: str
) -> None:
    usual = {"expectation": "left pin 5", "value": 9.1, "usual": True}
    send(host, f"{api}/answers", {"key": "k" * 16, "answers": [usual]})
    other = f"/api/rigs/{rig_id}/light-checks/{begun(store, rig_id).number}"

    again = {"expectation": "left pin 5", "value": 9.1}
    state = send(host, f"{other}/answers", {"key": "m" * 16, "answers": [again]}).json()
    assert state["answers"][0]["standing"] == "normal for this vehicle"

    page = f"/rigs/{rig_id}/light-check"
    assert "Normal for this vehicle: 1" in words(host.get(page))
    (kept,) = store.usual.usual_for("Quillon 300 passenger van")
    host.post(f"{page}/usual/{kept.id}/retire", page)
    assert "Normal for this vehicle" not in words(host.get(page))


def test_the_summary_leaves_nothing_out(host: Asker, api: str, base: str) -> None:
    answers = [
        {"expectation": f"park {LAMPS[0]}", "word": "off"},
        {"expectation": f"park {LAMPS[2]}", "word": "normal"},
    ]
    send(host, f"{api}/answers", {"key": "k" * 16, "answers": answers})
    shown = words(host.get(f"{base}/summary"))
    expected = sum(len(step.expectations) for step in PLAN.steps)

    assert "1 wrong" in shown
    assert f"{expected - 2} not tested" in shown
    assert "1 right" in shown
    assert "brake amps: no clamp meter" in shown.lower()


def test_before_and_after_stand_side_by_side(host: Asker, store: Store, rig_id: str) -> None:
    key, at = f"park {LAMPS[0]}", f"/api/rigs/{rig_id}/light-checks"
    for number, (stage, word) in enumerate(
        ((Stage.BEFORE, Word.OFF), (Stage.AFTER, Word.NORMAL)), start=1
    ):
        begun(store, rig_id, stage)
        answers = [{"expectation": key, "word": str(word)}]
        send(host, f"{at}/{number}/answers", {"key": f"k{number}" * 8, "answers": answers})

    shown = words(host.get(f"/rigs/{rig_id}/light-check/2/summary"))
    assert "Before and after" in shown
    assert "off normal mended" in shown


@pytest.mark.slow
def test_an_added_socket_stands_beside_the_old_one(host: Asker, store: Store) -> None:
    """A new socket that reads as the old one loses nothing; 3 V less is wrong on any wire."""
    text = examples.text("second-socket-flatbed")
    rig, rig_id = read_rig(text), store.rigs.create(text, "Ines").id
    old, new = (each.name for each in rig.sockets)
    good, bad = socket_losses(rig, old, new)[:2]
    volts = {good.old_pin: 12.4, good.new_pin: 12.4, bad.old_pin: 12.4, bad.new_pin: 9.4}
    expectations = {
        pin: Expectation(
            f"{loss.command} {pin}",
            Place(PlaceKind.PIN, *pin),
            str(pin),
            Quantity.VOLTS,
            low=9.0,
            high=13.0,
            plugged=False,
            command=loss.command,
            tester="load-box",
        )
        for loss in (good, bad)
        for pin in (loss.old_pin, loss.new_pin)
    }
    steps = (Step("s", good.command, "Hold.", True, "socket", tuple(expectations.values())),)
    plan = replace(PLAN, steps=steps)
    check = store.checks.begin(NewCheck(rig_id, 1, "Sockets", Stage.PLAIN, plan), "Ines")
    answers = [{"expectation": expectations[pin].key, "value": v} for pin, v in volts.items()]
    base = f"/api/rigs/{rig_id}/light-checks/{check.number}"
    send(host, f"{base}/answers", {"key": "k" * 16, "answers": answers})

    shown = words(host.get(f"/rigs/{rig_id}/light-check/{check.number}/summary"))
    assert "Old socket and new" in shown
    assert "the new socket loses 3.00 V" in shown
    assert "12.40 V 12.40 V within what the trade lets it lose" in shown


def test_the_short_link_leads_to_the_check(host: Asker, base: str) -> None:
    assert host.get("/join/1").headers["location"] == base
    assert host.get("/join/7").status_code == 404
    assert "/join/1" in words(host.get(base))


def test_a_device_that_was_never_here_comes_to_the_check_by_its_code(
    app: FastAPI, store: Store, far: Asker, base: str
) -> None:
    asked = far.get("/join/1")
    assert asked.status_code == 401
    code = store.devices.new_pairing_code("Ines").code
    token = re.search(r'name="csrf" value="([^"]+)"', asked.text)
    assert token
    answer = far.client.post("/pair", data={"csrf": token[1], "code": code, "name": "Phone"})

    assert answer.headers["location"] == "/join/1"
    assert far.get("/join/1").headers["location"] == base


def test_other_rigs_checks_and_unknown_ones_are_not_found(
    host: Asker, store: Store, base: str
) -> None:
    other = store.rigs.create(examples.text("utility-rewire"), "Ines").id
    for path in (f"/rigs/{other}/light-check/1", f"{base}7", f"{base}/moon", f"{base}7/cab"):
        assert host.get(path).status_code in (404, 422)


def test_an_ended_check_leads_to_its_summary_and_takes_late_answers(
    host: Asker, store: Store, api: str, base: str
) -> None:
    assert host.post(f"{base}/end", base).headers["location"] == f"{base}/summary"
    late = {"expectation": f"park {LAMPS[0]}", "word": "off"}

    assert send(host, f"{api}/answers", {"key": "k" * 16, "answers": [late]}).status_code == 200
    assert len(store.checks.answers(store.checks.numbered(1))) == 1


def test_who_follows_hears_what_was_missed_and_what_comes(store: Store, check: LightCheck) -> None:
    """What came before is told at once, what comes within 200 ms, nothing twice.

    The machine may be busy with other tests, so the best of three counts.
    """
    following = Following()
    store.checks.give(check.id, Given("missed-0", step=1), "Kim")

    async def hear() -> tuple[list[int], list[float]]:
        stream = following.stream(store, check.id, "lamps", 0)
        heard: list[int] = []
        sent: list[float] = []
        late: list[float] = []
        async for said in stream:
            if "event: check" not in said:
                continue
            heard.append(json.loads(said.partition("data: ")[2])["step"])
            if sent:
                late.append(time.perf_counter() - sent[-1])
            if len(heard) == 5:
                break
            if len(heard) >= 2:
                sent.append(time.perf_counter())
                given = Given(f"comes-in-{len(heard)}", step=len(heard))
                await asyncio.to_thread(store.checks.give, check.id, given, "Kim")
                following.wake(check.id)
        await stream.aclose()  # type: ignore[attr-defined]
        return heard, late

    heard, late_s = run_apart(hear())
    assert heard == [0, 1, 2, 3, 4]
    assert min(late_s) < 0.2
    assert following.present(check.id) == {}


def test_who_else_is_there_is_told(store: Store, check: LightCheck) -> None:
    following = Following()

    async def hear() -> list[dict[str, int]]:
        stream = following.stream(store, check.id, "lamps", 10**6)
        told: list[dict[str, int]] = []
        async for said in stream:
            if "event: here" in said:
                told.append(json.loads(said.partition("data: ")[2]))
            if len(told) == 1:
                with following.following(check.id, "cab"):
                    async for more in stream:
                        if "event: here" in more:
                            told.append(json.loads(more.partition("data: ")[2]))
                            break
                break
        await stream.aclose()  # type: ignore[attr-defined]
        return told

    assert run_apart(hear()) == [{"lamps": 1}, {"lamps": 1, "cab": 1}]


def test_a_stranger_sees_nothing_of_a_check(app: FastAPI, far: Asker, base: str) -> None:
    stranger = asker(app, "192.0.2.17", "192.0.2.99")
    for path in (base, f"{base}/lamps", f"{base}/summary", f"{base}/events"):
        assert stranger.get(path).status_code == 401
