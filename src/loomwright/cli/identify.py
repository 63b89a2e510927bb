"""`loomwright identify`: which wire does what, one question at a time."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from loomwright import identify_wires
from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.files import open_rig
from loomwright.cli.identify_file import open_work, save_work
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.cli.identify_file import Work


def identify(
    file: Path | None = None,
    /,
    *,
    readings: Path | None = None,
    wires: str = "",
    functions: str = "",
    signalling: Literal["combined", "separate"] | None = None,
    feeding: Literal["shared", "module", "sleeping"] | None = None,
    testers: str = "meter,lamp",
    volts: Literal["12", "24"] = "12",
    at_socket: Annotated[bool, Parameter(show_default=False)] = False,
    alone: Annotated[bool, Parameter(show_default=False)] = False,
    ignore_colours: Annotated[bool, Parameter(show_default=False)] = False,
    wrong_rate: float = 0.02,
    sure: float = 0.99,
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
) -> int:
    """Find out which wire of a bundle does what, from few readings; FILE says what to expect.

    At a terminal it asks one question at a time and keeps every answer in the readings file;
    with the same file it goes on where it was broken off. Else it says what is known so far, and
    what to read next. Exits with 0 when every wire is known, 1 when some are not.

    Parameters
    ----------
    file
        Job file of the rig; its feeds and sockets say which functions to expect.
    readings
        File that keeps the bundle and its readings, as JSON; begun if it does not exist.
    wires
        The wires of a new bundle: their tags, with a colour where there is one:
        "1=yellow, 2=brown with white stripe, 3".
    functions
        Functions that may be among them; else those of FILE, or the usual ones.
    signalling
        How the vehicle signals, if that is known.
    feeding
        How it feeds its lamps, if that is known: on wires shared with its own lamps, from a
        module, or from a module that gives nothing until a lamp loads it.
    testers
        What there is to probe with: meter, led, lamp.
    volts
        Nominal supply.
    at_socket
        The wires are contacts of a trailer socket, which may be loaded with a lamp.
    alone
        Nobody sits in the cab: every other command costs a walk.
    ignore_colours
        Let colours suggest nothing.
    wrong_rate
        Share of readings that are taken to be wrong.
    sure
        Probability from which a wire counts as known.
    json_
        Print what is known, and the next question, as JSON.
    """
    told = {
        "functions": functions,
        "signalling": signalling,
        "feeding": feeding,
        "testers": testers,
        "nominal_v": float(volts),
        "at_socket": at_socket,
        "helper": not alone,
        "colour_weight": 0.0 if ignore_colours else None,
        "wrong_rate": wrong_rate,
        "sure": sure,
    }
    rig = None if file is None else open_rig(file)
    work = open_work(readings, wires, told, rig)
    if not json_ and sys.stdin.isatty() and sys.stdout.isatty():
        if readings is None:
            fix = "name the file that keeps them: --readings bundle.json"
            raise InvalidInput("readings", "", fix)
        from loomwright.cli.identify_talk import talk

        work = talk(work, lambda changed: save_work(readings, changed))
    elif readings is not None and not readings.exists():
        save_work(readings, work)
    return _tell(work, as_json=json_)


def _tell(work: Work, *, as_json: bool) -> int:
    found = identify_wires(work.bundle, work.readings)
    if as_json:
        from loomwright.reports.identification import identification_report

        print(json.dumps(identification_report(found)))
    else:
        from loomwright.cli.identify_view import show_identification

        show_identification(found)
    return DONE if found.is_settled else TO_MEND
