"""Describing a rig by questions: what is shown, kept, refused, added, taken and settled."""

from __future__ import annotations

import re
import tomllib
from html import unescape

import pytest
from httpx2 import Response
from tests.web.asking import TAG, Asker, words

from loomwright import examples
from loomwright.colours import Colour, colour_names, read_colour
from loomwright.quantities import Units
from loomwright.rig.read import read_job, read_rig
from loomwright.store.store import Store
from loomwright.web.describing.choices import connector_options
from loomwright.web.describing.joint_pictures import JUNCTIONS, POSTS, WIRE_TO_WIRE, joint_options
from loomwright.web.describing.parts import PARTS, Place, questions_at
from loomwright.web.describing.questions import Kind
from loomwright.web.describing.settling import differing, settled
from loomwright.web.describing.understood import candidates, understood
from loomwright.web.describing.writing import edits, shown, write_all


def post(who: Asker, path: str, values: dict[str, str]) -> Response:
    """Send a form as a page of ours would; its fields may have any name."""
    return who.client.post(path, data={"csrf": who.token(), **values})


def said(part: Response) -> str:
    """What a person reads in a part of a page."""
    return " ".join(unescape(TAG.sub(" ", part.text)).split())


def send(who: Asker, store: Store, rig_id: str, place: str, values: dict[str, str]) -> str:
    """Send a form; return where it leads."""
    number = values.pop("based_on", None) or str(store.rigs.newest(rig_id).number)
    answer = post(who, f"/rigs/{rig_id}/describe/{place}", {"based_on": number, **values})
    assert answer.status_code == 303, words(answer)
    return answer.headers["location"]


@pytest.mark.parametrize("name", examples.names())
def test_every_page_of_every_example_shows_what_the_file_says(
    host: Asker, store: Store, name: str
) -> None:
    rig_id = store.rigs.create(examples.text(name), "Ines").id
    data = read_job(examples.text(name)).model_dump(by_alias=True, exclude_unset=True, mode="json")
    for part in PARTS:
        page = host.get(f"/rigs/{rig_id}/describe/{part.key}")
        asked = questions_at(Place(part), data)

        assert page.status_code == 200
        for one in asked:
            assert one.label in words(page)
            is_typed = not (one.is_tapped or one.is_ticked or one.kind == "connector")
            if (text := shown(one, data)) and is_typed:
                assert text in unescape(page.text), one.path


def test_answering_what_is_written_changes_nothing() -> None:
    text = examples.text(examples.DEMO)
    data = read_job(text).model_dump(by_alias=True, exclude_unset=True, mode="json")
    places = [Place(part) for part in PARTS]
    places += [Place(part, 1) for part in PARTS if part.listed and Place(part, 1).exists(data)]
    for place in places:
        for one in questions_at(place, data):
            if shown(one, data):
                written = write_all(text, edits(one, shown(one, data), data))
                assert read_job(written) == read_job(text), one.path


def test_an_answer_is_kept_with_the_comments_and_can_be_taken_back(
    host: Asker, store: Store, rig_id: str
) -> None:
    before = store.rigs.newest(rig_id).text
    to = send(host, store, rig_id, "vehicle", {"vehicle.supply.running": "14.3 V", "next": "1"})
    newest = store.rigs.newest(rig_id)

    assert to.endswith("/describe/feeds")
    assert newest.text == before.replace('running = "14.1 V"', 'running = "14.3 V"')
    assert "Take it back" in words(host.get(to))


def test_an_emptied_answer_is_assumed_again_and_says_so(
    host: Asker, store: Store, rig_id: str
) -> None:
    send(host, store, rig_id, "feeds/1", {"vehicle.feed[1].length": ""})
    page = words(host.get(f"/rigs/{rig_id}/describe/feeds/1"))

    assert read_job(store.rigs.newest(rig_id).text).vehicle.feeds[0].length is None
    # defaults.csv, feed.other.length: fuse box in front to the rear bumper, 20 ft
    assert "Assumed: 20 ft , fuse box in front to the rear bumper" in page


