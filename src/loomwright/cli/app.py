"""The commands, loaded when called, and what an unusable input does to the exit code."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Sequence

from cyclopts import App, CycloptsError, Group, Parameter

from loomwright.cli.codes import DONE, INTERRUPTED, UNUSABLE
from loomwright.cli.complaints import show_complaints, show_misuse
from loomwright.invalid import InvalidInput, complaints_in

JOB = Group("The job", sort_key=1)
WORKBENCH = Group("The workbench", sort_key=2)
LOOK_UP = Group("Looking things up", sort_key=3)

COMMANDS = (
    ("demo", "Run the demo rig end to end into FOLDER and say what was written.", JOB),
    ("new", "Write a commented job file of one KIND of job; without KIND, list the kinds.", JOB),
    ("check", "List what to put right in the rigs described by FILES.", JOB),
    ("hookup", "Pair the wires of the rig in FILE by function, and name the traps.", JOB),
    ("mend", "Show the plain change that mends each finding of the rig in FILE, and do one.", JOB),
    (
        "what-if",
        "Show what CHANGES would do to the rig in FILE; without any, list what may be changed.",
        JOB,
    ),
    (
        "tolerance",
        "Show the band of every load of the rig in FILE, and the joints that matter most.",
        JOB,
    ),
    (
        "trace",
        "Rank what may be wrong with the rig in FILE, say why, and what to look at next.",
        JOB,
    ),
    (
        "identify",
        "Find out which wire of a bundle does what, from few readings; FILE says what to expect.",
        JOB,
    ),
    (
        "lightcheck",
        "Lead through the light check of the rig in FILE, against readings of this very rig.",
        JOB,
    ),
    ("sheet", "Print the job sheet of the rig described by FILE.", JOB),
    ("netlist", "Write the rig in FILE, under one command, as a standard SPICE deck.", JOB),
    ("serve", "Start the workbench, for the browser of this computer; Ctrl+C stops it.", WORKBENCH),
    (
        "rigs",
        "List, bring, copy and change the rigs of the workbench, and go back in their history.",
        WORKBENCH,
    ),
    ("maps", "List, show, keep and retire the verified wire maps of vehicles.", WORKBENCH),
    ("devices", "List and drop the devices that are let into the workbench.", WORKBENCH),
    (
        "record",
        "Make, sign, correct and print the record of work on a rig of the workbench.",
        WORKBENCH,
    ),
    ("verify", "Prove the printed record in FILE against the store of the workbench.", WORKBENCH),
    (
        "backup",
        "Write all that the workbench keeps to FILE, while it may go on running.",
        WORKBENCH,
    ),
    ("restore", "Make the workbench's store anew from the backup FILE.", WORKBENCH),
    ("table", "Print reference table NAME with its sources; without NAME, list them.", LOOK_UP),
    ("schema", "Print the JSON Schema of the job file, for editors.", LOOK_UP),
)
"""Name of each command, the first line of its help, and where help lists it."""


def make_app() -> App:
    """Return the command line with every command still unloaded."""
    app = App(
        name="loomwright",
        help="The workbench of the person who wires trailers to tow vehicles.",
        help_epilogue="Exit codes: 0 nothing to mend, 1 something to mend, 2 unusable input.",
        version=_version,
        result_action="return_value",
        default_parameter=Parameter(negative=()),
    )
    for number, (name, summary, group) in enumerate(COMMANDS):
        module = name.replace("-", "_")
        place = f"loomwright.cli.{module}:{module}"
        app.command(place, name=name, help=summary, group=group, sort_key=number)
    return app


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command line; unusable input is told in full and ends with 2."""
    tokens = sys.argv[1:] if arguments is None else list(arguments)
    _write_what_can_be_written()
    try:
        code = _call(tokens)
        sys.stdout.flush()
    except CycloptsError as problem:
        show_misuse(str(problem))
        return UNUSABLE
    except (InvalidInput, ExceptionGroup) as problem:
        show_complaints(complaints_in(problem))
        return UNUSABLE
    except BrokenPipeError:
        _let_go()
        return DONE
    except KeyboardInterrupt:
        return INTERRUPTED
    return code


def _call(tokens: list[str]) -> int:
    app = make_app()
    if not tokens or {"--help", "-h"} & set(tokens):
        from loomwright.cli.help_page import help_console, help_formatter

        app.help_formatter = help_formatter()
        app.console = help_console()
    result = app(tokens, exit_on_error=False, print_error=False)
    return result if isinstance(result, int) else DONE


def _write_what_can_be_written() -> None:
    """Let a stream put a question mark where it has no such letter, rather than fail."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _let_go() -> None:
    """Point standard output nowhere, so that closing it says nothing of the lost reader."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _version() -> str:
    from loomwright import __version__

    return __version__
