"""Each how-to does what it says: its commands and its Python run, its pieces of a file are read."""

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.docs.console import (
    changed,
    differences,
    loomwright,
    loomwright_here,
    python,
    run_command,
    shown_commands,
)
from tests.docs.pages import ROOT, blocks
from tools.job_file_page import paths
from tools.stated_defaults import plain_path

from loomwright.examples import text

PAGES = sorted((ROOT / "docs" / "how-to").glob("*.md"))
WIRE = frozenset({"size", "length", "colour", "insulation"})
MANY = frozenset({"lights", "channels", "lead", "cord", "run"})
"""Tables whose keys are functions."""


def unknown_keys(table: object, path: str = "") -> Iterator[str]:
    """Keys of a piece of a job file that the job file does not have."""
    known = set(paths())
    entries = table if isinstance(table, list) else [table]
    for each in entries:
        if not isinstance(each, dict):
            continue
        for key, value in each.items():
            place = f"{path}{key}"
            is_wire = key in WIRE and plain_path(path.rstrip(".")).endswith("FUNCTION")
            if place in known or is_wire or path.rstrip(".").rpartition(".")[2] in MANY:
                yield from unknown_keys(value, f"{place}.")
            elif not (key in WIRE and path.rstrip(".") in known):
                yield place


@pytest.mark.slow
@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_a_how_to_goes_as_written(path: Path, tmp_path: Path) -> None:
    """In this process, which is faster; the tutorial starts the program for each command."""
    job = tmp_path / "job.toml"
    code = ""
    for block in blocks(path.read_text("utf-8")):
        match block.kind:
            case "toml" if not job.exists():
                job.write_text(block.text, "utf-8")
            case "toml":
                assert list(unknown_keys(tomllib.loads(block.text))) == []
            case "diff":
                job.write_text(changed(job.read_text("utf-8"), block.text), "utf-8")
            case "python":
                code += block.text
            case "console":
                for words, shown in shown_commands(block.text):
                    answer = run_command(words, tmp_path, loomwright_here)
                    assert differences(shown, answer) == [], words
    if code:
        answer = python(code, tmp_path)
        assert answer.code == 0, answer.said


def test_a_key_that_no_job_file_has_is_seen() -> None:
    """The check above has teeth."""
    piece = {"trailer": {"cord": {"brake": {"size": "12 AWG"}}, "wheels": 4}}

    assert list(unknown_keys(piece)) == ["trailer.wheels"]


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["hookup", "job.toml"], 0),
        (["check", "job.toml"], 1),
        (["check", "none.toml"], 2),
        (["table", "traps", "more"], 2),
        (["new", "utility-rewire", "-o", "made.toml"], 0),
    ],
)
def test_a_command_answers_here_as_it_does_by_itself(
    words: list[str], code: int, tmp_path: Path
) -> None:
    """A page may be walked in this process, because what it shows and writes is the same."""
    folders = [tmp_path / name for name in ("here", "alone")]
    for folder in folders:
        folder.mkdir()
        (folder / "job.toml").write_text(text("horse-trailer-van"), "utf-8")
    here, alone = loomwright_here(words, folders[0]), loomwright(words, folders[1])

    assert here == alone
    assert here.code == code
    assert here.said
    files = [{each.name: each.read_bytes() for each in folder.iterdir()} for folder in folders]
    assert files[0] == files[1]
