"""Running the workbench: store, secret, addresses, server."""

from __future__ import annotations

import os
import socket
import sys
import time
import webbrowser
from pathlib import Path
from threading import Thread

import uvicorn

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.store.opening import open_store
from loomwright.store.settings import ShopSettings
from loomwright.store.store import Store
from loomwright.web.app import make_app
from loomwright.web.light_checking_live.following import Following
from loomwright.web.machine import (
    Place,
    has_screen,
    network_addresses,
    network_names,
    session_secret,
    usual_units,
)
from loomwright.web.settings import DEFAULT_PORT, Settings

LOOPBACK_ONLY = "127.0.0.1"
EVERYWHERE = "0.0.0.0"  # noqa: S104 only when asked for, and behind the pairing code
STOPS_WITHIN_S = 2
"""Open event streams would hold the server back for ever."""
STARTS_WITHIN_S = 30.0
LOOKS_EVERY_S = 0.05


def open_shop(place: Place) -> Store:
    """Return the shop's store; a new one begins with the units usual here.

    Raises
    ------
    StoreProblem
        If it cannot be used.
    """
    is_new = isinstance(place.store, Path) and not place.store.exists()
    store = open_store(place.store)
    if is_new:
        store.settings.write(ShopSettings(units=usual_units()), "first start")
    return store


def stock_examples(store: Store) -> str:
    """Keep every example rig in a store; return the id of the demo rig."""
    who = "Loomwright"
    others = [name for name in examples.names() if name != examples.DEMO]
    for name in others:
        store.rigs.create(examples.text(name), who, change="example")
    return store.rigs.create(examples.text(examples.DEMO), who, change="example").id


def settings_for(place: Place, port: int = DEFAULT_PORT, *, lan: bool = False) -> Settings:
    """Return how a workbench runs that keeps its data at a place.

    Raises
    ------
    InvalidInput
        If the secret cannot be kept, or the shop's network is asked for and there is none.
    """
    addresses = network_addresses() if lan else ()
    if lan and not addresses:
        raise InvalidInput("lan", "no network", "join the shop's network first, or leave out --lan")
    names = network_names() if lan else frozenset()
    return Settings(session_secret(place.folder), port, addresses, names, place.folder)


def listen(settings: Settings) -> socket.socket:
    """Return a socket that listens where the settings say.

    Raises
    ------
    InvalidInput
        If another program listens there.
    """
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        sock.bind((EVERYWHERE if settings.is_open else LOOPBACK_ONLY, settings.port))
    except (OSError, OverflowError):
        sock.close()
        fix = "another program uses it, or you may not: give a free one with --port, such as 5667"
        raise InvalidInput("port", settings.port, fix) from None
    return sock


def make_server(store: Store, settings: Settings) -> uvicorn.Server:
    """Return the server of a workbench, not yet running."""
    app = make_app(store, settings)
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        timeout_graceful_shutdown=STOPS_WITHIN_S,
    )
    return _Server(config, app.state.workbench.following)


class _Server(uvicorn.Server):
    """Lets the devices that follow a check go before it stops, so that it stops at once."""

    def __init__(self, config: uvicorn.Config, following: Following) -> None:
        super().__init__(config)
        self.following = following

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stop."""
        self.following.close()
        await super().shutdown(sockets)


def show_when_ready(server: uvicorn.Server, address: str) -> None:
    """Open an address in this computer's browser once the server answers, if there is a screen."""
    if has_screen(os.environ, sys.platform):
        Thread(target=_show, args=(server, address), daemon=True).start()


def _show(server: uvicorn.Server, address: str) -> None:
    until = time.monotonic() + STARTS_WITHIN_S
    while not server.started and time.monotonic() < until:
        time.sleep(LOOKS_EVERY_S)
    if server.started:
        webbrowser.open(address)
