"""`rigs`, `maps` and `devices`: what the workbench's screens do with its store, by command."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from loomwright import examples
from loomwright.cli import main
from loomwright.store.opening import open_store
from loomwright.web.machine import place_of

Run = Callable[..., tuple[int, str, str]]
TEXT = examples.text(examples.DEMO)
WHITLOCKS = "Whitlock's second"
THICKER = TEXT.replace('brake = "14 AWG"', 'brake = "10 AWG"')


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Run one command line on a shop of its own; return its exit code and both streams."""

    def call(*arguments: object) -> tuple[int, str, str]:
        code = main([*(str(each) for each in arguments), "--data", str(tmp_path / "shop")])
        out, err = capsys.readouterr()
        return code, out, err

    return call


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "job.toml"
    file.write_text(TEXT, "utf-8")
    return file


def test_a_rig_is_brought_changed_undone_and_copied(run: Run, job: Path) -> None:
    assert run("rigs", "list")[1].startswith("No such rig is kept")
    code, out, err = run("rigs", "bring", job)
    assert (code, err) == (0, "")
    assert out.startswith("Brought: Quillon van and Marsh Hollow horse trailer (")

    assert run("rigs", "file", "quillon")[1] == TEXT
    job.write_text(THICKER, "utf-8")
    assert 'from "14 AWG" to "10 AWG"' in run("rigs", "keep", "quillon", job, "--based-on", 1)[1]
    assert run("rigs", "file", "quillon")[1] == THICKER
    assert run("rigs", "file", "quillon", "--version", 1)[1] == TEXT
    assert "version 3" in run("rigs", "undo", "quillon")[1]
    assert run("rigs", "file", "quillon")[1] == TEXT
    assert "version 4" in run("rigs", "redo", "quillon")[1]

    told = json.loads(run("rigs", "history", "quillon", "--json")[1])
    assert [each["number"] for each in told] == [1, 2, 3, 4]
    assert "did again" in run("rigs", "history", "quillon")[1]
    assert run("rigs", "copy", "quillon", "--name", WHITLOCKS)[0] == 0
    copied = run("rigs", "file", "whitlock")[1]
    assert copied == THICKER.replace("Quillon van and Marsh Hollow horse trailer", WHITLOCKS)


def test_somebody_else_s_change_is_never_written_over(run: Run, job: Path) -> None:
    run("rigs", "bring", job)
    job.write_text(THICKER, "utf-8")
    run("rigs", "keep", "quillon", job, "--based-on", 1)
    job.write_text(TEXT.replace("Dana Whitlock", "Dana Ray"), "utf-8")
    code, out, err = run("rigs", "keep", "quillon", job, "--based-on", 1)

    assert (code, out) == (2, "")
    assert "kept version 2 meanwhile" in err
    assert run("rigs", "file", "quillon")[1] == THICKER


def test_lists_leave_out_what_is_put_away(run: Run, job: Path) -> None:
    run("rigs", "bring", job)
    run("rigs", "begin", "utility-rewire", "--name", "Bench rig")
    assert run("rigs", "put-away", "bench")[0] == 0
    names = [each["name"] for each in json.loads(run("rigs", "list", "--json")[1])]
    away = [each["name"] for each in json.loads(run("rigs", "list", "--away", "--json")[1])]

    assert names == ["Quillon van and Marsh Hollow horse trailer"]
    assert away == ["Bench rig"]
    assert run("rigs", "fetch-back", "bench")[0] == 0
    assert "Bench rig" in run("rigs", "list")[1]
    assert "Bench rig" not in run("rigs", "list", "whitlock")[1]


def test_a_job_file_that_cannot_be_used_is_kept_as_a_draft(run: Run, job: Path) -> None:
    job.write_text(TEXT.replace('"7-blade"', '"7-blad"'), "utf-8")

    assert "a draft" in run("rigs", "bring", job)[1]
    assert "(draft)" in run("rigs", "list")[1]


def test_a_written_job_file_leaves_an_existing_one_alone(run: Run, job: Path) -> None:
    run("rigs", "bring", job)
    job.write_text("mine", "utf-8")
    code, _, err = run("rigs", "file", "quillon", "-o", job)

    assert code == 2
    assert "it exists" in err
    assert job.read_text("utf-8") == "mine"


def test_a_wire_map_is_kept_with_its_proofs_shown_and_retired(run: Run, job: Path) -> None:
    run("rigs", "bring", job)
    code, _, err = run("maps", "keep", "quillon")
    assert (code, "say how the wires were proved" in err) == (2, True)
    kept = run("maps", "keep", "quillon", "--how", "meter", "--wire", "tail=fed, its lamp lit")
    assert kept[0] == 0
    assert kept[1].startswith("Kept: 7 wires of Quillon 300 passenger van")

    listed = run("maps", "list")[1].splitlines()
    assert len(listed) == 2
    key = listed[1].split()[0]
    shown = run("maps", "show", key)[1]
    assert "fed, its lamp lit" in shown
    assert shown.count("meter,") == 6
    assert run("maps", "retire", key)[0] == 0
    assert run("maps", "list")[1].startswith("No such wire map")


def test_only_the_wires_that_were_proved_are_kept(run: Run, job: Path) -> None:
    run("rigs", "bring", job)
    kept = run("maps", "keep", "quillon", "--wire", "tail=meter")[1]
    assert kept.startswith("Kept: 1 wire of ")
    key = run("maps", "list")[1].splitlines()[1].split()[0]

    assert "stop" not in run("maps", "show", key)[1]


def test_a_device_is_listed_and_dropped(run: Run, tmp_path: Path) -> None:
    assert run("devices", "list")[1].startswith("No device is let in")
    with open_store(place_of(tmp_path / "shop").store) as store:
        store.devices.admit("Ines's tablet", "Tomas")

    assert "Ines's tablet" in run("devices", "list")[1]
    assert run("devices", "drop", "ines's tablet")[1] == "Dropped: Ines's tablet.\n"
    assert run("devices", "list")[1].startswith("No device is let in")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("rigs", "undo", "moon"), "there is no such rig; there are: none yet"),
        (("rigs", "begin", "moon"), "give one of boat-surge-brakes"),
        (("maps", "show", "moon"), "there is no such wire map; there are: none yet"),
        (("maps", "keep", "moon", "--wire", "tail"), "write FUNCTION=HOW"),
        (("devices", "drop", "moon"), "there is no such device; there are: none yet"),
    ],
)
def test_what_is_not_there_is_told_with_what_is(
    run: Run, arguments: tuple[str, ...], said: str
) -> None:
    code, out, err = run(*arguments)

    assert (code, out) == (2, "")
    assert said in " ".join(err.split())
