"""`loomwright demo`: the demo rig from job file to printed sheet."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from loomwright import check as find
from loomwright import examples, job_sheet, netlist
from loomwright.cli.codes import DONE
from loomwright.cli.files import make_folder, open_rig, write_result
from loomwright.cli.surveying import survey_with_bar

if TYPE_CHECKING:
    from collections.abc import Mapping

COMMAND = "park+brake_pedal"


def demo(folder: Path = Path("loomwright-demo"), /) -> int:
    """Run the demo rig end to end into FOLDER and say what was written.

    Parameters
    ----------
    folder
        Where to write; made if it does not exist.
    """
    from loomwright.cli.check_view import show_check
    from loomwright.reports import check_report

    name = examples.DEMO
    job = folder / f"{name}.toml"
    make_folder(folder)
    write_result(job, examples.text(name))
    write_result(folder / examples.SCHEMA_NAME, examples.schema_text())
    work = survey_with_bar(open_rig(job))
    findings = find(work)
    report = json.dumps(check_report(work, findings), indent=1, ensure_ascii=False)
    results: dict[str, str | bytes] = {
        f"{name}.json": report,
        f"{name}-letter.pdf": job_sheet(work, "letter"),
        f"{name}-a4.pdf": job_sheet(work, "a4"),
        f"{name}.cir": netlist(work.rig, COMMAND),
    }
    for file, content in results.items():
        write_result(folder / file, content)
    show_check(work, findings)
    _show_written(folder, name)
    return DONE


def _show_written(folder: Path, name: str) -> None:
    from loomwright.cli.paint import Page, listing

    written: Mapping[str, str] = {
        f"{name}.toml": "the job file: change it, then `loomwright check` it",
        examples.SCHEMA_NAME: "what an editor completes and checks the job file by",
        f"{name}-letter.pdf": "the job sheet, Letter",
        f"{name}-a4.pdf": "the job sheet, A4",
        f"{name}.json": "findings, assumptions and every reading",
        f"{name}.cir": f"SPICE deck of the command {COMMAND}",
    }
    page = Page()
    page.line()
    page.head(f"Written to {folder}")
    page.show(listing(("file", "what it is"), list(written.items())))
