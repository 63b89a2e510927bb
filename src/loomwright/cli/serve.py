"""`loomwright serve`: the workbench in a browser."""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page


def serve(
    *,
    port: int = 5666,
    lan: bool = False,
    demo: bool = False,
    data: Path | None = None,
    database: str | None = None,
) -> int:
    """Start the workbench, for the browser of this computer; Ctrl+C stops it.

    Parameters
    ----------
    port
        Where it listens.
    lan
        Let in the shop's tablets and phones too, each by a code that this screen shows.
    demo
        Show the example rigs; what is changed is thrown away at the end.
    data
        Folder to keep the shop's data in; else this user's own.
    database
        Address of a PostgreSQL database to keep the rigs in; else a file in that folder.
    """
    from loomwright.web.serving import (
        listen,
        make_server,
        open_shop,
        place_of,
        settings_for,
        stock_examples,
    )

    with _folder(data, thrown_away=demo) as folder:
        place = place_of(folder, None if demo else database)
        settings = settings_for(place, port, lan=lan)
        with listen(settings) as socket, open_shop(place) as store:
            first = f"/rigs/{stock_examples(store)}" if demo else ""
            out = Page()
            out.line(f"The workbench: http://127.0.0.1:{port}{first}")
            if lan:
                out.line(f"In the shop: {' '.join(settings.links)}")
                out.line("To let a device in, open Devices on this computer: it shows the code.")
            out.line(f"Data: {'thrown away at the end' if demo else place.folder}")
            out.line("Stop it with Ctrl+C.")
            sys.stdout.flush()
            signal.signal(signal.SIGTERM, _end)
            make_server(store, settings).run(sockets=[socket])
    return DONE


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
