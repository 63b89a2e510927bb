"""The workbench over each database, as `serve --database` runs it: the same promises."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from tests.web.asking import Asker, asker, words

from loomwright import examples
from loomwright.store.store import Store
from loomwright.web.app import make_app
from loomwright.web.machine import place_of
from loomwright.web.serving import open_shop, settings_for

pytestmark = pytest.mark.slow

DATABASES = ["sqlite"] if sys.platform == "win32" else ["sqlite", "postgresql"]


@pytest.fixture(params=DATABASES)
def shop(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Store, Asker]]:
    """A workbench on each database; over PostgreSQL its folder holds the secret only."""
    with ExitStack() as stack:
        database = None
        if request.param == "postgresql":
            from tests.store.postgres import running_server  # not on Windows

            server = stack.enter_context(running_server())
            database = stack.enter_context(server.lending())()
        place = place_of(tmp_path / "shop", database)
        store = stack.enter_context(open_shop(place))
        yield store, asker(make_app(store, settings_for(place)))


def test_a_rig_is_begun_changed_by_two_undone_and_found_again(shop: tuple[Store, Asker]) -> None:
    store, host = shop
    text = examples.text("boat-surge-brakes")
    made = host.post("/import", "/import", text=text)
    rig = made.headers["location"].partition("?")[0].removesuffix("/text")
    rig_id = rig.rpartition("/")[2]
    feed = {"based_on": "1", "vehicle.name": "Quillon 150, the red one"}
    kept = host.post(f"{rig}/describe/vehicle", f"{rig}/describe/vehicle", **feed)
    store.rigs.save(rig_id, text.replace("4,800 lb", "5,100 lb"), 2, "Tomas")
    second = host.post(f"{rig}/text", f"{rig}/text", text=text + "# mine\n", based_on="2")

    assert kept.status_code == 303
    assert second.status_code == 409
    assert "Two people changed this rig" in words(second)
    assert host.post(f"{rig}/undo", f"{rig}/history").status_code == 303
    assert store.rigs.newest(rig_id).number == 4
    assert "the red one" in store.rigs.newest(rig_id).text
    assert "the red one" in words(host.get("/rigs?q=red one"))
    assert host.get(f"{rig}/findings").status_code == 200
    assert host.get(f"/api/rigs/{rig_id}/check").json()["findings"]
