"""A workbench in memory: one client at its own screen, one elsewhere in the shop."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from tests.web.asking import ADDRESS, Asker, Clock, asker
from tools.browser import FLAGS, browser_path

from loomwright import examples
from loomwright.store.opening import open_store
from loomwright.store.store import Store
from loomwright.web.app import make_app
from loomwright.web.settings import Settings


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(tmp_path: Path, clock: Clock) -> Iterator[Store]:
    with open_store(tmp_path / "shop.loomwright", now=clock) as opened:
        yield opened


@pytest.fixture
def app(store: Store, tmp_path: Path) -> FastAPI:
    """The workbench, offered to the shop."""
    return make_app(store, Settings("a secret", addresses=(ADDRESS,), data=tmp_path))


@pytest.fixture
def host(app: FastAPI) -> Asker:
    """The screen of the computer that runs the workbench."""
    return asker(app)


@pytest.fixture
def far(app: FastAPI) -> Asker:
    """A tablet in the shop."""
    return asker(app, ADDRESS, "192.0.2.44")


@pytest.fixture
def rig_id(store: Store) -> str:
    """The demo rig."""
    return store.rigs.create(examples.text(examples.DEMO), "Ines").id


@pytest.fixture(scope="session")
def browser_type_launch_args(
    browser_type_launch_args: dict[str, object],
) -> dict[str, object]:
    """Run the browser of this machine."""
    return {**browser_type_launch_args, "executable_path": browser_path(), "args": list(FLAGS)}
