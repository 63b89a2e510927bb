"""The readings file of an identification: begun, resumed, saved whole after every answer."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loomwright.cli.files import read_text
from loomwright.identify.bundle import Bundle
from loomwright.identify.from_rig import USUAL, functions_for
from loomwright.identify.plain import (
    bundle_from_plain,
    bundle_to_plain,
    reading_to_plain,
    readings_from_plain,
)
from loomwright.identify.reading import Reading
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.rig.model import Rig


@dataclass(frozen=True, slots=True)
class Work:
    """A bundle and what was read of it."""

    bundle: Bundle
    readings: tuple[Reading, ...] = ()


def open_work(file: Path | None, wires: str, told: Mapping[str, Any], rig: Rig | None) -> Work:
    """Return the work a readings file keeps, or a new one.

    Parameters
    ----------
    file : Path, optional
        The readings file; need not exist.
    wires : str
        The wires of a new bundle.
    told : mapping
        What else the command line says of a new bundle.
    rig : Rig, optional
        Says which functions to expect, where nothing else does.

    Raises
    ------
    InvalidInput
        If the file cannot be read, or there are no wires to begin with.
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    if file is not None and file.exists():
        if wires:
            fix = f"leave it out: {file} has its wires; name another file for a new bundle"
            raise InvalidInput("wires", wires, fix)
        return read_work(file)
    if not wires.strip():
        raise InvalidInput("wires", "", 'name the wires: --wires "1=yellow, 2=brown, 3"')
    usual = USUAL if rig is None else functions_for(rig)
    given = {key: value for key, value in told.items() if value is not None}
    given["wires"] = [_wire(each) for each in wires.split(",") if each.strip()]
    given["functions"] = _words(told["functions"]) or list(usual)
    given["testers"] = _words(told["testers"])
    return Work(bundle_from_plain(given, "identify"))


def read_work(file: Path) -> Work:
    """Return the work a readings file keeps; `InvalidInput` says what is wrong with it."""
    try:
        kept = json.loads(read_text(file))
    except json.JSONDecodeError as problem:
        fix = f"give a readings file as JSON ({problem.msg.lower()})"
        raise InvalidInput(
            "readings", str(file), fix, file=str(file), line=problem.lineno
        ) from None
    if not isinstance(kept, dict) or "bundle" not in kept:
        raise InvalidInput("bundle", "missing", "name a readings file that was begun by identify")
    bundle = bundle_from_plain(kept["bundle"])
    return Work(bundle, readings_from_plain(bundle, kept.get("readings", [])))


def save_work(file: Path, work: Work) -> None:
    """Write the whole work; a file that stands there is replaced at one stroke, or not at all."""
    kept = {
        "format": "loomwright/identify-readings",
        "version": 1,
        "bundle": bundle_to_plain(work.bundle),
        "readings": [reading_to_plain(each) for each in work.readings],
    }
    beside = file.with_name(f".{file.name}.new")
    try:
        beside.write_text(json.dumps(kept, indent=1) + "\n", "utf-8")
        beside.replace(file)
    except OSError as problem:
        fix = f"choose a place that can be written ({(problem.strerror or 'cannot').lower()})"
        raise InvalidInput("readings", str(file), fix) from None


def _wire(text: str) -> dict[str, str]:
    tag, _, colour = (part.strip() for part in text.partition("="))
    return {"key": tag, "colour": colour} if colour else {"key": tag}


def _words(text: str) -> list[str]:
    return [each.strip() for each in text.split(",") if each.strip()]
