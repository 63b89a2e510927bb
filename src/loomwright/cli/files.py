"""Reading job files from disk and writing results, with errors a person can mend."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from loomwright import read_rig
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.rig.model import Rig

UnitsWord = Literal["us", "metric"]


def open_rig(file: Path, units: UnitsWord | None = None) -> Rig:
    """Return the rig in a job file.

    Parameters
    ----------
    file : Path
        The job file.
    units : str, optional
        Units of the output; else those of the file, or those usual where its socket is.

    Raises
    ------
    InvalidInput
        If the file cannot be read as text.
    ExceptionGroup
        Holding an `InvalidInput` for each bad field.
    """
    from loomwright.quantities import Units

    rig = read_rig(read_text(file), str(file))
    return rig if units is None else replace(rig, units=Units(units))


def read_text(file: Path) -> str:
    """Return a file's text; `InvalidInput` says what keeps it from being read."""
    try:
        return file.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        fix = "name a job file that exists"
    except IsADirectoryError:
        fix = "name a job file, not a folder"
    except UnicodeDecodeError:
        fix = "name a job file in plain text, saved as UTF-8"
    except PermissionError:
        fix = "see that you may read this file"
    except (OSError, ValueError) as problem:
        fix = f"name a file that can be read ({_reason(problem)})"
    raise InvalidInput("file", str(file), fix)


def write_result(
    file: Path, content: str | bytes, *, overwrite: bool = True, source: Path | None = None
) -> None:
    """Write a result where a person asked for it.

    Parameters
    ----------
    file : Path
        Where to; its folder must exist.
    content : str or bytes
        Text is written as UTF-8.
    overwrite : bool
        Whether an existing file may be replaced.
    source : Path, optional
        The job file, which is never replaced.

    Raises
    ------
    InvalidInput
        If the place cannot be written, or what stands there must stay.
    """
    if source is not None and _is_same(file, source):
        raise InvalidInput("output", str(file), "choose another name: this is the job file itself")
    data = content.encode("utf-8") if isinstance(content, str) else content
    try:
        if not overwrite and file.exists():
            raise InvalidInput(
                "output", str(file), "it exists: choose another name or move it away"
            )
        file.write_bytes(data)
    except IsADirectoryError:
        fix = "name a file, not a folder"
    except FileNotFoundError:
        fix = f"make the folder {file.parent} first, or choose another"
    except InvalidInput:
        raise
    except (OSError, ValueError) as problem:
        fix = f"choose a place that can be written ({_reason(problem)})"
    else:
        return
    raise InvalidInput("output", str(file), fix)


def make_folder(folder: Path) -> None:
    """Make a folder, with those above it, if it does not exist; `InvalidInput` says why not."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        fix = "name a folder, not a file"
    except (OSError, ValueError) as problem:
        fix = f"choose a place that can be written ({_reason(problem)})"
    else:
        return
    raise InvalidInput("folder", str(folder), fix)


def _is_same(file: Path, other: Path) -> bool:
    try:
        return file.samefile(other)
    except (OSError, ValueError):
        return False


def _reason(problem: OSError | ValueError) -> str:
    said = problem.strerror if isinstance(problem, OSError) else str(problem)
    return (said or "it cannot be reached").lower()
