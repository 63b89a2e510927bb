"""The tutorial does what it says: its file is put together, its commands are run."""

from pathlib import Path

import pytest
from tests.docs.console import changed, differences, run_command, shown_commands
from tests.docs.pages import blocks, page

GONE = ("GRND01", "LEAD01", "FEED01", "AWAY02", "JOIN02")
"""Findings that the tutorial says its changes mend."""


@pytest.mark.slow
def test_the_tutorial_goes_as_written(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    mended = False
    commands = 0
    for block in blocks(page("docs/tutorial.md")):
        match block.kind:
            case "toml":
                before = job.read_text("utf-8") if job.exists() else ""
                job.write_text(f"{before}{block.text}\n", "utf-8")
            case "diff":
                job.write_text(changed(job.read_text("utf-8"), block.text), "utf-8")
                mended = True
            case "console":
                ((words, shown),) = shown_commands(block.text)
                answer = run_command(words, tmp_path)
                commands += 1

                assert differences(shown, answer) == [], words
                if mended and words[1] == "check":
                    assert "MUST BE MENDED" not in answer.said
                    assert [code for code in GONE if code in answer.said] == []

    assert commands == 8
    assert (tmp_path / "job.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "job.cir").read_text("utf-8").rstrip().endswith(".end")
    assert (tmp_path / "job.schema.json").exists()
