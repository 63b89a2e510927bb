"""The tour of the README goes as it says."""

import re
import shlex
import shutil
from pathlib import Path

import pytest
from tests.docs.console import changed, loomwright, loomwright_here, python
from tests.docs.pages import ROOT, blocks, page

import loomwright as api

DEMO = "examples/horse-trailer-van.toml"
COMMAND = re.compile(r"^    loomwright (?P<words>[^#\n]+)", re.M)
FIRST_CAUSE = re.compile(r"side fault \d+% trailer trailer ground at the junction: open")
NAMED = ("GRND01", "GRND04", "BRAK03")
"""Findings that the tour names, and says its changes mend."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the examples in it, to walk the tour in."""
    shutil.copytree(ROOT / "src" / "loomwright" / "examples", tmp_path / "examples")
    return tmp_path


@pytest.mark.slow
def test_every_command_of_the_tour_runs(folder: Path) -> None:
    commands = [found["words"].strip() for found in COMMAND.finditer(page("README.md"))]
    answers = {words: loomwright_here(shlex.split(words), folder) for words in commands}
    by_name = {words.split()[0]: answer for words, answer in answers.items()}

    assert len(commands) == 10
    assert {name for name, answer in by_name.items() if answer.code} == {"check", "mend"}
    assert {answer.code for answer in answers.values()} == {0, 1}
    assert "Run 12 AWG as run, electric brakes" in by_name["mend"].said
    assert "10 AWG instead of 14 AWG" in by_name["what-if"].said
    assert "21 walks" in by_name["lightcheck"].said
    assert FIRST_CAUSE.search(by_name["trace"].said), by_name["trace"].said
    assert (folder / "job.pdf").exists()
    assert (folder / "job.cir").exists()
    assert (folder / "mine.toml").exists()


def test_the_mends_of_the_tour_mend_what_it_says() -> None:
    text = (ROOT / DEMO).read_text("utf-8")
    (diff,) = (block.text for block in blocks(page("README.md")) if block.kind == "diff")
    before, after = api.survey(api.read_rig(text)), api.survey(api.read_rig(changed(text, diff)))
    found_before = {finding.rule for finding in api.check(before)}
    found_after = {finding.rule for finding in api.check(after)}
    grave = [
        each.rule for each in api.check(after) if each.severity in ("danger", "must be mended")
    ]
    far = [work.answers.at("park+brake_pedal").load("left rear tail") for work in (before, after)]

    assert set(NAMED) <= found_before
    assert set(NAMED).isdisjoint(found_after)
    assert "DROP01" in found_after - found_before
    assert grave == []
    assert f"{far[0].voltage_v:.1f} of {before.rig.vehicle.supply.running_v} V" in page("README.md")
    assert far[0].light_share is not None
    assert far[0].light_share < 0.5
    assert far[1].voltage_v > 12.0


def test_the_colour_trap_of_the_tour_is_told(folder: Path) -> None:
    said = loomwright(["hookup", DEMO], folder).said

    assert "TRAP" in said
    assert "Green is right stop and turn" in said
    assert "tail lamps of both sides on the plug side" in said


def test_the_python_of_the_readme_runs(folder: Path) -> None:
    (code,) = (block.text for block in blocks(page("README.md")) if block.kind == "python")
    answer = python(code, folder)

    assert answer.code == 0, answer.said
    assert re.search(r"10\.\d+$", answer.said)
