"""The folder, the secret, the addresses, and the commands that start and keep the workbench."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from urllib.parse import urlsplit

import dev
import pytest

from loomwright.cli import main
from loomwright.invalid import InvalidInput
from loomwright.store.opening import open_store
from loomwright.web.machine import (
    SECRET_FILE,
    STORE_FILE,
    has_screen,
    network_addresses,
    network_names,
    place_of,
    prepared,
    session_secret,
)
from loomwright.web.serving import listen, open_shop, settings_for
from loomwright.web.settings import DEFAULT_PORT, LOOPBACK, Settings

RUN = "import sys; from loomwright.cli import main; sys.exit(main())"
PLAIN_ADDRESS = re.compile(r"(\d{1,3}\.){3}\d{1,3}")
STARTS_WITHIN_S = 30.0


def run(*words: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-c", RUN, *words], capture_output=True, text=True, check=False
    )


def free_port() -> int:
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return int(sock.getsockname()[1])


def test_the_secret_is_made_once_and_read_by_its_owner_only(tmp_path: Path) -> None:
    secret = session_secret(tmp_path)

    assert len(secret) >= 32
    assert session_secret(tmp_path) == secret
    assert os.name == "nt" or (tmp_path / SECRET_FILE).stat().st_mode & 0o777 == 0o600


def test_a_secret_left_open_is_closed_again(tmp_path: Path) -> None:
    session_secret(tmp_path)
    (tmp_path / SECRET_FILE).chmod(0o644)
    session_secret(tmp_path)

    assert os.name == "nt" or (tmp_path / SECRET_FILE).stat().st_mode & 0o077 == 0


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", "utf-8")
    with pytest.raises(InvalidInput, match="folder that can be written"):
        prepared(tmp_path / "file" / "data")


def test_addresses_are_numbers_that_others_can_reach() -> None:
    for address in network_addresses():
        assert PLAIN_ADDRESS.fullmatch(address)
        assert not address.startswith("127.")


def test_names_are_of_this_machine() -> None:
    assert all(name == name.casefold() and "*" not in name for name in network_names())


def test_a_closed_workbench_answers_to_loopback_only() -> None:
    assert Settings("secret").hosts == LOOPBACK
    assert not Settings("secret").is_open


def test_only_an_offered_workbench_listens_to_the_network(tmp_path: Path) -> None:
    settings = settings_for(place_of(tmp_path), free_port())
    with listen(settings) as sock:
        assert sock.getsockname()[0] == "127.0.0.1"
    opened = Settings("secret", free_port(), addresses=("192.0.2.17",))
    with listen(opened) as sock:
        assert sock.getsockname()[0] == "0.0.0.0"  # noqa: S104 (this is the test)


@pytest.mark.parametrize("port", [-1, 70000])
def test_a_port_that_is_none_is_told(port: int) -> None:
    with pytest.raises(InvalidInput, match="--port"):
        listen(Settings("secret", port))


def test_a_new_shop_begins_with_usual_units(tmp_path: Path) -> None:
    with open_shop(place_of(tmp_path)) as store:
        assert store.settings.read().units in {"us", "metric"}
    assert (tmp_path / STORE_FILE).exists()


@pytest.mark.slow
def test_the_command_serves_until_it_is_told_to_stop(tmp_path: Path) -> None:
    port = free_port()
    words = ("serve", "--port", str(port), "--data", str(tmp_path))
    with subprocess.Popen(
        [sys.executable, "-c", RUN, *words], stdout=subprocess.PIPE, text=True
    ) as serving:
        assert serving.stdout
        assert f"http://127.0.0.1:{port}" in serving.stdout.readline()
        made = _post(port, "/api/kinds/boat-surge-brakes/rigs", {})
        second = run(*words)
        serving.send_signal(signal.SIGTERM)
        began = time.monotonic()
        serving.wait(20)
        took_s = time.monotonic() - began

    assert made["name"]
    assert second.returncode == 2
    assert "another program uses it" in second.stderr
    assert took_s < 10
    with open_store(tmp_path / STORE_FILE) as store:
        assert [entry.name for entry in store.rigs.search()] == [made["name"]]


@pytest.mark.slow
def test_the_demo_opens_the_browser_on_the_demo_rig_and_leaves_nothing(tmp_path: Path) -> None:
    """Beside another program at the usual port, too: it takes a free one."""
    opened, temporary = tmp_path / "opened", tmp_path / "temporary"
    temporary.mkdir()
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\necho "$1" > {opened}.part && mv {opened}.part {opened}\n')
    browser.chmod(0o755)
    around = {**os.environ, "TMPDIR": str(temporary), "BROWSER": f"{browser} %s"}
    with (
        taken(DEFAULT_PORT),
        subprocess.Popen(
            [sys.executable, "-c", RUN, "serve", "--demo", "--show"],
            stdout=subprocess.PIPE,
            text=True,
            env=around,
        ) as serving,
    ):
        assert serving.stdout
        address = serving.stdout.readline().split()[-1]
        port, first = int(urlsplit(address).port or 0), address.rpartition("/")[2]
        kept = _post(port, f"/api/rigs/{first}/copy", {"name": "Mine"})
        until = time.monotonic() + STARTS_WITHIN_S
        while not opened.exists() and time.monotonic() < until:
            time.sleep(0.05)
        serving.send_signal(signal.SIGINT)
        serving.wait(20)

    assert port != DEFAULT_PORT
    assert kept["vehicle"] == "Quillon 300 passenger van"
    assert opened.read_text().strip() == address
    assert list(temporary.iterdir()) == []
    assert serving.returncode == 0


@pytest.mark.parametrize(
    ("stdin", "stdout", "environment", "watched"),
    [
        (True, True, {}, True),
        (False, True, {}, False),
        (True, False, {}, False),
        (True, True, {"CI": "true"}, False),
    ],
)
def test_the_demo_serves_only_where_a_person_sits(
    stdin: bool, stdout: bool, environment: dict[str, str], watched: bool
) -> None:
    """Standard input and output are a terminal, and no CI runs it: else it would never end."""
    assert dev.is_watched(stdin, stdout, environment) == watched


@pytest.mark.parametrize(
    ("environment", "platform", "there"),
    [
        ({}, "linux", False),
        ({"DISPLAY": ":0"}, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({}, "darwin", True),
        ({}, "win32", True),
    ],
)
def test_a_browser_opens_only_where_there_is_a_screen(
    environment: dict[str, str], platform: str, there: bool
) -> None:
    assert has_screen(environment, platform) == there


@contextmanager
def taken(port: int) -> Iterator[None]:
    """Hold a port, unless somebody holds it already."""
    with socket.socket() as sock:
        with suppress(OSError):
            sock.bind(("127.0.0.1", port))
            sock.listen()
        yield


@pytest.mark.slow
def test_a_backup_brings_everything_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, backup = tmp_path / "shop", tmp_path / "shop.backup"
    with open_shop(place_of(shop)) as store:
        store.rigs.create("# a job to come", "Ines", name="Whitlock")

    assert main(["backup", str(backup), "--data", str(shop)]) == 0
    (shop / STORE_FILE).write_bytes(b"not a store any more")
    assert main(["backup", str(tmp_path / "again"), "--data", str(shop)]) == 2
    assert "damaged" in capsys.readouterr().err
    assert run("restore", str(backup), "--data", str(shop)).returncode == 0

    with open_shop(place_of(shop)) as store:
        assert [entry.name for entry in store.rigs.search()] == ["Whitlock"]


def _post(port: int, path: str, body: object) -> dict[str, str]:
    """Send a body as soon as the server answers."""
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}{path}",
        json.dumps(body).encode(),
        {"content-type": "application/json", "x-requested-by": "test"},
    )
    until = time.monotonic() + STARTS_WITHIN_S
    while True:
        try:
            with urllib.request.urlopen(request, timeout=STARTS_WITHIN_S) as answer:  # noqa: S310
                answered: dict[str, str] = json.load(answer)
                return answered
        except urllib.error.URLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.1)
