"""Running what a page shows: its commands, its pieces of a job file, its changes to one."""

from __future__ import annotations

import io
import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from loomwright.cli import main

RUN = "import sys; from loomwright.cli import main; sys.exit(main())"
EXIT = re.compile(r"\(exit (\d)\)")
SHELL = {"PYTHONIOENCODING": "utf-8", "COLUMNS": "100", "LC_ALL": "C.UTF-8"}
"""What a page's commands find in their environment."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command printed, on one line, and its exit code."""

    said: str
    code: int


Program = Callable[[list[str], Path], Answer]
"""Runs this program in a folder."""


def loomwright(words: list[str], folder: Path) -> Answer:
    """Run the program in a folder as a person does at the shell."""
    return _run([sys.executable, "-c", RUN, *words], folder)


def loomwright_here(words: list[str], folder: Path) -> Answer:
    """Run the program as `loomwright` does, but in this process, which has its libraries loaded."""
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in range(2))
    with _shell(), chdir(folder), redirect_stdout(out), redirect_stderr(err):
        code = main(words)
    said, complained = (each.buffer.getvalue().decode() for each in (out, err))
    return Answer(one_line(f"{said} {complained}"), code)


def python(code: str, folder: Path) -> Answer:
    """Run the Python of a page in a folder."""
    return _run([sys.executable, "-c", code], folder)


def shown_commands(text: str) -> Iterator[tuple[list[str], str]]:
    """Words of each command of a console block, and what the page shows below it."""
    for part in text.removeprefix("$ ").split("\n$ "):
        command, _, shown = part.partition("\n")
        yield shlex.split(command), shown


def run_command(words: list[str], folder: Path, ours: Program = loomwright) -> Answer:
    """Run a command of a page: this program, as `ours` does, or another that must be installed."""
    program, *rest = words
    if program == "loomwright":
        return ours(rest, folder)
    path = shutil.which(program)
    assert path, f"{program} is not installed: run the set-up again"
    return _run([path, *rest], folder)


def one_line(text: str) -> str:
    """Text without line breaks, rules and doubled space, so that width does not matter."""
    return " ".join(re.sub(r"[─━│╭╮╰╯]", " ", text.replace("\u00a0", " ")).split())


def differences(shown: str, answer: Answer) -> list[str]:
    """What a page shows of an output and the output does not have.

    Each line must be in it; parts around an ellipsis each. `(exit 1)` is the exit code, 0 where
    none is shown.
    """
    code = next((int(found[1]) for found in EXIT.finditer(shown)), 0)
    missing = [] if answer.code == code else [f"exit {answer.code}, not {code}: {answer.said}"]
    for line in EXIT.sub("", shown).splitlines():
        missing += [part for part in map(one_line, line.split("…")) if part not in answer.said]
    return missing


def changed(text: str, diff: str) -> str:
    """Text after a change written as `-` and `+` lines between lines that stay.

    Each hunk, parted by an empty line, must fit at one place alone.
    """
    text = f"\n{text}"
    for hunk in diff.strip("\n").split("\n\n"):
        lines = hunk.splitlines()
        old = "\n".join(line[1:] for line in lines if line[0] in " -")
        new = "\n".join(line[1:] for line in lines if line[0] in " +")
        if text.count(f"\n{old}\n") != 1:
            raise AssertionError(f"{text.count(old)} places for {old!r}")
        text = text.replace(f"\n{old}\n", f"\n{new}\n")
    return text.removeprefix("\n")


@contextmanager
def _shell() -> Iterator[None]:
    """Let this process have the environment of a page's commands for a while."""
    before = dict(os.environ)
    os.environ.update(SHELL)
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)


def _run(command: list[str], folder: Path) -> Answer:
    done = subprocess.run(
        command,
        cwd=folder,
        env=os.environ | SHELL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    return Answer(one_line(done.stdout + " " + done.stderr), done.returncode)
