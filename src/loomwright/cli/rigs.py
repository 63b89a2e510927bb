"""`loomwright rigs`: the rigs of the workbench, from the command line."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, Parameter

from loomwright.cli.codes import DONE
from loomwright.cli.files import read_text, write_result
from loomwright.cli.paint import Page, listing
from loomwright.cli.shop import OWN, SHORT, Shop, opened, rig_called, user
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.store.rig_values import RigEntry, Version

Json = Annotated[bool, Parameter(name="--json", show_default=False)]
Away = Annotated[bool, Parameter(show_default=False)]
Output = Annotated[Path | None, Parameter(name=["--output", "-o"])]

rigs = App(
    name="rigs",
    help="List, bring, copy and change the rigs of the workbench, and go back in their history.",
    result_action="return_value",
    default_parameter=Parameter(negative=()),
)


@rigs.command(name="list")
def list_rigs(*words: str, away: Away = False, json_: Json = False, shop: Shop = OWN) -> int:
    """List the rigs of the workbench that have every one of WORDS, the one changed last first.

    Parameters
    ----------
    away
        Those that were put away, instead of the others.
    json_
        Print them as JSON.
    shop
        Where the shop's rigs and records are kept.
    words
        Words, or parts of words: names of vehicle, trailer, customer, or a VIN.
    """
    with opened(shop) as store:
        found = store.rigs.search(" ".join(words), archived=away)
    if json_:
        from loomwright.web.api.forms import row_of

        print(json.dumps([row_of(each).model_dump(mode="json") for each in found]))
    elif found:
        Page().show(listing(("rig", "version", "changed (UTC)", "name"), map(_row, found)))
    else:
        Page().line("No such rig is kept: `loomwright rigs bring FILE` brings a job file.")
    return DONE


@rigs.command
def begin(kind: str, /, *, name: str = "", shop: Shop = OWN) -> int:
    """Begin a rig with the starter file of a KIND of job, as `loomwright new` lists them.

    Parameters
    ----------
    kind
        Kind of job.
    name
        What the rig is called; else as its kind.
    shop
        Where the shop's rigs and records are kept.
    """
    from loomwright.web.beginning import begun_text

    text = begun_text(kind, name)
    with opened(shop) as store:
        entry = store.rigs.create(text, user())
    return _say(entry, "Begun")


@rigs.command
def bring(file: Path, /, *, shop: Shop = OWN) -> int:
    """Bring a job FILE into the workbench as a new rig; one that cannot be used is kept as a draft.

    Parameters
    ----------
    file
        Job file.
    shop
        Where the shop's rigs and records are kept.
    """
    text = read_text(file)
    with opened(shop) as store:
        entry = store.rigs.import_text(text, user(), file.name)
    return _say(entry, "Brought")


@rigs.command(name="file")
def job_file(
    rig: str, /, *, version: int | None = None, output: Output = None, shop: Shop = OWN
) -> int:
    """Print the job file of RIG, or write it to a file.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    version
        Which version; else the newest.
    output
        File to write; an existing one is left alone.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        entry = rig_called(store, rig)
        text = store.rigs.export_text(entry.id, version)
    if output is None:
        sys.stdout.write(text)
    else:
        write_result(output, text, overwrite=False)
        Page().whole(f"Version {version or entry.version} of {entry.name}: {output}")
    return DONE


@rigs.command
def keep(rig: str, file: Path, /, *, based_on: int, shop: Shop = OWN) -> int:
    """Keep a changed job FILE as the next version of RIG.

    If somebody else changed the rig after the version FILE was made from, nothing is kept, and
    their version is named.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    file
        The changed job file.
    based_on
        Number of the version it was made from.
    shop
        Where the shop's rigs and records are kept.
    """
    from loomwright.store.rig_values import EditConflict

    text = read_text(file)
    with opened(shop) as store:
        entry = rig_called(store, rig)
        try:
            version = store.rigs.save(entry.id, text, based_on, user())
        except EditConflict as conflict:
            theirs = conflict.theirs
            fix = (
                f"{theirs.who} kept version {theirs.number} meanwhile ({theirs.change}): see "
                f"`loomwright rigs file {entry.id[:SHORT]}`, put both together, and say "
                f"--based-on {theirs.number}"
            )
            raise InvalidInput("based-on", based_on, fix) from None
    return _tell(entry, version, "Kept" if version.number != based_on else "Nothing was changed")


@rigs.command
def copy(rig: str, /, *, name: str = "", shop: Shop = OWN) -> int:
    """Copy RIG.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    name
        What the copy is called.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        entry = store.rigs.copy(rig_called(store, rig).id, user(), name)
    return _say(entry, "Copied")


@rigs.command
def put_away(rig: str, /, *, shop: Shop = OWN) -> int:
    """Put RIG away, so that lists leave it out.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        entry = store.rigs.archive(rig_called(store, rig).id, user())
    return _say(entry, "Put away")


@rigs.command
def fetch_back(rig: str, /, *, shop: Shop = OWN) -> int:
    """Fetch RIG back from those that were put away.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        entry = store.rigs.unarchive(rig_called(store, rig).id, user())
    return _say(entry, "Fetched back")


@rigs.command
def history(rig: str, /, *, json_: Json = False, shop: Shop = OWN) -> int:
    """List every version of RIG: what was changed, when, and by whom.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    json_
        Print them as JSON.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        versions = store.rigs.history(rig_called(store, rig).id)
    if json_:
        from loomwright.web.api.forms import version_of

        print(json.dumps([version_of(each).model_dump(mode="json") for each in versions]))
    else:
        rows = [
            (str(one.number), f"{one.at:%Y-%m-%d %H:%M}", one.who, one.change)
            for one in reversed(versions)
        ]
        Page().show(listing(("version", "time (UTC)", "who", "change"), rows))
    return DONE


@rigs.command
def undo(rig: str, /, *, shop: Shop = OWN) -> int:
    """Undo the newest change of RIG; it stays in the history.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        entry = rig_called(store, rig)
        version = store.rigs.undo(entry.id, user())
    return _tell(entry, version, "Undone")


@rigs.command
def redo(rig: str, /, *, shop: Shop = OWN) -> int:
    """Do again what was undone last in RIG.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        entry = rig_called(store, rig)
        version = store.rigs.redo(entry.id, user())
    return _tell(entry, version, "Done again")


def _row(entry: RigEntry) -> tuple[str, ...]:
    name = entry.name if entry.usable else f"{entry.name} (draft)"
    return entry.id[:SHORT], str(entry.version), f"{entry.updated_at:%Y-%m-%d %H:%M}", name


def _say(entry: RigEntry, what: str) -> int:
    draft = "" if entry.usable else ", a draft: `loomwright check` on its file tells what to mend"
    Page().line(f"{what}: {entry.name} ({entry.id[:SHORT]}){draft}.")
    return DONE


def _tell(entry: RigEntry, version: Version, what: str) -> int:
    Page().line(f"{what}: {entry.name} is at version {version.number}, {version.change}.")
    return DONE
