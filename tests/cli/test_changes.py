"""`mend` and `what-if`: what a change would do, and the changed job file where it is asked for."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from loomwright import examples

Run = Callable[..., tuple[int, str, str]]
TEXT = examples.text(examples.DEMO)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "job.toml"
    file.write_text(TEXT, "utf-8")
    return file


def test_the_list_names_each_finding_and_what_mends_it(run: Run, job: Path) -> None:
    code, out, err = run("mend", job)

    assert (code, err) == (1, "")
    assert len(re.findall(r"[a-z]{4}\d\d-[0-9a-f]{8}$", out, re.M)) > 8
    assert "→ Run 12 AWG as run, electric brakes." in out
    assert max(map(len, out.splitlines())) <= 80


def test_a_mend_is_shown_first_and_written_only_where_asked(run: Run, job: Path) -> None:
    code, out, err = run("mend", job, "brak03")

    assert (code, err) == (0, "")
    assert "What moves, normal running" in out
    assert "Goes: should be mended, brake wire: run." in out
    assert re.search(r'^ *156 − brake = "14 AWG"\n *156 \+ brake = "12 AWG"$', out, re.M)
    assert "Nothing is written yet" in out
    assert "disconnect the battery first" in out
    assert job.read_text("utf-8") == TEXT

    code, out, _ = run("mend", job, "brak03", "-o", job)
    assert code == 0
    assert f"Written to {job}." in out
    assert job.read_text("utf-8") == TEXT.replace('brake = "14 AWG"', 'brake = "12 AWG"')


def test_the_list_of_what_may_be_changed_gives_paths_that_can_be_tried(run: Run, job: Path) -> None:
    code, out, _ = run("what-if", job)
    paths = re.findall(r"^    (\S+)$", out, re.M)

    assert code == 0
    assert len(paths) > 40
    lengths = [path for path in paths if path.endswith(".length")]
    assert run("what-if", job, *(f"{path}=9 ft" for path in lengths[:3]))[0] == 0


def test_changes_are_tried_together_and_written_where_asked(run: Run, job: Path) -> None:
    other = job.with_name("other.toml")
    code, out, err = run(
        "what-if", job, "trailer.run.brake=10 AWG", "vehicle.feed[6].fuse=20 A",
        "--conditions", "dim", "-o", other,
    )  # fmt: skip

    assert (code, err) == (0, "")
    assert "Run, electric brakes: thickness: 10 AWG instead of 14 AWG" in out
    assert "least light and braking" in out
    assert job.read_text("utf-8") == TEXT
    assert other.read_text("utf-8") == TEXT.replace('brake = "14 AWG"', 'brake = "10 AWG"').replace(
        'fuse = "25 A"', 'fuse = "20 A"'
    )


def test_programs_get_the_same_as_people(run: Run, job: Path) -> None:
    listed = json.loads(run("mend", job, "--json")[1])
    mended = [each for each in listed["findings"] if each["mend"]]
    told = json.loads(run("mend", job, mended[0]["key"], "--json")[1])
    tried = {each["path"]: each["value"] for each in told["edits"]}
    again = json.loads(
        run("what-if", job, *(f"{path}={value}" for path, value in tried.items()), "--json")[1]
    )

    assert told["edits"] == mended[0]["mend"]["edits"]
    assert again == told
    known = json.loads(run("what-if", job, "--json")[1])["values"]
    assert set(tried) <= {each["path"] for each in known}


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("mend", "JOB", "moon"), "not known"),
        (("mend", "JOB", "brak"), "it begins 2: say brak01-"),
        (("mend", "JOB", "chrg01"), "no plain change mends this one"),
        (("mend", "JOB", "-o", "x.toml"), "name the finding to mend as well"),
        (("what-if", "JOB", "x", "y=1"), "2 values to mend"),
        (("what-if", "JOB", "trailer.run.brake=thick"), "write the size with its system"),
        (("what-if", "JOB", "trailer.run.brake=8 AWG", "--conditions", "dimm"), "did you mean dim"),
        (("what-if", "JOB", "-o", "x.toml"), "say what to change as well"),
    ],
)
def test_what_cannot_be_used_is_told_and_nothing_written(
    run: Run, job: Path, tmp_path: Path, arguments: tuple[str, ...], said: str
) -> None:
    code, out, err = run(*(job if each == "JOB" else each for each in arguments))

    assert (code, out) == (2, "")
    assert said in " ".join(err.split())
    assert [each.name for each in tmp_path.iterdir()] == ["job.toml"]


def test_a_rig_with_nothing_to_mend_says_so(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "clean.toml"
    assert run("new", "horse-trailer-van", "-o", file)[0] == 0
    code, out, _ = run("mend", file)

    assert code == 0
    assert "Nothing to mend" in out
