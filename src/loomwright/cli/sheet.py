"""`loomwright sheet`: the job sheet as a PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from loomwright import job_sheet
from loomwright.cli.codes import DONE
from loomwright.cli.files import UnitsWord, open_rig, write_result
from loomwright.cli.paint import Page
from loomwright.cli.surveying import survey_with_bar


def sheet(
    file: Path,
    /,
    *,
    output: Annotated[Path, Parameter(name=["--output", "-o"])],
    paper: Literal["letter", "a4"] | None = None,
    units: UnitsWord | None = None,
) -> int:
    """Print the job sheet of the rig described by FILE.

    Parameters
    ----------
    file
        Job file.
    output
        PDF to write.
    paper
        Paper size; Letter with US units and A4 with metric ones if not given.
    units
        Units of the sheet; else the file's own, else those usual where its socket is.
    """
    rig = open_rig(file, units)
    size = paper or ("letter" if rig.units.value == "us" else "a4")
    write_result(output, job_sheet(survey_with_bar(rig), size), source=file)
    Page().line(f"Job sheet: {output}")
    return DONE
