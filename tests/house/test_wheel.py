"""The wheel carries all the package needs and runs away from the checkout."""

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src"
BUILD = "import sys; from hatchling.build import build_wheel; build_wheel(sys.argv[1])"
RUN = "import sys; from loomwright.cli import main; sys.exit(main())"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this checkout by the build system pyproject.toml names."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-c", BUILD, str(folder)], cwd=ROOT, check=True, capture_output=True
    )
    (built,) = folder.glob("loomwright-*-py3-none-any.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The unpacked wheel, which is what installing a pure Python wheel comes to."""
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def loomwright(installed: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    """Run the installed command in an empty folder of its own."""
    away = installed / "away"
    away.mkdir(exist_ok=True)
    return subprocess.run(
        [sys.executable, "-c", RUN, *words],
        cwd=away,
        env={**os.environ, "PYTHONPATH": str(installed), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_the_wheel_carries_every_file_of_the_package(wheel: Path) -> None:
    files = {
        path.relative_to(SOURCE).as_posix()
        for path in (SOURCE / "loomwright").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    with zipfile.ZipFile(wheel) as archive:
        carried = {name for name in archive.namelist() if ".dist-info/" not in name}

    assert carried == files
    assert {"csv", "py", "toml", "ttf", "txt", "typ"} <= {name.rpartition(".")[2] for name in files}
    assert "loomwright/py.typed" in files


def test_the_wheel_carries_its_licences(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = [name for name in archive.namelist() if ".dist-info/licenses/" in name]

    assert {name.rpartition("/")[2] for name in names} == {"LICENSE", "OFL.txt", "THIRD_PARTY.md"}


def test_the_installed_package_is_the_one_that_runs(installed: Path) -> None:
    """Guards the tests below: the editable checkout must not answer in its place."""
    code = "import json, loomwright; print(json.dumps(loomwright.__file__))"
    answer = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(installed)},
        capture_output=True,
        text=True,
        check=True,
    )

    assert Path(json.loads(answer.stdout)).is_relative_to(installed)


def test_the_installed_command_tells_its_version(installed: Path) -> None:
    answer = loomwright(installed, "--version")

    assert answer.returncode == 0, answer.stderr
    assert answer.stdout.split()[-1] == "0.1.0"


def test_the_installed_command_checks_an_example_rig(installed: Path) -> None:
    example = min((installed / "loomwright" / "examples").glob("*.toml"))

    answer = loomwright(installed, "check", str(example))

    assert answer.returncode in {0, 1}, answer.stderr  # 1: it found something to put right
    assert answer.stdout.strip()


def test_the_installed_command_makes_the_demo(installed: Path) -> None:
    answer = loomwright(installed, "demo", "demo-out")

    sheets = list((installed / "away" / "demo-out").rglob("*.pdf"))
    assert answer.returncode == 0, answer.stderr
    assert sheets
    assert all(sheet.read_bytes().startswith(b"%PDF-") for sheet in sheets)
