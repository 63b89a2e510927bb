"""The run, load check, findings, hook-up and sheet, asked for as a browser without script would."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import urlencode

import pytest
from httpx2 import Response
from tests.web.asking import Asker, words

from loomwright import check, examples, read_rig, survey
from loomwright.changes.mends import mend_for
from loomwright.changes.outcome import findings_moved
from loomwright.checks.finding_keys import find_finding, finding_key
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import show_current, show_voltage
from loomwright.rig.read import read_job
from loomwright.store.store import Store

DEMO = examples.text(examples.DEMO)
PARTLY = {"hx-request": "true"}


def links(page: str) -> list[str]:
    return [unescape(each) for each in re.findall(r'<a [^>]*href="([^"]+)"', page)]


def plain(shown: str) -> str:
    """A quantity as `words` gives it: the space before its unit an ordinary one."""
    return " ".join(shown.split())


def keep(host: Asker, rig_id: str, path: str, to: str) -> Response:
    """Keep a trial that was based on the first version."""
    values = {"csrf": host.token(), "path": path, "to": to, "based_on": "1"}
    return host.client.post(f"/rigs/{rig_id}/load/keep", data=values)


def test_the_run_says_what_the_battery_gives_under_the_command(host: Asker, rig_id: str) -> None:
    answer = survey(read_rig(DEMO)).answers.at("park")
    shown = words(host.get(f"/rigs/{rig_id}/run?do=park"))

    assert "Park lamps" in shown
    assert f"{plain(show_current(answer.supply_current_a))} from the battery" in shown


def test_every_lamp_stands_in_the_table_behind_the_drawing(host: Asker, rig_id: str) -> None:
    answer = survey(read_rig(DEMO)).answers.at("park+brake_pedal")
    page = host.get(f"/rigs/{rig_id}/run?do=park%2Bbrake_pedal").text
    table = page.partition("Loads under")[2]

    for load in answer.loads:
        if load.kind == "lamp":
            row = table.partition(f">{load.name}<")[2][:400]
            assert show_voltage(load.voltage_v) in row, load.name
            assert load.word in row, load.name


@pytest.mark.parametrize("under", ["dim", "heavy", "engine-off"])
def test_conditions_change_what_is_read(host: Asker, rig_id: str, under: str) -> None:
    answer = survey(read_rig(DEMO)).answers.at("park", under)
    shown = words(host.get(f"/rigs/{rig_id}/run?do=park&under={under}"))

    assert plain(show_voltage(answer.supply_v)) in shown


@pytest.mark.parametrize("query", ["do=fly", "under=water", "do=park&under=%00"])
def test_a_command_that_is_none_is_told_with_those_there_are(
    host: Asker, rig_id: str, query: str
) -> None:
    answer = host.get(f"/rigs/{rig_id}/run?{query}")

    assert answer.status_code == 422
    assert "use one of" in words(answer)


def test_every_part_of_the_circuit_has_a_page(host: Asker, rig_id: str) -> None:
    for element, part in wire_up(read_rig(DEMO)).parts.items():
        answer = host.get(f"/rigs/{rig_id}/run/{element}", headers=PARTLY)

        assert answer.status_code == 200, element
        assert part.place.casefold() in words_of_part(answer.text), element


def words_of_part(text: str) -> str:
    return unescape(re.sub(r"<[^>]*>", " ", text)).casefold()


def test_a_part_that_is_none_is_not_found(host: Asker, rig_id: str) -> None:
    assert host.get(f"/rigs/{rig_id}/run/flux_capacitor").status_code == 404


def test_a_place_says_where_its_numbers_come_from(host: Asker, rig_id: str) -> None:
    """The demo's brake run is 14 AWG: its area is by the formula of ASTM B258."""
    shown = words_of_part(host.get(f"/rigs/{rig_id}/run/run_wire_brake_4_88m").text)

    assert "copper of 14 awg" in shown
    assert "b258" in shown
    assert "(seen in the source)" in shown


def test_a_place_without_script_is_a_whole_page(host: Asker, rig_id: str) -> None:
    whole = host.get(f"/rigs/{rig_id}/run/cord_wire_3_tail?do=park").text
    part = host.get(f"/rigs/{rig_id}/run/cord_wire_3_tail?do=park", headers=PARTLY).text

    assert "<html" in whole
    assert "Cord, tail" in whole
    assert "<html" not in part
    assert part.lstrip().startswith("<aside")


