"""`loomwright serve`: the workbench in a browser."""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page


def serve(
    *,
    port: int | None = None,
    lan: bool = False,
    demo: bool = False,
    show: bool = False,
    data: Path | None = None,
    database: str | None = None,
) -> int:
    """Start the workbench, for the browser of this computer; Ctrl+C stops it.

    Parameters
    ----------
    port
        Where it listens; 5666 if left out, and for the demo any free one if that is taken.
    lan
        Let in the shop's tablets and phones too, each by a code that this screen shows.
    demo
        Show the example rigs; what is changed is thrown away at the end.
    show
        Open it in this computer's browser, if there is a screen.
    data
        Folder to keep the shop's data in; else this user's own.
    database
        Address of a PostgreSQL database to keep the rigs in; else a file in that folder.
    """
    from loomwright.web.machine import free_port, place_of
    from loomwright.web.serving import (
        listen,
        make_server,
        open_shop,
        settings_for,
        show_when_ready,
        stock_examples,
    )
    from loomwright.web.settings import DEFAULT_PORT

    if port is None:
        port = free_port(DEFAULT_PORT) if demo else DEFAULT_PORT
    with _folder(data, thrown_away=demo) as folder:
        place = place_of(folder, None if demo else database)
        settings = settings_for(place, port, lan=lan)
        with listen(settings) as socket, open_shop(place) as store:
            first = f"/rigs/{stock_examples(store)}" if demo else ""
            address = f"http://127.0.0.1:{port}{first}"
            _say(address, settings.links if lan else (), "" if demo else str(place.folder))
            signal.signal(signal.SIGTERM, _end)
            server = make_server(store, settings)
            if show:
                show_when_ready(server, address)
            with suppress(KeyboardInterrupt):  # the way to end it, and no failure
                server.run(sockets=[socket])
    return DONE


def _say(address: str, links: Sequence[str], folder: str) -> None:
    """Say where the workbench is, who may come in, and what becomes of the data."""
    out = Page()
    out.line(f"The workbench: {address}")
    if links:
        out.line(f"In the shop: {' '.join(links)}")
        out.line("To let a device in, open Devices on this computer: it shows the code.")
    out.line(f"Data: {folder or 'thrown away at the end'}")
    out.line("Stop it with Ctrl+C.")
    sys.stdout.flush()


def _end(*_: object) -> None:
    """End as Ctrl+C does, so that nothing is left behind."""
    raise SystemExit(DONE)


@contextmanager
def _folder(data: Path | None, *, thrown_away: bool) -> Iterator[Path | None]:
    """Give the folder of the data, or one that is gone afterwards."""
    if not thrown_away:
        yield data
        return
    with TemporaryDirectory(prefix="loomwright-demo-") as folder:
        yield Path(folder)
