"""A workbench that runs for a while, and the browser that looks at it: for tests and pictures."""

from __future__ import annotations

import os
import shutil
import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Thread

from loomwright import examples, read_rig
from loomwright.store.store import Store
from loomwright.web.serving import make_server
from loomwright.web.settings import Settings

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "msedge")
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--font-render-hinting=none",
    "--host-resolver-rules=MAP shop.test 127.0.0.1",
)
WIDTHS = {"phone": (390, 844), "tablet": (820, 1180), "desk": (1440, 900)}
SCHEMES = ("light", "dark")
STARTS_WITHIN_S = 20.0


@dataclass(frozen=True, slots=True)
class Running:
    """A workbench that answers at an address."""

    url: str
    store: Store


def browser_path() -> str:
    """Return the browser of this machine; `CHROMIUM` names another."""
    named = os.environ.get("CHROMIUM")
    found = named or next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        raise SystemExit("no browser is on PATH: `python3 dev.py test` says how to bring one")
    return found


@contextmanager
def running(store: Store, settings: Settings | None = None) -> Iterator[Running]:
    """Run a workbench over a store, on a free port of this machine, in a thread."""
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        port = sock.getsockname()[1]
        server = make_server(store, settings or Settings("a secret for a while", port))
        thread = Thread(target=server.run, kwargs={"sockets": [sock]}, daemon=True)
        thread.start()
        until = time.monotonic() + STARTS_WITHIN_S
        while not server.started and time.monotonic() < until:
            time.sleep(0.02)
        try:
            yield Running(f"http://127.0.0.1:{port}", store)
        finally:
            server.should_exit = True
            thread.join(STARTS_WITHIN_S)


def stock(store: Store) -> str:
    """Fill a store with every example, a draft and a rig put away; return the demo rig's id."""
    who = "Ines, bench tablet"
    for name in examples.names():
        entry = store.rigs.create(examples.text(name), who)
        if name == examples.DEMO:
            demo = entry.id
    draft = examples.text("utility-rewire").replace('size = "', 'size = "about ')
    store.rigs.import_text(draft, who, "tansy-second-try.toml")
    store.rigs.archive(store.rigs.copy(demo, who, "Van of last spring").id, who)
    text = store.rigs.newest(demo).text
    store.rigs.save(demo, text.replace('condition = "aged"', 'condition = "new"'), 1, who)
    store.rigs.undo(demo, "Tomas, shop computer")
    check_lamps(store, demo)
    return demo


def check_lamps(store: Store, rig: str) -> None:
    """Begin a light check of a rig, with a lamp that is out at the left signal."""
    from loomwright.lightcheck.plan import plan_for
    from loomwright.store.checks_values import Given, NewCheck, Stage
    from loomwright.web.light_checking.giving import Said, all_expected, answers_of

    version = store.rigs.newest(rig)
    plan = plan_for(read_rig(version.text), "trailer")
    steps = [each.command for each in plan.steps]
    at = steps.index("left")
    right = [said for step in plan.steps[:at] for said in all_expected(step.expectations)]
    out = next(each for each in plan.steps[at].expectations if not each.is_dark)
    answers = answers_of((*right, Said(out.key, word="off")), plan, ())
    check = store.checks.begin(
        NewCheck(rig, version.number, "Light check", Stage.PLAIN, plan), "Ines, bench tablet"
    )
    store.checks.give(check.id, Given("for-pictures", answers, at), "Ines, bench tablet")