def test_what_cannot_be_used_stays_in_its_field_with_the_mend_beside_it(
    host: Asker, store: Store, rig_id: str
) -> None:
    to = send(host, store, rig_id, "feeds/1", {"vehicle.feed[1].length": "19", "next": "1"})
    page = host.get(to.partition("#")[0])

    assert to.endswith("/feeds/1#q-vehicle-feed-1-length")
    assert not store.rigs.newest(rig_id).usable
    assert 'value="19"' in page.text
    assert "To mend" in words(page)
    assert 'value="vehicle.feed[1].length=19 ft"' in page.text
    send(host, store, rig_id, "feeds/1", {"pick": "vehicle.feed[1].length=19 ft"})
    assert store.rigs.newest(rig_id).usable


def test_a_draft_shows_what_is_wrong_elsewhere_and_where_to_mend_it(
    host: Asker, store: Store, rig_id: str
) -> None:
    send(host, store, rig_id, "feeds/1", {"vehicle.feed[1].length": "19"})
    page = host.get(f"/rigs/{rig_id}/describe/trailer")

    assert "1 entry to mend before the rig can be used" in words(page)
    assert f"/rigs/{rig_id}/describe/feeds/1" in page.text


def test_a_text_that_is_no_toml_is_mended_as_text(host: Asker, store: Store) -> None:
    rig_id = store.rigs.import_text("[vehicle\n", "Ines", "broken.toml").id

    answer = host.get(f"/rigs/{rig_id}/describe")

    assert answer.status_code == 422
    assert f"/rigs/{rig_id}/text" in answer.text


def test_letters_that_mean_several_colours_are_offered_to_be_tapped(
    host: Asker, store: Store, rig_id: str
) -> None:
    path = "vehicle.feed[1].colour"
    check = f"/rigs/{rig_id}/describe/check?path={path}"
    answer = post(host, check, {path: "BR/GR"})

    assert "brown with green stripe" in said(answer)
    assert "brown with grey stripe" in said(answer)
    assert f'value="{path}=brown with grey stripe"' in answer.text
    assert store.rigs.newest(rig_id).number == 1


def test_a_quantity_is_read_back_in_the_readers_units(host: Asker, rig_id: str) -> None:
    path = "vehicle.feed[1].length"
    host.post("/settings/units", units="metric")

    answer = post(host, f"/rigs/{rig_id}/describe/check?path={path}", {path: "20 ft"})

    assert "Read as 6.1 m" in said(answer)  # 20 ft of 0.3048 m


@pytest.mark.parametrize(
    ("kind", "text", "units", "offered"),
    [
        ("length", "19", Units.US, ["19 ft", "19 in", "19 m", "19 cm"]),
        ("length", "19", Units.METRIC, ["19 m", "19 cm", "19 ft", "19 in"]),
        ("size", "14", Units.US, ["14 AWG", "14 SAE"]),
        ("size", "1.5", Units.METRIC, ["1.5 mm2"]),
        ("lamp", "1157", Units.US, ["1157 major", "1157 minor"]),
        ("lamp", "le", Units.US, ["LED"]),
    ],
)
def test_what_may_have_been_meant_is_offered(
    kind: Kind, text: str, units: Units, offered: list[str]
) -> None:
    found = candidates(kind, text, units, None)

    assert [one.value for one in found] == offered


def test_nothing_is_read_back_that_stands_there_already() -> None:
    assert understood("length", "19 ft", Units.US) == ""
    assert understood("length", "4 ft 3 in", Units.METRIC) == "1.3\u00a0m"
    assert understood("length", "no length", Units.US) == ""


def test_every_swatch_is_a_colour_that_can_be_read_again() -> None:
    for base in colour_names():
        for stripe in (None, *colour_names()):
            colour = Colour(base, stripe)
            assert read_colour(colour.words) == colour


