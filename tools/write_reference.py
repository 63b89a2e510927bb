"""Write the reference pages that are made from the code and its tables.

Run as `.venv/bin/python -m tools.write_reference` after a change of the job file, of a table, of a
rule, of a command or of a default; a test compares the files with what this writes.
"""

from __future__ import annotations

from pathlib import Path

from loomwright.checks.catalogue import rules_page
from tools.command_page import command_page
from tools.job_file_page import job_file_page
from tools.table_page import table_page

REFERENCE = Path(__file__).parents[1] / "docs" / "reference"


def pages() -> dict[str, str]:
    """Return each page's file name and text."""
    return {
        "job-file.md": job_file_page(),
        "tables.md": table_page(),
        "conditions-and-commands.md": command_page(),
        "rules.md": rules_page(),
    }


def main() -> None:
    """Write every page."""
    for name, text in pages().items():
        (REFERENCE / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