@pytest.mark.parametrize(
    ("element", "page"),
    [
        ("cord_wire_3_tail", "trailer"),
        ("feed_brake_wire", "feeds"),
        ("lamp_plate_tail", "lamps"),
        ("joint_rear_7_way_brake", "sockets"),
    ],
)
def test_a_place_leads_to_where_it_is_described(
    host: Asker, rig_id: str, element: str, page: str
) -> None:
    part = host.get(f"/rigs/{rig_id}/run/{element}", headers=PARTLY).text
    (address,) = [each for each in links(part) if "/describe" in each]

    assert address.startswith(f"/rigs/{rig_id}/describe/{page}")
    shown = host.get(address.partition("#")[0])
    assert shown.status_code == 200
    if "#" in address:
        assert f'id="{address.partition("#")[2]}"' in shown.text


def test_every_link_of_the_drawing_leads_to_a_part(host: Asker, rig_id: str) -> None:
    parts = wire_up(read_rig(DEMO)).parts
    run = host.get(f"/rigs/{rig_id}/run").text
    pattern = rf"/rigs/{rig_id}/run/(\w+)\?"
    named = {found[1] for each in links(run) if (found := re.match(pattern, each))}

    assert len(named) > 80
    assert named <= set(parts)


def test_the_load_check_shows_every_magnet_and_the_charge_line(host: Asker, rig_id: str) -> None:
    shown = words(host.get(f"/rigs/{rig_id}/load"))

    for brake in read_rig(DEMO).trailer.brakes:
        assert brake.name in shown
    assert "What the trailer battery gets" in shown


def trial(**edits: str) -> str:
    return urlencode([pair for path, to in edits.items() for pair in (("path", path), ("to", to))])


def test_a_thicker_brake_wire_gives_the_magnets_more(host: Asker, rig_id: str) -> None:
    text = host.get(
        f"/rigs/{rig_id}/load?" + trial(**{"trailer.run.brake": "8 AWG"}), headers=PARTLY
    )
    after = survey(read_rig(DEMO.replace('brake = "14 AWG"', 'brake = "8 AWG"')))
    weakest = min(
        load.voltage_v
        for load in after.answers.at("park+brake_pedal").loads
        if load.kind == "brake"
    )

    row = words_of_part(text.text.partition("Weakest brake magnet")[2][:600])
    assert "better" in row
    assert after.rig.trailer.run["brake"] != read_rig(DEMO).trailer.run["brake"]
    assert show_voltage(weakest).casefold() in row


def test_a_trial_of_the_present_value_is_none(host: Asker, rig_id: str) -> None:
    shown = host.get(f"/rigs/{rig_id}/load?" + trial(**{"trailer.run.brake": "14 AWG"})).text

    assert "Keep it" not in shown


def test_what_nobody_can_read_is_told_beside_the_field(host: Asker, rig_id: str) -> None:
    path = "vehicle.feed[1].length"
    shown = words(host.get(f"/rigs/{rig_id}/load?" + trial(**{path: "a while"})))

    assert "To mend" in shown
    assert "a while" in shown
    assert "Keep it" not in shown


def test_a_path_that_is_no_part_of_the_rig_is_not_written(
    host: Asker, store: Store, rig_id: str
) -> None:
    answer = keep(host, rig_id, "rig.name", "Mine")

    assert answer.status_code == 303
    assert store.rigs.newest(rig_id).text == DEMO


def test_a_trial_is_kept_as_a_version_with_what_changed(
    host: Asker, store: Store, rig_id: str
) -> None:
    answer = keep(host, rig_id, "trailer.run.brake", "10 AWG")

    assert answer.status_code == 303
    version = store.rigs.newest(rig_id)
    assert version.number == 2
    assert 'brake = "10 AWG"' in version.text
    assert "10 AWG" in version.change


def test_two_people_who_keep_trials_are_shown_both(host: Asker, store: Store, rig_id: str) -> None:
    store.rigs.save(rig_id, DEMO.replace('"14 AWG"', '"12 AWG"'), 1, "Tomas")
    answer = keep(host, rig_id, "trailer.run.brake", "10 AWG")

    assert answer.status_code == 409 or "Tomas" in words(answer)
    assert 'brake = "10 AWG"' not in store.rigs.newest(rig_id).text


def test_findings_stand_gravest_first_with_their_place(host: Asker, rig_id: str) -> None:
    found = check(survey(read_rig(DEMO)))
    page = host.get(f"/rigs/{rig_id}/findings").text
    places = [page.index(f'id="{finding_key(each)}"') for each in found]

    ranks = [each.severity.rank for _, each in sorted(zip(places, found, strict=True))]
    assert ranks == sorted(ranks)