def test_a_colour_is_chosen_by_base_and_stripe(host: Asker, store: Store, rig_id: str) -> None:
    path = "vehicle.feed[2].colour"
    page = host.get(f"/rigs/{rig_id}/describe/choose-colour?path={path}")
    chosen = {"path": path, "base": "light_green", "stripe": "black", "pattern": "stripe"}
    to = send(host, store, rig_id, "choose-colour", chosen)

    assert "black with white stripe" in words(page)
    assert to.endswith("/feeds/2#q-vehicle-feed-2-colour")
    colour = read_rig(store.rigs.newest(rig_id).text).vehicle.feeds[1].wire.colour
    assert colour == Colour("light_green", "black")


def test_a_lamp_is_found_by_its_number_and_a_socket_by_its_face(
    host: Asker, store: Store, rig_id: str
) -> None:
    path = "trailer.lamp[1].lights.tail"
    found = host.get(f"/rigs/{rig_id}/describe/choose-lamp?path={path}&q=20")
    send(host, store, rig_id, "choose", {"path": path, "value": "2057 minor"})
    faces = host.get(f"/rigs/{rig_id}/describe/choose-connector?path=trailer.plug")

    assert "2057 minor" in words(found)
    assert read_job(store.rigs.newest(rig_id).text).trailer.lamps[0].lights["tail"] == "2057 minor"
    assert all(one.title in words(faces) for one in connector_options())
    assert faces.text.count("<svg") == len(connector_options())
    assert re.findall(r"<details[^>]* open>\s*<summary><h2>([^<]+)", faces.text) == [
        "United States"
    ]
    assert "6 right stop + turn, 7 reverse" in words(faces).replace("\u00a0", " ")


def test_every_joint_to_choose_has_its_picture_in_words() -> None:
    for option in joint_options((*JUNCTIONS, *WIRE_TO_WIRE, *POSTS)):
        assert len(option.words) > 20


def test_feeds_lamps_axles_legs_and_loads_are_added_copied_and_taken_out(
    host: Asker, store: Store, rig_id: str
) -> None:
    def act(act: str, path: str, **more: str) -> str:
        return send(host, store, rig_id, "entries", {"act": act, "path": path, **more})

    first = read_job(store.rigs.newest(rig_id).text)
    assert act("add", "vehicle.feed", function="fog").endswith("/describe/feeds/8")
    act("copy", "vehicle.feed[8]", function="aux")
    act("add", "trailer.lamp", kind="reverse", light="LED")
    act("copy", "trailer.lamp[1]")
    act("remove", "trailer.lamp[8]")
    act("add", "trailer.lamp[7].lights", function="tail", light="bulb")
    act("add", "socket[1].leg", name="bumper to the socket", length="2 ft")
    act("add", "trailer.brake")
    assert not store.rigs.newest(rig_id).usable  # the file says two axles
    act("remove", "trailer.brake[3]")
    act("add", "trailer.appliance", name="water pump", power="60 W")
    now = read_job(store.rigs.newest(rig_id).text)

    assert [feed.function for feed in now.vehicle.feeds][-2:] == ["fog", "aux"]
    assert now.trailer.lamps[6].lights == {"reverse": "LED", "tail": "1157 minor"}
    assert len(now.trailer.lamps) == len(first.trailer.lamps) + 1
    assert now.sockets[0].legs[-1].length == "2 ft"
    assert now.trailer.brakes == first.trailer.brakes
    assert now.trailer.appliances[0].power == "60 W"


def test_a_lamp_of_one_side_is_copied_to_the_other(host: Asker, store: Store, rig_id: str) -> None:
    send(host, store, rig_id, "entries", {"act": "remove", "path": "trailer.lamp[2]"})
    send(host, store, rig_id, "entries", {"act": "copy", "path": "trailer.lamp[1]"})
    copied = read_job(store.rigs.newest(rig_id).text).trailer.lamps[-1]

    assert (copied.name, copied.side) == ("right rear", "right")
    assert set(copied.lights) == {"tail", "right_stop_turn"}


