"""`loomwright serve`: the workbench in a browser."""

from __future__ import annotations

import sys
from pathlib import Path

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page


def serve(
    *,
    port: int = 5666,
    lan: bool = False,
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
    data
        Folder to keep the shop's data in; else this user's own.
    database
        Address of a PostgreSQL database to keep the rigs in; else a file in that folder.
    """
    from loomwright.web.serving import listen, make_server, open_shop, place_of, settings_for

    place = place_of(data, database)
    settings = settings_for(place, port, lan=lan)
    with listen(settings) as socket, open_shop(place) as store:
        out = Page()
        out.line(f"The workbench: http://127.0.0.1:{port}")
        if lan:
            out.line(f"In the shop: {' '.join(settings.links)}")
            out.line("To let a device in, open Devices on this computer: it shows the code.")
        out.line(f"Data: {place.folder}")
        out.line("Stop it with Ctrl+C.")
        sys.stdout.flush()
        make_server(store, settings).run(sockets=[socket])
    return DONE
