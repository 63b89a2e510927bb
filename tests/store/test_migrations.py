"""Earlier states of the database are brought up with all they hold; models and steps agree."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from alembic import command
from sqlalchemy import MetaData, inspect, select
from tests.store.conftest import Clock

from loomwright.store.engine import make_engine
from loomwright.store.migrate import alembic_config, migrate, revision_of, revisions
from loomwright.store.opening import open_store
from loomwright.store.problem import StoreProblem
from loomwright.store.tables import METADATA, VERSION_TABLE

CLOCK = Clock()
AT, BY = CLOCK.time, "Kim"
KEPT = {"kept_at": AT, "kept_by": BY}
VERIFIED = {"verified_how": "meter", "verified_at": AT, "verified_by": BY}
NAMES = {"name": "Flatbed", "kind": "", "vehicle": "", "trailer": "", "words": "flatbed"}
MADE = {"created_at": AT, "created_by": BY, "updated_at": AT, "updated_by": BY}
WIRE = {"place": 1, "function": "tail", "colour": "brown", "size": "", "found": ""}
CODE = {"salt": "00" * 16, "code_hash": "f" * 64, "tries_left": 5}
RIG, MAP, PHONE, CHECK, RECORD = "a" * 32, "b" * 32, "d" * 32, "c" * 32, "8" * 32
TEXT = {"number": 1, "text": "a = 1\r\n", "usable": False, "change": "begun", "stands_at": 1}
VEHICLE = {"vehicle": "Quillon", "fits": "quillon*", "notes": "", "words": "", "rig_id": RIG}
ROWS: dict[str, dict[str, Any]] = {
    "rigs": {"id": RIG, **NAMES, "usable": False, "archived": True, "version": 1, **MADE},
    "versions": {"rig_id": RIG, **TEXT, "at": AT, "who": BY},
    "wire_maps": {"id": MAP, **VEHICLE, **KEPT},
    "mapped_wires": {"map_id": MAP, **WIRE, **VERIFIED},
    "settings": {"name": "units", "value": "metric", "at": AT, "who": BY},
    "pairing_codes": {"id": "c" * 32, **CODE, "made_at": AT, "made_by": BY, "expires_at": AT},
    "devices": {
        "id": PHONE,
        "name": "Phone",
        "token_hash": "e" * 64,
        "paired_at": AT,
        "paired_by": BY,
        "seen_at": AT,
    },
    "sessions": {
        "token_hash": "9" * 64,
        "device_id": PHONE,
        "begun_at": AT,
        "seen_at": AT,
        "expires_at": AT,
    },
    "light_checks": {
        "id": CHECK,
        "number": 1,
        "rig_id": RIG,
        "version": 1,
        "title": "Check",
        "stage": "plain",
        "vehicle": "",
        "tester": "meter",
        "people": 2,
        "plan": "{}",
        "step": 0,
        "begun_at": AT,
        "begun_by": BY,
    },
    "light_answers": {
        "check_id": CHECK,
        "number": 1,
        "expectation": "left",
        "observation": None,
        "standing": "not tested",
        "says": "",
        "key": "f" * 32,
        "at": AT,
        "kept_at": AT,
        "who": BY,
    },
    "records": {
        "id": RECORD,
        "version": 1,
        "rig_id": RIG,
        "state": "signed",
        "document": "{}",
        "checksum": "1" * 64,
        "made_at": AT,
        "made_by": BY,
        "changed_at": AT,
        "changed_by": BY,
        "signed_at": AT,
        "signed_by": BY,
    },
    "photos": {
        "sha256": "2" * 64,
        "kind": "png",
        "width": 24,
        "height": 16,
        "turned": 1,
        "data": b"\x89PNG\0",
        "kept_at": AT,
        "kept_by": BY,
    },
    "record_photos": {"record_id": RECORD, "version": 1, "sha256": "2" * 64},
    "record_prints": {
        "sha256": "3" * 64,
        "record_id": RECORD,
        "version": 1,
        "paper": "a4",
        "at": AT,
    },
    "usual_readings": {
        "id": "f" * 32,
        "vehicle": "Quillon",
        "fits": "quillon*",
        "map_id": MAP,
        "check_id": CHECK,
        "observation": "{}",
        **KEPT,
    },
    "events": {"seq": 1, "topic": "a", "payload": "{}", "key": None, "who": BY, "at": AT},
}
"""A row for each table, as it was when its table came."""


def filled(place: str, revision: str) -> dict[str, dict[str, Any]]:
    """Make a database of an earlier version with a row in each table; return those."""
    engine = make_engine(place)
    migrate(engine, revision)
    tables = MetaData()
    tables.reflect(engine)
    with engine.begin() as connection:
        for table in tables.sorted_tables:
            if table.name != VERSION_TABLE:
                connection.execute(METADATA.tables[table.name].insert().values(ROWS[table.name]))
    engine.dispose()
    return {name: row for name, row in ROWS.items() if name in tables.tables}


@pytest.mark.parametrize("revision", revisions())
def test_each_earlier_state_is_brought_up_with_all_it_holds(place: str, revision: str) -> None:
    rows = filled(place, revision)

    with open_store(place) as store, store.access.reading() as connection:
        assert revision_of(connection) == revisions()[-1]
        for name, row in rows.items():
            kept = connection.execute(select(METADATA.tables[name])).mappings().one()
            assert {key: kept[key] for key in row} == row


def test_the_steps_make_the_tables_the_code_expects(place: str) -> None:
    engine = make_engine(place)
    migrate(engine)

    with engine.connect() as connection:
        command.check(alembic_config(connection))
    engine.dispose()


def test_every_step_can_be_taken_back_and_forth_again(place: str) -> None:
    engine = make_engine(place)
    migrate(engine)
    with engine.connect() as connection:
        command.downgrade(alembic_config(connection), "base")
        connection.commit()
        assert inspect(connection).get_table_names() == [VERSION_TABLE]

    migrate(engine)

    with engine.connect() as connection:
        assert set(inspect(connection).get_table_names()) == {*METADATA.tables, VERSION_TABLE}
        command.check(alembic_config(connection))
    engine.dispose()


def test_a_file_is_copied_before_it_is_brought_up(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    filled(str(place), "0001")

    open_store(place).close()
    open_store(place).close()

    copy = tmp_path / "shop.db.0001"
    assert os.name == "nt" or copy.stat().st_mode & 0o777 == 0o600
    assert {each.name for each in tmp_path.iterdir()} == {"shop.db", copy.name}
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("select text from versions").fetchall() == [("a = 1\r\n",)]


def test_an_earlier_copy_is_never_written_over(tmp_path: Path) -> None:
    place, taken = tmp_path / "shop.db", tmp_path / "shop.db.0001"
    filled(str(place), "0001")
    taken.write_text("keep me")

    open_store(place).close()

    assert taken.read_text() == "keep me"
    assert (tmp_path / "shop.db.0001-1").exists()


def test_a_store_of_a_newer_version_is_left_alone(place: str) -> None:
    with open_store(place) as store, store.access.writing() as connection:
        connection.exec_driver_sql("update store_version set version_num = '9999'")

    with pytest.raises(StoreProblem, match=r"newer Loomwright.*update Loomwright, or restore"):
        open_store(place)

    engine = make_engine(place)
    with engine.connect() as connection:
        assert revision_of(connection) == "9999"
    engine.dispose()


def test_rows_that_point_nowhere_stop_the_step_and_leave_no_trace(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    filled(str(place), "0001")
    with closing(sqlite3.connect(place)) as connection:
        connection.execute("delete from rigs")
        connection.commit()

    with pytest.raises(StoreProblem, match=r"point nowhere.*restore the newest backup"):
        open_store(place)

    with closing(sqlite3.connect(place)) as connection:
        version = connection.execute("select version_num from store_version").fetchall()
    assert version == [("0001",)]


def test_the_names_of_a_store_and_its_tables_are_those_of_the_reference() -> None:
    paper = (Path(__file__).parents[2] / "docs" / "reference" / "store.md").read_text("utf-8")

    for table in METADATA.sorted_tables:
        assert f"| `{table.name}` |" in paper
        assert [c.name for c in table.columns if f"`{c.name}`" not in paper] == []