def test_sockets_and_the_legs_of_a_route_are_put_into_another_order_and_back(
    host: Asker, store: Store
) -> None:
    rig_id = store.rigs.create(examples.text("second-socket-flatbed"), "Ines").id
    first = store.rigs.newest(rig_id).text
    base = f"/rigs/{rig_id}/describe"

    def names() -> list[str]:
        return [one["name"] for one in tomllib.loads(store.rigs.newest(rig_id).text)["socket"]]

    before = names()
    to = send(host, store, rig_id, "entries", {"act": "move", "move": "socket[2] 1"})
    page = host.get(to.partition("#")[0])

    assert to == f"{base}/sockets#order-1"
    assert names() == before[::-1]
    assert "socket[1] moved to socket[2]" in words(page)
    assert "name a socket that stands before this one" in words(page)  # it joins the other
    assert 'id="order-1"' in page.text
    assert 'value="socket[1] 2"' in page.text
    assert 'value="socket[1] 0"' not in page.text  # the first has no way up
    post(host, f"/rigs/{rig_id}/undo", {})
    assert store.rigs.newest(rig_id).text == first

    to = send(host, store, rig_id, "entries", {"act": "move", "move": "socket[2].leg[1] 2"})
    assert to == f"{base}/sockets/2#leg-2"
    assert 'id="leg-2"' in host.get(to.partition("#")[0]).text
    assert [leg.name for leg in read_job(store.rigs.newest(rig_id).text).sockets[1].legs] == [
        leg.name for leg in reversed(read_job(first).sockets[1].legs)
    ]


@pytest.mark.parametrize("move", ["", "socket[1]", "rig 1", "socket[1] 9", "socket[7] 1"])
def test_a_move_that_leads_nowhere_is_refused(
    host: Asker, store: Store, rig_id: str, move: str
) -> None:
    values = {"based_on": "1", "act": "move", "move": move}
    answer = post(host, f"/rigs/{rig_id}/describe/entries", values)

    assert answer.status_code == 422
    assert store.rigs.newest(rig_id).number == 1


@pytest.mark.parametrize("path", ["rig", "vehicle.name", "trailer.lamp[1]..", "socket[1].lead"])
def test_nothing_but_entries_can_be_taken_out(
    host: Asker, store: Store, rig_id: str, path: str
) -> None:
    values = {"based_on": "1", "act": "remove", "path": path}
    answer = post(host, f"/rigs/{rig_id}/describe/entries", values)

    assert answer.status_code == 422
    assert store.rigs.newest(rig_id).number == 1


def test_only_what_a_page_asks_can_be_written_there(host: Asker, store: Store, rig_id: str) -> None:
    send(host, store, rig_id, "job", {"vehicle.name": "Other", "rig.name": "Mine"})

    job = read_job(store.rigs.newest(rig_id).text)
    assert (job.rig.name, job.vehicle.name) == ("Mine", "Quillon 300 passenger van")


@pytest.mark.parametrize(
    "place", ["nowhere/1", "feeds/99", "feeds/-1", "lamps/0/tail", "vehicle/3", "trailer/2"]
)
def test_a_place_that_the_rig_has_not_is_missed(host: Asker, rig_id: str, place: str) -> None:
    assert host.get(f"/rigs/{rig_id}/describe/{place}").status_code in {404, 422}


def test_a_converter_that_goes_lets_its_sockets_go(host: Asker, store: Store, rig_id: str) -> None:
    send(host, store, rig_id, "converter", {"converter": "no"})
    job = read_job(store.rigs.newest(rig_id).text)

    assert job.converter is None
    assert job.sockets[0].joins is None


