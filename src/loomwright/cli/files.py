"""Reading job files from disk and writing results, with errors a person can mend."""

from __future__ import annotations

import locale
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from loomwright import read_rig
from loomwright.invalid import InvalidInput
from loomwright.quantities import Units

if TYPE_CHECKING:
    from loomwright.rig.model import Rig

UnitsWord = Literal["us", "metric"]
US_COUNTRIES = ("US", "LR", "MM")


def open_rig(file: Path, units: UnitsWord | None = None) -> Rig:
    """Return the rig in a job file.

    Parameters
    ----------
    file : Path
        The job file.
    units : str, optional
        Units of the output: this choice first, then the file's, then the locale's.

    Raises
    ------
    InvalidInput
        If the file cannot be read as text.
    ExceptionGroup
        Holding an `InvalidInput` for each bad field.
    """
    rig = read_rig(read_text(file), str(file))
    if units is not None:
        return replace(rig, units=Units(units))
    if any(assumption.field == "rig.units" for assumption in rig.assumptions):
        return replace(rig, units=locale_units())
    return rig


def locale_units() -> Units:
    """Return the units of this machine's locale: US customary in three countries."""
    name = locale.getlocale(locale.LC_CTYPE)[0] or "en_US"
    country = name.partition("_")[2][:2]
    return Units.US if country in US_COUNTRIES or not country else Units.METRIC


def read_text(file: Path) -> str:
    """Return a file's text; `InvalidInput` says what keeps it from being read."""
    try:
        return file.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise InvalidInput("file", str(file), "name a job file that exists") from None
    except IsADirectoryError:
        raise InvalidInput("file", str(file), "name a job file, not a folder") from None
    except UnicodeDecodeError:
        raise InvalidInput("file", str(file), "save the job file as UTF-8 text") from None
    except OSError as problem:
        fix = problem.strerror or "see that the file can be read"
        raise InvalidInput("file", str(file), fix) from None


def write_result(file: Path, content: str | bytes, *, overwrite: bool = True) -> None:
    """Write a result; the folder must exist, and nothing is overwritten unless allowed."""
    if not overwrite and file.exists():
        raise InvalidInput("output", str(file), "it exists: choose another name or move it away")
    data = content.encode("utf-8") if isinstance(content, str) else content
    try:
        file.write_bytes(data)
    except OSError as problem:
        fix = f"choose a place that can be written ({problem.strerror})"
        raise InvalidInput("output", str(file), fix) from None
