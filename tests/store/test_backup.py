"""Backups: whole or not at all, checked before anything is replaced, good for any database."""

import hashlib
import json
import os
import sqlite3
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import select
from sqlalchemy.exc import DatabaseError
from tests.store.checking import add_check
from tests.store.jobs import BROKEN, SMALL
from tests.store.recording import signed
from tests.store.test_migrations import filled

from loomwright.invalid import InvalidInput
from loomwright.quantities import Units
from loomwright.store.opening import open_store
from loomwright.store.problem import StoreProblem
from loomwright.store.records_printing import Printer
from loomwright.store.records_verifying import audit
from loomwright.store.restoring import restore_store
from loomwright.store.settings import ShopSettings
from loomwright.store.store import Store
from loomwright.store.tables import EVENTS, KEPT


def fill(store: Store) -> None:
    """Put something into every table."""
    rig = store.rigs.create(SMALL.replace("\n", "\r\n"), "Kim")
    store.rigs.save(rig.id, BROKEN + "ü € 🔧 \u2028 \x7f\n", 1, "Søren")
    store.rigs.undo(rig.id, "Kim")
    store.rigs.archive(rig.id, "Kim")
    store.wire_maps.keep_wire_map(rig.id, "test light", "Kim", notes="two\nlines")
    add_check(store, rig.id)
    Printer(store.access, "a4").printed(signed(store, rig.id))
    store.settings.write(ShopSettings(Units.METRIC, "Marsh Hollow Wiring"), "Kim")
    store.events.append_event("light-check/1", {"volts": 12.25, "ü": None}, "Kim", key="a" * 16)
    store.sessions.begin(store.devices.admit("Bench", "Kim").token)
    store.devices.new_pairing_code("Kim")