def test_feeds_of_an_earlier_rig_are_seen_before_they_are_taken(
    host: Asker, store: Store, rig_id: str
) -> None:
    other = store.rigs.create(examples.text("boat-surge-brakes"), "Tomas")
    listed = host.get(f"/rigs/{rig_id}/describe/take-feeds?q=boat")
    seen = host.get(f"/rigs/{rig_id}/describe/take-feeds?source={other.id}")
    before = store.rigs.newest(rig_id).number
    there = {
        one.function: one for one in read_job(examples.text("boat-surge-brakes")).vehicle.feeds
    }

    assert other.vehicle in words(listed)
    assert "new here" in words(seen)
    assert store.rigs.newest(rig_id).number == before
    chosen = {"source": other.id, "take": "battery"}
    assert send(host, store, rig_id, "take-feeds", chosen).endswith("/feeds")
    feeds = {one.function: one for one in read_job(store.rigs.newest(rig_id).text).vehicle.feeds}
    assert feeds["battery"] == there["battery"]
    assert feeds["stop"].colour == "BK/RD"


def test_loads_of_an_earlier_trailer_take_the_place_of_those_here(
    host: Asker, store: Store, rig_id: str
) -> None:
    other = store.rigs.create(examples.text("boat-surge-brakes"), "Tomas")
    there = read_job(examples.text("boat-surge-brakes")).trailer
    seen = host.get(f"/rigs/{rig_id}/describe/take-loads?source={other.id}")
    send(host, store, rig_id, "take-loads", {"source": other.id, "take": "trailer.lamp"})
    here = read_job(store.rigs.newest(rig_id).text).trailer

    assert "replaces 6 lamps" in words(seen)
    assert here.lamps == there.lamps
    assert len(here.brakes) == 2


def test_a_wire_map_is_kept_with_its_proofs_and_offered_for_the_next_such_vehicle(
    host: Asker, store: Store, rig_id: str
) -> None:
    meter = "meter at the wire, its command on and off"
    kept = send(host, store, rig_id, "wire-map", {"how.tail": meter, "fits": "Quillon 300*"})
    text = examples.text(examples.DEMO).replace('colour = "GY/BK"\n', "")
    text = text.replace('"Quillon 300 passenger van"', '"Quillon 300 high roof"')
    second = store.rigs.create(text, "Ines").id
    feeds = host.get(f"/rigs/{second}/describe/feeds")
    (wire_map,) = store.wire_maps.wire_maps()
    seen = host.get(f"/rigs/{second}/describe/wire-maps?source={wire_map.id}")
    send(host, store, second, "wire-maps", {"source": wire_map.id, "take": "tail"})

    assert kept.endswith("/wire-maps")
    assert [wire.function for wire in wire_map.wires] == ["tail"]
    assert "The shop has 1 wire map for this vehicle" in words(feeds)
    assert "grey with black stripe" in words(seen)
    assert meter in words(seen)
    first = read_rig(store.rigs.newest(second).text).vehicle.feeds[0]
    assert first.wire.colour == Colour("grey", "black")
    assert first.wire.length_m == pytest.approx(17 * 0.3048)  # what the map does not say stays


def test_a_wire_map_without_a_proof_is_not_kept(host: Asker, store: Store, rig_id: str) -> None:
    answer = host.post(f"/rigs/{rig_id}/describe/wire-map", fits="Quillon*")

    assert answer.status_code == 422
    assert 'value="Quillon*"' in answer.text
    assert store.wire_maps.wire_maps() == ()


