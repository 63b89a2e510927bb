"""The command that shows bands: its page, its JSON, what it refuses."""

import json
import re
from pathlib import Path

import pytest

from loomwright import examples
from loomwright.cli import main


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "job.toml"
    file.write_text(examples.text("horse-trailer-van"), "utf-8")
    return file


def test_the_page_has_bands_and_what_matters(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["tolerance", str(job), "--samples", "200"])
    out, err = capsys.readouterr()

    assert (code, err) == (0, "")
    assert "200 rigs drawn, seed 1" in out
    assert re.search(r"left brake, axle 1 +[\d.]+ V +[\d.]+ V", out)
    assert "ground of left brake, axle 1" in out
    assert max(map(len, out.splitlines())) <= 80


def test_the_same_seed_prints_the_same_page(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pages = []
    for seed in ("4", "4", "5"):
        main(["tolerance", str(job), "--samples", "100", "--seed", seed])
        pages.append(capsys.readouterr().out.replace(f"seed {seed}", ""))
    assert pages[0] == pages[1] != pages[2]


def test_json_holds_every_load_and_pin_under_every_command(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["tolerance", str(job), "--samples", "100", "--json"])
    found = json.loads(capsys.readouterr().out)

    assert found["format"] == "loomwright/tolerance"
    assert set(found["commands"]) >= {"rest", "park", "brake_pedal", "all"}
    for command in found["commands"].values():
        for load in command["loads"]:
            band = load["voltage_v"]
            assert band["least"] <= band["low"]["value"] <= band["high"]["value"] <= band["most"]
            assert len(load["matters"]) == 5
        assert command["pins"]


@pytest.mark.parametrize("options", [["--samples", "3"], ["--seed", "-2"]])
def test_numbers_that_cannot_be_used_are_told(
    job: Path, capsys: pytest.CaptureFixture[str], options: list[str]
) -> None:
    code = main(["tolerance", str(job), *options])
    out, err = capsys.readouterr()

    assert (code, out) == (2, "")
    assert options[0].strip("-") in err
    assert "Traceback" not in err