def kept(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Return all that is kept."""
    with store.access.reading() as connection:
        return {
            table.name: [
                tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key))
            ]
            for table in KEPT
        }


def events_left_out(rows: dict[str, list[tuple[object, ...]]]) -> dict[str, object]:
    return {name: each for name, each in rows.items() if name != EVENTS.name}


@pytest.mark.parametrize("as_text", [False, True])
def test_a_backup_brings_all_of_it_back(place: str, tmp_path: Path, as_text: bool) -> None:
    with open_store(place) as store:
        fill(store)
        before = kept(store)
        assert all(before.values())
        backup = store.backup(tmp_path / "backup", as_text=as_text)
        for rig in store.rigs.search(archived=None):
            store.rigs.save(rig.id, "all wrong now", rig.version, "Ola")
        store.rigs.create(SMALL, "Ola")
        newest = store.events.newest()

        store.restore(backup, "Kim")

        after = kept(store)
        assert events_left_out(after) == events_left_out(before)
        assert after["events"][:-1] == before["events"]
        (restored,) = store.events.events_since(newest, "store")
        assert (restored.seq, restored.who) == (newest + 1, "Kim")
        assert restored.payload == {"what": "restored", "backup": "backup"}
        assert store.rigs.create(SMALL, "Kim").version == 1
        assert [*audit(store.access)] == []
        with (
            pytest.raises(DatabaseError, match="a signed record stays as it is"),
            store.access.engine.begin() as connection,
        ):
            connection.exec_driver_sql("delete from records")


@pytest.mark.parametrize("as_text", [False, True])
def test_a_backup_makes_a_store_where_there_is_none(
    new_place: Callable[[], str], tmp_path: Path, as_text: bool
) -> None:
    with open_store(new_place()) as store:
        fill(store)
        before = kept(store)
        store.backup(tmp_path / "backup", as_text=as_text)
    place = new_place()

    restore_store(place, tmp_path / "backup")

    with open_store(place) as store:
        assert kept(store) == before
        assert store.devices.devices() == ()


def test_a_backup_moves_from_one_kind_of_database_to_the_other(place: str, tmp_path: Path) -> None:
    other = tmp_path / "other.db"
    with open_store(place) as store:
        fill(store)
        before = kept(store)
        store.backup(tmp_path / "there")
    restore_store(other, tmp_path / "there")
    with open_store(other) as store:
        assert kept(store) == before
        store.backup(tmp_path / "back")

    with open_store(place) as store:
        store.restore(tmp_path / "back", "Kim")

        assert events_left_out(kept(store)) == events_left_out(before)


def test_what_is_there_can_be_kept_before_it_is_replaced(store: Store, tmp_path: Path) -> None:
    store.backup(tmp_path / "empty")
    fill(store)
    before = kept(store)

    store.restore(tmp_path / "empty", "Kim", keep=tmp_path / "kept")
    assert store.rigs.search(archived=None) == ()
    store.restore(tmp_path / "kept", "Kim")

    assert events_left_out(kept(store)) == events_left_out(before)


def test_who_may_enter_is_in_no_backup_and_stays(store: Store, tmp_path: Path) -> None:
    phone = store.devices.admit("Phone", "Kim")
    text, file = store.backup(tmp_path / "a", as_text=True), store.backup(tmp_path / "b")
    store.devices.drop_device(phone.device.id, "Kim")
    bench = store.devices.admit("Bench", "Kim")
    session = store.sessions.begin(bench.token)

    for backup in (text, file):
        assert b"token" not in text.read_bytes()
        store.restore(backup, "Kim")
        assert [each.name for each in store.devices.devices()] == ["Bench"]
        assert store.sessions.session_for(session.token).device.name == "Bench"
        with pytest.raises(InvalidInput, match="pair it again"):
            store.sessions.begin(phone.token)


def test_a_sqlite_backup_is_one_sound_file_without_tokens(tmp_path: Path) -> None:
    with open_store(tmp_path / "shop.db") as store:
        fill(store)
        with store.access.reading() as connection:
            (hashed,) = connection.exec_driver_sql("select token_hash from devices").one()
        folder = tmp_path / "backups"
        folder.mkdir()
        backup = store.backup(folder / "today.db")

    assert list(folder.iterdir()) == [backup]
    assert hashed.encode() not in backup.read_bytes()
    with closing(sqlite3.connect(backup)) as connection:
        assert connection.execute("pragma integrity_check").fetchone() == ("ok",)
        assert connection.execute("pragma journal_mode").fetchone() == ("delete",)
        assert connection.execute("select count(*) from devices").fetchone() == (0,)
        assert connection.execute("select count(*) from versions").fetchone() == (3,)
    assert os.name == "nt" or backup.stat().st_mode & 0o777 == 0o600


def test_a_text_backup_says_what_it_is_and_how_much(store: Store, tmp_path: Path) -> None:
    fill(store)
    lines = store.backup(tmp_path / "b", as_text=True).read_text("ascii").splitlines()
    head, *rows, end = map(json.loads, lines)

    assert head["format"] == "loomwright-store"
    assert end["rows"] == len(rows)
    assert {row["table"] for row in rows} == {table.name for table in KEPT}


def test_a_backup_is_never_written_over_another_file(store: Store, tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine")

    with pytest.raises(StoreProblem, match="choose a name that is not taken"):
        store.backup(taken)

    assert taken.read_text() == "mine"


def test_a_backup_that_cannot_be_written_leaves_nothing(store: Store, tmp_path: Path) -> None:
    with pytest.raises(StoreProblem, match="may write there"):
        store.backup(tmp_path / "no folder" / "backup")

    assert [each.name for each in tmp_path.iterdir() if "shop" not in each.name] == []


@pytest.mark.parametrize("as_text", [False, True])
@pytest.mark.parametrize("spoil", ["cut", "last byte", "line", "noise", "empty"])
def test_a_spoilt_backup_replaces_nothing(
    store: Store, tmp_path: Path, as_text: bool, spoil: str
) -> None:
    fill(store)
    backup = store.backup(tmp_path / "backup", as_text=as_text)
    whole = backup.read_bytes()
    half = len(whole) // 8192 * 4096  # where a page of SQLite begins
    backup.write_bytes(
        {
            "cut": whole[:half],
            "last byte": whole[:-1] if not whole.endswith(b"\n") else whole[:-2],
            "line": whole[:half].rpartition(b"\n")[0] + whole[half:].partition(b"\n")[2],
            "noise": whole[:half] + b"\xff" * 300 + whole[half + 300 :],
            "empty": b"",
        }[spoil]
    )
    before = kept(store)

    with pytest.raises(StoreProblem, match=r"damaged|no backup|cut short") as caught:
        store.restore(backup, "Kim")

    assert caught.value.value == str(backup)
    assert kept(store) == before


def test_something_else_is_no_backup(store: Store, tmp_path: Path) -> None:
    other, words, empty = (tmp_path / name for name in ("other.db", "words", "new.db"))
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("create table notes (text)")
    with closing(sqlite3.connect(empty)) as connection:
        connection.execute("pragma user_version = 1")
        connection.commit()
    words.write_text('{"format": "something else"}\n')
    before = kept(store)

    for path in (other, words, empty, tmp_path, tmp_path / "missing"):
        with pytest.raises(StoreProblem, match="another"):
            store.restore(path, "Kim")

    assert kept(store) == before


def sealed(*contents: dict[str, object]) -> str:
    """Return a text backup that is whole, whatever it says."""
    text = "".join(json.dumps(each) + "\n" for each in contents)
    last = {"rows": len(contents) - 1, "sha256": hashlib.sha256(text.encode()).hexdigest()}
    return text + json.dumps(last) + "\n"


def test_a_backup_of_a_newer_version_is_refused(store: Store, tmp_path: Path) -> None:
    fill(store)
    file = store.backup(tmp_path / "shop.db")
    if file.read_bytes().startswith(b"SQLite"):
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("update store_version set version_num = '9999'")
            connection.commit()
    else:
        file.write_text(sealed({"format": "loomwright-store", "version": "9999"}))
    before = kept(store)

    with pytest.raises(StoreProblem, match="update Loomwright"):
        store.restore(file, "Kim")

    assert kept(store) == before


SETTING = {"name": "a", "value": "b", "at": "2026-11-24T09:30:00+00:00", "who": "Kim"}
VERSION = {
    "rig_id": "nowhere",
    "number": 1,
    "text": "",
    "usable": True,
    "change": "",
    "stands_at": 1,
    "at": SETTING["at"],
    "who": "Kim",
}


PHOTO = {
    "sha256": "2" * 64,
    "kind": "png",
    "width": 24,
    "height": 16,
    "turned": 1,
    "kept_at": SETTING["at"],
    "kept_by": "Kim",
}


@pytest.mark.parametrize(
    "row",
    [
        {"table": "wheels", "row": {}},
        {"table": "devices", "row": {"id": "x"}},
        {"table": "settings", "row": {"name": "units"}},
        {"table": "settings", "row": SETTING | {"at": "noon"}},
        {"table": "settings", "row": SETTING | {"at": 7}},
        {"table": "settings", "row": []},
        {"table": "settings"},
        {"table": "settings", "row": SETTING | {"more": 1}},
        {"table": "settings", "row": SETTING | {"who": None}},
        {"table": "settings", "row": SETTING | {"value": 7}},
        {"table": "settings", "row": SETTING | {"value": "a\0b"}},
        {"table": "settings", "row": SETTING | {"value": "a\ud800b"}},
        {"table": "settings", "row": SETTING | {"at": "2026-11-24T09:30:00"}},
        {"table": "versions", "row": VERSION | {"usable": 1}},
        {"table": "versions", "row": VERSION | {"number": True}},
        {"table": "versions", "row": VERSION},
        {"table": "photos", "row": PHOTO | {"data": "no base64"}},
        {"table": "photos", "row": PHOTO | {"data": 7}},
    ],
)
def test_a_sealed_backup_of_nonsense_is_refused(
    store: Store, tmp_path: Path, row: dict[str, object]
) -> None:
    backup = tmp_path / "backup"
    backup.write_text(sealed({"format": "loomwright-store", "version": "0006"}, row))
    before = kept(store)

    with pytest.raises(StoreProblem, match=r"unknown table|cannot be used|points nowhere"):
        store.restore(backup, "Kim")

    assert kept(store) == before


def test_a_row_that_comes_twice_is_refused(store: Store, tmp_path: Path) -> None:
    backup, row = tmp_path / "backup", {"table": "settings", "row": SETTING}
    backup.write_text(sealed({"format": "loomwright-store", "version": "0004"}, row, row))

    with pytest.raises(StoreProblem, match="comes twice"):
        store.restore(backup, "Kim")


def test_a_backup_of_an_earlier_version_is_brought_up_on_the_way(
    store: Store, tmp_path: Path
) -> None:
    old = tmp_path / "old.db"
    rows = filled(str(old), "0001")

    store.restore(old, "Kim")

    assert store.rigs.export_text("a" * 32) == rows["versions"]["text"]


def test_a_text_backup_of_an_earlier_version_is_brought_up_on_the_way(
    store: Store, tmp_path: Path
) -> None:
    backup = tmp_path / "backup"
    time = "2026-11-24T09:30:00+01:00"
    row = {
        "id": "a" * 32,
        "name": "Flatbed",
        "kind": "",
        "vehicle": "",
        "trailer": "",
        "words": "flatbed",
        "usable": False,
        "archived": False,
        "version": 1,
        "created_at": time,
        "created_by": "Kim",
        "updated_at": time,
        "updated_by": "Kim",
    }
    head = {"format": "loomwright-store", "version": "0001"}
    backup.write_text(sealed(head, {"table": "rigs", "row": row}))

    store.restore(backup, "Kim")

    assert str(store.rigs.entry("a" * 32).created_at) == "2026-11-24 08:30:00+00:00"


def test_a_damaged_store_is_moved_aside_for_its_backup(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    with open_store(place) as store:
        fill(store)
        before = kept(store)
        store.backup(tmp_path / "backup")
    damaged = b"damage" + place.read_bytes()[6:]
    place.write_bytes(damaged)
    with pytest.raises(StoreProblem, match="restore the newest backup"):
        open_store(place)

    restore_store(place, tmp_path / "backup")

    with open_store(place) as store:
        assert kept(store) == before
    (aside,) = tmp_path.glob("shop.db.aside-*")
    assert aside.read_bytes() == damaged
    assert os.name == "nt" or place.stat().st_mode & 0o777 == 0o600
    assert {each.name for each in tmp_path.iterdir()} == {"shop.db", "backup", aside.name}


def test_a_spoilt_backup_leaves_a_damaged_store_where_it_is(tmp_path: Path) -> None:
    place, backup = tmp_path / "shop.db", tmp_path / "backup"
    place.write_bytes(b"damaged")
    backup.write_bytes(b"damaged too")

    with pytest.raises(StoreProblem):
        restore_store(place, backup)

    assert place.read_bytes() == b"damaged"
    assert len(list(tmp_path.iterdir())) == 2


def test_a_postgresql_store_is_not_filled_over(place: str, tmp_path: Path) -> None:
    with open_store(place) as store:
        fill(store)
        before = kept(store)
        backup = store.backup(tmp_path / "backup")

    if "://" in place:
        with pytest.raises(StoreProblem, match="is a store already"):
            restore_store(place, backup)
    else:
        restore_store(place, backup)

    with open_store(place) as store:
        assert kept(store) == before


def test_a_backup_taken_while_others_write_holds_one_moment(place: str, tmp_path: Path) -> None:
    """Each save writes a version and an event: a backup has as many of one as of the other."""
    with open_store(place) as store, ThreadPoolExecutor(1) as people:
        rig = store.rigs.create("a = 0\n", "Kim")

        def write() -> None:
            for number in range(1, 60):
                store.rigs.save(rig.id, f"a = {number}\n", number, "Kim")

        writing = people.submit(write)
        backups = [store.backup(tmp_path / f"backup{number}") for number in range(5)]
        writing.result()

    for number, backup in enumerate(backups):
        there = tmp_path / f"there{number}.db"
        restore_store(there, backup)
        with open_store(there) as store:
            assert len(store.rigs.history(rig.id)) == store.events.newest()
            assert store.rigs.entry(rig.id).version == store.events.newest()