def test_the_second_of_two_devices_sees_both_and_settles_field_by_field(
    host: Asker, store: Store, rig_id: str
) -> None:
    text = store.rigs.newest(rig_id).text
    theirs = text.replace('slack = "8 in"', 'slack = "12 in"').replace('"7 ft"', '"8 ft"')
    store.rigs.save(rig_id, theirs, 1, "Tomas, bay tablet")
    answers = {"socket[1].slack": "10 in", "socket[1].location": "in the bumper"}
    answer = post(host, f"/rigs/{rig_id}/describe/sockets/1", {"based_on": "1", **answers})
    told = words(answer)
    yours = re.search(r'name="yours" value="([^"]*)"', answer.text)
    settle = {
        "settles": "2",
        "yours": unescape(yours[1]) if yours else "",
        "take.socket[1].slack": "yours",
        "take.socket[1].location": "yours",
        "based_on": "1",
    }

    assert answer.status_code == 409
    assert "Tomas, bay tablet kept version 2" in told
    assert "12 in" in told
    assert "10 in" in told
    assert store.rigs.newest(rig_id).number == 2
    send(host, store, rig_id, "settle", settle)
    job = read_job(store.rigs.newest(rig_id).text)
    assert (job.sockets[0].slack, job.sockets[0].location) == ("10 in", "in the bumper")
    assert job.trailer.cord is not None
    assert job.trailer.cord.length == "8 ft"


def test_one_person_quick_changes_of_different_fields_go_together(
    host: Asker, store: Store, rig_id: str
) -> None:
    for field, text in (("slack", "10 in"), ("location", "in the bumper")):
        values = {f"socket[1].{field}": text, "based_on": "1"}
        send(host, store, rig_id, "sockets/1", values)
    socket = read_job(store.rigs.newest(rig_id).text).sockets[0]

    assert (socket.slack, socket.location) == ("10 in", "in the bumper")


def test_a_list_that_somebody_lengthened_is_settled_as_one() -> None:
    base = '[[trailer.lamp]]\nname = "a"\n'
    theirs = base + '[[trailer.lamp]]\nname = "b"\n'
    yours = base.replace('"a"', '"c"')
    (field,) = differing(base, theirs, yours)

    assert field.path == "trailer.lamp"
    assert field.is_both
    assert settled(base, theirs, yours, {"trailer.lamp": "theirs"}) == theirs
    assert 'name = "c"' in settled(base, theirs, yours, {"trailer.lamp": "yours"})


def test_a_form_without_its_token_changes_nothing(host: Asker, store: Store, rig_id: str) -> None:
    answer = host.client.post(f"/rigs/{rig_id}/describe/job", data={"rig.name": "x", "based_on": 1})

    assert answer.status_code == 403
    assert store.rigs.newest(rig_id).number == 1


def test_ticking_takes_out_wires_and_ties_returns_together(
    host: Asker, store: Store, rig_id: str
) -> None:
    """One group of returns; unticked, each runs to its own pin again."""
    rig = store.rigs.create(examples.text("caravan-thirteen-pin"), "Ines").id
    joined = "trailer.joined_returns"
    send(host, store, rig, "trailer", {joined: "ground, ground_battery"})
    assert read_job(store.rigs.newest(rig).text).trailer.joined_returns == (
        ("ground", "ground_battery"),
    )
    send(host, store, rig, "trailer", {joined: "", "trailer.cord.without": "reverse"})
    trailer = read_job(store.rigs.newest(rig).text).trailer
    assert trailer.joined_returns is None
    assert trailer.cord is not None
    assert trailer.cord.without == ("reverse",)
    assert f'name="{joined}"' not in host.get(f"/rigs/{rig_id}/describe/trailer").text


def test_a_second_socket_begins_as_a_copy_of_the_first(
    host: Asker, store: Store, rig_id: str
) -> None:
    values = {"act": "copy", "path": "socket[1]"}
    assert send(host, store, rig_id, "entries", values).endswith("/describe/sockets/2")
    first, second = read_job(store.rigs.newest(rig_id).text).sockets

    assert (second.name, second.joins) == ("rear 7-way 2", "rear 7-way")
    assert second.connector == first.connector
    assert second.legs == first.legs


def test_the_last_lamp_of_a_list_is_offered_while_it_is_typed() -> None:
    offered = candidates("lamps", "R5W, 115", Units.US, None)

    assert "R5W, 1157 minor" in [one.value for one in offered]
