"""The commands, loaded when called, and what an unusable input does to the exit code."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from cyclopts import App, CycloptsError, Group

from loomwright import __version__
from loomwright.cli.codes import DONE, UNUSABLE
from loomwright.cli.complaints import complaints_in, show_complaints
from loomwright.invalid import InvalidInput

JOB = Group("The job", sort_key=1)
LOOK_UP = Group("Looking things up", sort_key=2)

COMMANDS = (
    ("new", "new:new", JOB),
    ("check", "check:check", JOB),
    ("hookup", "hookup:hookup", JOB),
    ("sheet", "sheet:sheet", JOB),
    ("netlist", "netlist:netlist", JOB),
    ("demo", "demo:demo", JOB),
    ("table", "table:table", LOOK_UP),
    ("schema", "schema:schema", LOOK_UP),
)


def make_app() -> App:
    """Return the command line with every command still unloaded."""
    app = App(
        name="loomwright",
        help="The workbench of the person who wires trailers to tow vehicles.",
        version=__version__,
        result_action="return_value",
    )
    for name, place, group in COMMANDS:
        app.command(f"loomwright.cli.{place}", name=name, group=group)
    return app


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command line; unusable input is told in full and ends with 2."""
    tokens = sys.argv[1:] if arguments is None else list(arguments)
    try:
        result = make_app()(tokens, exit_on_error=False, print_error=True)
    except CycloptsError:
        return UNUSABLE
    except (InvalidInput, ExceptionGroup) as problem:
        show_complaints(complaints_in(problem))
        return UNUSABLE
    return result if isinstance(result, int) else DONE
