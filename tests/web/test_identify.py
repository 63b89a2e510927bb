"""Identifying wires in the workbench: begun, asked, resumed, kept."""

import re
from html import unescape

import pytest
from tests.web.asking import Asker, words

from loomwright.identify.behaviour import function_rows
from loomwright.store.store import Store

ANSWERS = {
    ("1", "ohms"): "low ohms",
    ("1", "drop"): "small drop",
    ("2", "park"): "steady",
    ("3", "brake_pedal"): "steady",
}
FIELD = re.compile(r'name="(seq|command|wire|tester)" value="([^"]*)"')


@pytest.fixture
def base(rig_id: str) -> str:
    return f"/rigs/{rig_id}/identify"


def begin(host: Asker, base: str, **changed: object) -> None:
    given = {"seq": "0", "count": "3", "function": FUNCTIONS}
    answer = host.post(f"{base}/begin", **(given | changed))
    assert answer.status_code == 303, words(answer)


def colour_of(host: Asker, base: str, wire: str, base_colour: str, stripe: str = "") -> str:
    """Tap the colour of a wire; return where that leads."""
    seq = FIELD.findall(host.get(f"{base}/colour?wire={wire}").text)[0][1]
    answer = host.post(f"{base}/colour", wire=wire, seq=seq, base=base_colour, stripe=stripe)
    return str(answer.headers["location"])


FUNCTIONS = ["ground", "tail", "stop"]


def fields(host: Asker, base: str) -> dict[str, str]:
    page = host.get(base).text
    return {name: unescape(value) for name, value in FIELD.findall(page)}


def truth(asked: dict[str, str]) -> str:
    dead = {"ohms": "open", "drop": "full drop"}.get(asked["command"], "nothing")
    return ANSWERS.get((asked["wire"], asked["command"]), dead)


def answer_all(host: Asker, base: str, most: int = 60) -> int:
    for count in range(most):
        asked = fields(host, base)
        if "command" not in asked:
            return count
        host.post(f"{base}/answer", **asked, seen=truth(asked))
    raise AssertionError("asks without end")


def test_a_bundle_is_begun_heeded_asked_and_kept_as_a_wire_map(
    host: Asker, base: str, store: Store
) -> None:
    assert "How many wires are there?" in words(host.get(base))
    begin(host, base)
    assert "airbag" in words(host.get(base))
    for wire, colour in (("1", "white"), ("2", "brown")):
        colour_of(host, base, wire, base_colour=colour)
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])

    answer_all(host, base)

    assert "Every wire is known" in words(host.get(base))
    kept = host.post(f"{base}/keep")
    assert kept.status_code == 303
    (found,) = store.wire_maps.wire_maps()
    assert [wire.function for wire in found.wires] == ["ground", "tail", "stop"]
    assert found.wires[0].colour == "white"
    assert "small drop, drop as a ground" in found.wires[0].verified_how


def test_what_is_sent_twice_counts_once_and_a_past_page_changes_nothing(
    host: Asker, base: str, store: Store
) -> None:
    begin(host, base)
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])
    asked = fields(host, base)

    for _ in range(2):
        host.post(f"{base}/answer", **asked, seen="nothing")
    after = store.events.newest()
    host.post(f"{base}/back", seq=asked["seq"])

    assert store.events.newest() == after
    assert "1 reading" in words(host.get(base))


def test_another_device_sees_the_same_question(host: Asker, base: str) -> None:
    begin(host, base)
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])

    assert fields(host, base) == fields(host, base)


def test_a_reading_can_be_taken_back(host: Asker, base: str) -> None:
    begin(host, base)
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])
    first = fields(host, base)
    host.post(f"{base}/answer", **first, value="0,1")
    second = fields(host, base)
    host.post(f"{base}/back", seq=second["seq"])

    third = fields(host, base)
    assert (third["wire"], third["command"]) == (first["wire"], first["command"])
    assert second["command"] != first["command"]


def test_a_number_no_meter_shows_is_told_beside_the_field(host: Asker, base: str) -> None:
    begin(host, base)
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])

    refused = host.post(f"{base}/answer", **fields(host, base), value="twelve")

    assert refused.status_code == 422
    assert "type the number that the meter shows" in words(refused)
    assert 'value="twelve"' in refused.text


def test_a_form_that_cannot_be_used_is_shown_again_with_what_was_chosen(
    host: Asker, base: str
) -> None:
    refused = host.post(f"{base}/begin", seq="0", testers="led", function=["tail"])

    assert refused.status_code == 422
    assert "say how many wires there are" in words(refused)
    assert 'value="led" checked' in refused.text


def test_colours_are_tapped_wire_by_wire_and_are_a_hint(host: Asker, base: str) -> None:
    begin(host, base)

    assert colour_of(host, base, "1", "white") == f"{base}/colour?wire=2"
    assert colour_of(host, base, "2", "brown", "white") == f"{base}/colour?wire=3"
    assert "brown with white stripe" in words(host.get(f"{base}/colours"))
    assert colour_of(host, base, "2", "black") == f"{base}/colours"
    assert "black with white stripe" not in words(host.get(f"{base}/colours"))
    assert host.get(f"{base}/colour?wire=9").status_code == 404
    assert host.get(f"{base}/colour?wire=1&base=mauvish").status_code == 404


def test_no_colours_are_asked_where_they_do_not_count(host: Asker, base: str) -> None:
    told = {"seq": "0", "count": "2", "function": ["tail"], "colours_count": "no"}

    assert host.post(f"{base}/begin", **told).headers["location"] == base


@pytest.mark.parametrize("said", ["live always", "live with ignition"])
def test_one_answer_may_say_how_it_is_with_the_key_out_and_on(
    host: Asker, base: str, said: str
) -> None:
    begin(host, base)
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])
    asked = fields(host, base)
    assert f'value="{said}"' in host.get(base).text
    host.post(f"{base}/answer", **asked, seen=said)

    assert "2 readings" in words(host.get(base))
    host.post(f"{base}/back", seq=fields(host, base)["seq"])
    assert "0 readings" in words(host.get(base))


def test_a_command_the_vehicle_lacks_is_not_asked_again(host: Asker, base: str) -> None:
    begin(host, base, function=["tail", "reverse", "fog"], testers="led")
    host.post(f"{base}/heed", seq=fields(host, base)["seq"])
    asked = fields(host, base)
    host.post(f"{base}/never", seq=asked["seq"], command=asked["command"])

    assert fields(host, base)["command"] != asked["command"]


def test_nothing_proved_is_nothing_kept(host: Asker, base: str) -> None:
    begin(host, base)

    assert host.post(f"{base}/keep").status_code == 422


def test_too_many_functions_are_told_where_they_are_marked(host: Asker, base: str) -> None:
    every = [key for key in function_rows() if key not in ("spare", "leave_alone")]
    refused = host.post(f"{base}/begin", seq="0", count="2", function=every)

    assert refused.status_code == 422
    assert "<details open>" in refused.text
    assert "leave out what cannot be there" in words(refused)
