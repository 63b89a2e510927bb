"""The Python door: the examples in its docstring and on its page run as they stand."""

import contextlib
import io
import re
import runpy
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest

import loomwright
from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.quantities import Units

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "python.md"
DOCSTRING = loomwright.__doc__ or ""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A folder with a job file in it, as the examples expect."""
    (tmp_path / "job.toml").write_text(examples.text("utility-rewire"), "utf-8")
    return tmp_path


def run(code: str, folder: Path) -> tuple[dict[str, Any], str]:
    """Run a piece of a page in a folder; return its names and what it printed."""
    script = folder / "example.py"
    script.write_text(code, "utf-8")
    said = io.StringIO()
    with contextlib.chdir(folder), contextlib.redirect_stdout(said):
        names = runpy.run_path(str(script))
    return names, said.getvalue()


def test_the_example_of_the_docstring_runs(job: Path) -> None:
    code = dedent(DOCSTRING.partition("::\n")[2].rpartition("\n\n")[0])
    _, said = run(code, job)

    assert "sealed" in said
    assert (job / "job.pdf").read_bytes().startswith(b"%PDF-")


def test_every_example_of_the_page_runs_in_its_order(job: Path) -> None:
    blocks = re.findall(r"^```python\n(.*?)^```", PAGE.read_text("utf-8"), re.M | re.S)
    names, said = run("\n".join(blocks), job)

    assert len(blocks) == 6
    assert names["metric"].units is Units.METRIC
    assert "bad.toml 2 rig.units furlongs" in said


def test_the_page_lists_every_public_name() -> None:
    told = set(re.findall(r"^\| `(\w+)\(", PAGE.read_text("utf-8"), re.M))

    assert told == set(loomwright.__all__) - {"__version__"}


def test_the_version_is_told_and_nothing_else_is_made_up() -> None:
    assert re.fullmatch(r"\d+\.\d+\.\d+.*", loomwright.__version__)
    with pytest.raises(AttributeError, match="no_such_name"):
        _ = loomwright.no_such_name


def test_progress_is_told_from_the_first_case_to_the_last() -> None:
    rig = loomwright.read_rig(examples.text("utility-rewire"))
    told: list[tuple[int, int]] = []
    work = loomwright.survey(rig, lambda done, total: told.append((done, total)))
    cases = len(work.answers.commands) * len(work.answers.conditions)

    assert told == [(number, cases) for number in range(1, cases + 1)]


def test_a_deck_names_its_command() -> None:
    rig = loomwright.read_rig(examples.text("utility-rewire"))

    assert "park" in loomwright.netlist(rig, "park").splitlines()[0]
    with pytest.raises(InvalidInput):
        loomwright.netlist(rig, "no such command")
