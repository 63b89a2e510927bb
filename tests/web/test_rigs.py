"""The list, new rigs, the front page, copies, the shelf, history: as a person goes through them."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.web.asking import Asker, Clock, words

from loomwright import examples
from loomwright.quantities import Units
from loomwright.store.store import Store
from loomwright.web.screens.job import file_name
from loomwright.web.screens.settings import own_path


def follow(host: Asker, answer_path: str) -> str:
    return words(host.get(answer_path))


def test_the_first_page_leads_to_the_rigs_and_teaches(host: Asker) -> None:
    assert host.get("/").headers["location"] == "/rigs"
    said = words(host.get("/rigs"))

    assert "No rigs yet" in said
    assert "Begin a rig" in said
    assert "Bring a job file" in said


def test_a_rig_begins_with_a_kind_of_job_and_a_name(host: Asker, store: Store) -> None:
    answer = host.post("/new", "/new", kind="boat-surge-brakes", name="  Whitlock's\tboat ")
    (entry,) = store.rigs.search()

    assert answer.headers["location"] == f"/rigs/{entry.id}"
    assert entry.name == "Whitlock's boat"
    assert entry.usable
    assert "Begun" in follow(host, answer.headers["location"])


def test_every_kind_can_be_begun(host: Asker, store: Store) -> None:
    for kind in examples.kinds():
        assert host.post("/new", "/new", kind=kind).status_code == 303

    assert [entry.usable for entry in store.rigs.search()] == [True] * len(examples.kinds())


def test_a_rig_without_a_kind_is_not_begun_and_the_name_stays(host: Asker, store: Store) -> None:
    answer = host.post("/new", "/new", name="Whitlock")

    assert answer.status_code == 422
    assert "choose what comes nearest" in words(answer)
    assert 'value="Whitlock"' in answer.text
    assert store.rigs.search() == ()


def test_the_list_is_searched_by_words_and_filtered_by_shelf(host: Asker, store: Store) -> None:
    for name in ("boat-surge-brakes", "truck-24-to-12"):
        store.rigs.create(examples.text(name), "Ines")
    away = store.rigs.create(examples.text("utility-rewire"), "Ines")
    store.rigs.archive(away.id, "Ines")

    assert "Saltmere" in words(host.get("/rigs?q=saltmere"))
    assert "Carrick" not in words(host.get("/rigs?q=saltmere"))
    assert "Tansy" not in words(host.get("/rigs"))
    assert "Tansy" in words(host.get("/rigs?shelf=away"))
    assert "No rig has “zeppelin”" in words(host.get("/rigs?q=zeppelin"))


def test_a_part_of_the_list_answers_alone(host: Asker, rig_id: str) -> None:
    part = host.get("/rigs?q=quillon", headers={"hx-request": "true", "hx-target": "section#found"})

    assert part.text.startswith('<section id="found"')
    assert rig_id in part.text


def test_the_front_page_says_how_the_rig_stands(host: Asker, rig_id: str) -> None:
    waiting = host.get(f"/rigs/{rig_id}")
    assert "Working it out" in words(waiting)

    host.get(f"/rigs/{rig_id}/verdict")
    said = words(host.get(f"/rigs/{rig_id}"))
    assert "Not ready" in said
    assert "must be mended" in said
    assert "Working it out" not in said


def test_a_job_file_goes_in_and_comes_out_byte_for_byte(host: Asker, store: Store) -> None:
    text = "# a note of the shop: ß Ω\n" + examples.text("boat-surge-brakes") + "\n# the end"
    token = host.token("/import")
    answer = host.client.post(
        "/import", data={"csrf": token}, files={"file": ("whitlock.toml", text.encode())}
    )
    out = host.get(f"{answer.headers['location']}/file")

    assert out.content == text.encode()
    assert out.headers["content-disposition"].startswith("attachment;")


def test_a_pasted_job_file_is_taken_too(host: Asker, store: Store) -> None:
    answer = host.post("/import", "/import", text=examples.text("boat-surge-brakes"))

    assert answer.status_code == 303
    assert store.rigs.search()[0].usable


@pytest.mark.parametrize(
    "name",
    [
        "../../etc/passwd.toml",
        "..\\..\\boot.toml",
        "/etc/cron.d/x",
        "C:\\x.toml",
        "<b>.toml",
        'a"; filename="b.toml',
    ],
)
def test_a_files_name_is_never_a_path(host: Asker, store: Store, name: str) -> None:
    token = host.token("/import")
    answer = host.client.post(
        "/import", data={"csrf": token}, files={"file": (name, b"# nothing yet\nnope")}
    )
    (entry,) = store.rigs.search()

    assert answer.status_code == 303
    assert not entry.usable
    assert "/" not in entry.name.replace("</", "")
    assert "\\" not in entry.name
    out = host.get(f"/rigs/{entry.id}/file").headers["content-disposition"]
    assert re.fullmatch(r'attachment; filename="[a-z0-9-]+\.toml"', out)


@pytest.mark.parametrize(
    ("content", "says"),
    [(b"\x89PNG\r\n\x1a\n\xff\xfe", "UTF-8"), (b"", "choose a job file"), (b"a\0b", "character")],
)
def test_what_is_no_text_is_refused_with_the_mend(
    host: Asker, store: Store, content: bytes, says: str
) -> None:
    token = host.token("/import")
    answer = host.client.post(
        "/import", data={"csrf": token}, files={"file": ("photo.toml", content)}
    )

    assert answer.status_code == 422
    assert says in words(answer)
    assert store.rigs.search() == ()


def test_a_job_file_that_cannot_be_used_is_kept_and_every_error_is_told(
    host: Asker, store: Store
) -> None:
    text = examples.text("boat-surge-brakes")
    bad = text.replace('"12 V"', '"12"').replace('"us"', '"furlongs"')
    answer = host.post("/import", "/import", text=bad)
    rig = answer.headers["location"].removesuffix("/text")
    said = words(host.get(answer.headers["location"]))
    line = 1 + bad.splitlines().index('units = "furlongs"')

    assert store.rigs.newest(rig.rpartition("/")[2]).text == bad
    assert "Kept as a draft" in said
    assert "vehicle.voltage" in said
    assert f'Go to line {line} units = "furlongs"' in said
    front = host.get(rig)
    assert front.status_code == 422
    assert "A draft" in words(front)
    assert "vehicle.voltage" in words(front)


def test_a_text_is_judged_while_it_is_typed_and_kept_if_it_can_be_used(
    host: Asker, store: Store, rig_id: str
) -> None:
    typed = f"/rigs/{rig_id}/text/typed"
    good = examples.text(examples.DEMO) + "# bench 2\n"
    bad = good.replace('"12 V"', '"12"')

    assert "vehicle.voltage" in host.post(typed, text=bad, based_on="1").text
    assert store.rigs.newest(rig_id).number == 1
    assert "Kept as version 2" in host.post(typed, text=good, based_on="1").text
    assert store.rigs.newest(rig_id).text == good
    assert "vehicle.voltage" in host.post(typed, text=bad, based_on="2", left="1").text
    assert store.rigs.newest(rig_id).text == bad
    assert not store.rigs.newest(rig_id).usable


def test_a_text_typed_on_two_devices_is_shown_from_both(
    host: Asker, store: Store, rig_id: str
) -> None:
    text = store.rigs.newest(rig_id).text
    store.rigs.save(rig_id, text.replace("Dana Whitlock", "Dana Ray"), 1, "Ines")
    answer = host.post(f"/rigs/{rig_id}/text/typed", text=text + "# mine\n", based_on="1")

    assert answer.status_code == 409
    assert "Dana Ray" in words(answer)
    assert "# mine" in words(answer)
    assert store.rigs.newest(rig_id).number == 2


def test_a_text_is_kept_as_a_version_with_the_name_of_who_did_it(
    host: Asker, store: Store, rig_id: str
) -> None:
    host.post("/settings", name="Tomas", units="us")
    text = store.rigs.newest(rig_id).text.replace("Dana Whitlock", "Dana Whitlock-Ray")
    answer = host.post(f"/rigs/{rig_id}/text", text=text.replace("\n", "\r\n"), based_on="1")
    newest = store.rigs.newest(rig_id)

    assert answer.status_code == 303
    assert newest.text == text
    assert newest.who == "Tomas, shop computer"
    assert "Whitlock-Ray" in newest.change
    assert "Take it back" in follow(host, f"/rigs/{rig_id}")


def test_nothing_changed_makes_no_version(host: Asker, store: Store, rig_id: str) -> None:
    text = store.rigs.newest(rig_id).text
    host.post(f"/rigs/{rig_id}/text", text=text, based_on="1")

    assert store.rigs.newest(rig_id).number == 1


def test_two_people_are_shown_both_versions(host: Asker, store: Store, rig_id: str) -> None:
    text = store.rigs.newest(rig_id).text
    theirs = text.replace("Dana Whitlock", "Dana Ray")
    yours = text.replace('condition = "aged"', 'condition = "new"')
    store.rigs.save(rig_id, theirs, 1, "Ines, bench tablet")

    answer = host.post(f"/rigs/{rig_id}/text", text=yours, based_on="1")
    said = words(answer)

    assert answer.status_code == 409
    assert "Ines, bench tablet kept version 2" in said
    assert "Dana Ray" in said
    assert 'condition = "new"' in said
    both = theirs.replace('condition = "aged"', 'condition = "new"')
    assert "Both changes together" in said
    assert store.rigs.newest(rig_id).text == theirs

    settled = host.post(f"/rigs/{rig_id}/settle", text=both, settles="2")
    assert settled.status_code == 303
    assert store.rigs.newest(rig_id).text == both
    assert [one.text for one in store.rigs.history(rig_id)] == [text, theirs, both]


def test_two_people_in_the_same_line_lose_nothing(host: Asker, store: Store, rig_id: str) -> None:
    text = store.rigs.newest(rig_id).text
    store.rigs.save(rig_id, text.replace("Dana Whitlock", "Dana Ray"), 1, "Ines")
    yours = text.replace("Dana Whitlock", "D. Whitlock")
    said = words(host.post(f"/rigs/{rig_id}/text", text=yours, based_on="1"))

    assert "Both touch the same lines" in said
    assert "Dana Ray" in said
    assert "D. Whitlock" in said


def test_history_tells_who_when_and_what_and_undo_goes_back(
    host: Asker, store: Store, rig_id: str, clock: Clock
) -> None:
    text = store.rigs.newest(rig_id).text
    clock.wind(hours=1)
    first = words(host.get(f"/rigs/{rig_id}/history"))
    assert "Undo the newest change" not in first
    assert "Do it again" not in first
    store.rigs.save(rig_id, text.replace("Dana Whitlock", "Dana Ray"), 1, "Ines, bench tablet")

    said = words(host.get(f"/rigs/{rig_id}/history"))
    assert "Ines, bench tablet" in said
    assert "24\u00a0Nov\u00a02026" in said or "24 Nov 2026" in said
    changed = words(host.get(f"/rigs/{rig_id}/history/2"))
    assert '− out customer = "Dana Whitlock"' in changed
    assert '+ in customer = "Dana Ray"' in changed

    assert "Undo the newest change" in said
    assert "Do it again" not in said

    host.post(f"/rigs/{rig_id}/undo")
    assert store.rigs.newest(rig_id).text == text
    undone = words(host.get(f"/rigs/{rig_id}/history"))
    assert "Undo the newest change" not in undone
    assert "Do it again" in undone
    host.post(f"/rigs/{rig_id}/redo")
    assert "Dana Ray" in store.rigs.newest(rig_id).text
    for _ in range(3):
        answer = host.post(f"/rigs/{rig_id}/undo")
    assert "Nothing to undo" in follow(host, answer.headers["location"])
    assert host.get(f"/rigs/{rig_id}/history/99").status_code == 404


def test_a_rig_is_copied_put_away_and_fetched_back(host: Asker, store: Store, rig_id: str) -> None:
    copied = host.post(f"/rigs/{rig_id}/copy").headers["location"]
    assert "(copy)" in follow(host, copied)
    assert len(store.rigs.search()) == 2

    away = host.post(f"/rigs/{rig_id}/archive")
    assert "is put away" in follow(host, away.headers["location"])
    assert store.rigs.entry(rig_id).archived
    assert host.get(f"/rigs/{rig_id}").status_code == 200

    host.post(f"/rigs/{rig_id}/unarchive")
    assert not store.rigs.entry(rig_id).archived


def test_settings_hold_for_the_shop_and_units_change_on_any_page(
    host: Asker, store: Store, rig_id: str
) -> None:
    host.post("/settings", name="Ana", units="metric", shop_name="Fernbrook Trailer Works")
    assert store.settings.read() == replace(
        store.settings.read(), units=Units.METRIC, shop_name="Fernbrook Trailer Works"
    )
    assert 'value="metric" aria-pressed="true"' in host.get("/rigs").text

    answer = host.post("/settings/units", units="us", back=f"/rigs/{rig_id}")
    assert answer.headers["location"] == f"/rigs/{rig_id}"
    assert 'value="us" aria-pressed="true"' in host.get("/rigs").text
    assert store.settings.read().units is Units.METRIC


def test_units_that_are_none_are_refused(host: Asker) -> None:
    answer = host.post("/settings/units", units="furlongs")

    assert answer.status_code == 422
    assert "units" in words(answer)


@pytest.mark.parametrize(
    "path", ["https://evil.example", "//evil.example", "/\\evil.example", "rigs", "", "/a\r\nb"]
)
def test_after_a_choice_nobody_is_sent_elsewhere(path: str) -> None:
    assert own_path(path) == "/rigs"


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Whitlock's boat", "whitlock-s-boat"),
        ("../../x", "x"),
        ("Äkäslompolo", "akaslompolo"),
        ("☃", "rig"),
        ("", "rig"),
        ('a"b\r\nc', "a-b-c"),
    ],
)
def test_a_rigs_name_as_a_file(name: str, file: str) -> None:
    assert file_name(name) == file
