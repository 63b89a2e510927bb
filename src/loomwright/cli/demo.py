"""`loomwright demo`: the demo rig from job file to printed sheet."""

from __future__ import annotations

import json
from pathlib import Path

from loomwright import check as find
from loomwright import examples, job_sheet, netlist
from loomwright.cli.codes import DONE
from loomwright.cli.files import open_rig, write_result
from loomwright.cli.findings_view import show_check
from loomwright.cli.paint import console
from loomwright.cli.surveying import survey_with_bar

COMMAND = "park+brake_pedal"


def demo(folder: Path = Path("loomwright-demo")) -> int:
    """Run the demo rig end to end into FOLDER and say what was written.

    Parameters
    ----------
    folder
        Where to write; made if it does not exist.
    """
    from loomwright.reports import check_report

    folder.mkdir(parents=True, exist_ok=True)
    name = examples.DEMO
    job = folder / f"{name}.toml"
    write_result(job, examples.text(name))
    write_result(folder / examples.SCHEMA_NAME, examples.schema_text())
    rig = open_rig(job)
    work = survey_with_bar(rig)
    findings = find(work)
    written = {
        job: "the job file: change it and run `loomwright check` on it",
        folder / f"{name}.json": "findings, assumptions and every reading",
        folder / f"{name}-letter.pdf": "the job sheet, Letter",
        folder / f"{name}-a4.pdf": "the job sheet, A4",
        folder / f"{name}.cir": f"SPICE deck of the command {COMMAND}",
    }
    report = json.dumps(check_report(work, findings), indent=1, ensure_ascii=False)
    write_result(folder / f"{name}.json", report)
    write_result(folder / f"{name}-letter.pdf", job_sheet(work, "letter"))
    write_result(folder / f"{name}-a4.pdf", job_sheet(work, "a4"))
    write_result(folder / f"{name}.cir", netlist(rig, COMMAND))
    show_check(work, findings, with_assumptions=False)
    out = console()
    out.print("Written:")
    for file, what in written.items():
        out.print(f"  {file}  {what}", soft_wrap=True)
    return DONE