def test_do_it_stands_where_a_plain_change_mends(host: Asker, rig_id: str) -> None:
    work, job = survey(read_rig(DEMO)), read_job(DEMO)
    page = host.get(f"/rigs/{rig_id}/findings").text

    for finding in check(work):
        address = f"/rigs/{rig_id}/findings/{finding_key(finding)}"
        is_offered = mend_for(finding, work, job) is not None and finding.severity.to_mend
        assert (f'href="{address}"' in page) == is_offered, finding.says


def test_a_finding_that_is_gone_is_not_mended_twice(host: Asker, rig_id: str) -> None:
    work, job = survey(read_rig(DEMO)), read_job(DEMO)
    finding = next(each for each in check(work) if mend_for(each, work, job) is not None)
    address = f"/rigs/{rig_id}/findings/{finding_key(finding)}"

    assert host.post(address, based_on="1").status_code == 303
    assert host.post(address, based_on="2").status_code == 404


def test_a_mend_shows_the_lines_it_writes(host: Asker, rig_id: str) -> None:
    work, job = survey(read_rig(DEMO)), read_job(DEMO)
    for finding in check(work):
        change = mend_for(finding, work, job)
        if change is None:
            continue
        page = host.get(f"/rigs/{rig_id}/findings/{finding_key(finding)}")
        assert page.status_code == 200
        for edit in change.edits:
            assert str(edit.value) in unescape(page.text).replace("\u00a0", " "), edit.path


def test_keys_of_findings_are_theirs_alone() -> None:
    for name in examples.names():
        found = check(survey(read_rig(examples.text(name))))
        keys = [finding_key(each) for each in found]

        assert len(set(keys)) == len(set(found))
        assert all(find_finding(key, found) == each for key, each in zip(keys, found, strict=True))


def test_findings_that_only_moved_neither_come_nor_go() -> None:
    before = check(survey(read_rig(DEMO)))
    moved = findings_moved(before, before)

    assert (moved.gone, moved.come, moved.changed, moved.stays) == ((), (), (), len(before))


def test_every_pair_of_the_hook_up_has_both_colours_in_words(host: Asker, rig_id: str) -> None:
    shown = words(host.get(f"/rigs/{rig_id}/hook-up"))

    for pair in survey(read_rig(DEMO)).hookup.pairs:
        for end in (pair.vehicle_side, pair.trailer_side):
            if end is not None and end.colour is not None:
                assert end.colour.words in shown


def test_a_face_can_be_turned(host: Asker, rig_id: str) -> None:
    rear, face = (host.get(f"/rigs/{rig_id}/hook-up?side={side}") for side in ("rear", "face"))

    assert "Socket from the wire side" in words(rear)
    assert "Looking into the socket" in words(face)
    assert host.get(f"/rigs/{rig_id}/hook-up?side=top").status_code == 422


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_sheet_comes_as_a_pdf_and_as_pages(host: Asker, rig_id: str, paper: str) -> None:
    """PDF begins with %PDF (ISO 32000-1, 7.5.2); PNG with its signature (RFC 2083, 3.1)."""
    pdf = host.get(f"/rigs/{rig_id}/sheet/{paper}.pdf")
    page = host.get(f"/rigs/{rig_id}/sheet?paper={paper}", headers=PARTLY).text
    pictures = re.findall(r'src="([^"]+)"', page)

    assert pdf.content.startswith(b"%PDF-")
    assert pdf.headers["content-type"] == "application/pdf"
    assert len(pictures) > 3
    first = host.get(pictures[0])
    assert first.content.startswith(b"\x89PNG\r\n\x1a\n")
    assert host.get(f"/rigs/{rig_id}/sheet/{paper}/{len(pictures) + 1}.png").status_code == 404
    assert host.get(f"/rigs/{rig_id}/sheet/{paper}/0.png").status_code == 404


def test_without_script_the_pages_are_one_link_away(host: Asker, rig_id: str) -> None:
    page = host.get(f"/rigs/{rig_id}/sheet").text
    (shown,) = re.findall(r'<noscript>.*?href="([^"]+)"', page, re.DOTALL)

    assert "<img" in host.get(f"/rigs/{rig_id}/sheet{unescape(shown)}").text


def test_paper_follows_the_units(host: Asker, rig_id: str) -> None:
    assert "letter.pdf" in host.get(f"/rigs/{rig_id}/sheet").text
    host.post("/settings/units", units="metric", back="/rigs")
    assert "a4.pdf" in host.get(f"/rigs/{rig_id}/sheet").text
