"""Whatever a person hands over: an answer they can use, exit code 2, never a traceback."""

import io
import os
import subprocess
import sys
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from loomwright import examples
from loomwright.cli import main
from loomwright.invalid import InvalidInput, complaints_in

Ran = tuple[int, str, str]
Run = Callable[..., Ran]
HEAVY = {"pydantic", "typst", "tomlkit", "numpy", "vininfo"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "job.toml"
    file.write_text(examples.text("utility-rewire"), "utf-8")
    return file


def outside(
    *arguments: object, encoding: str = "utf-8", **environment: str
) -> subprocess.CompletedProcess[str]:
    """Run the program as its own process."""
    return subprocess.run(
        [sys.executable, "-m", "loomwright", *map(str, arguments)],
        capture_output=True,
        text=True,
        encoding=encoding,
        env={**os.environ, **environment},
        check=False,
    )


def refused(ran: Ran) -> str:
    """The complaint of a command line that cannot be used: only on the error stream."""
    code, out, err = ran
    assert code == 2
    assert out == ""
    assert "Traceback" not in err
    return " ".join(err.split())


def test_every_bad_value_is_told_at_once_with_its_line(run: Run, job: Path) -> None:
    lines = job.read_text("utf-8").splitlines()
    text = "\n".join(lines)
    text = text.replace('width = "76 in"', 'width = "76"').replace(
        'brakes = "none"', 'brakes = "no"'
    )
    text = text.replace('plug = "4-flat"', 'plug = "4-flatt"')
    job.write_text(text, "utf-8")
    err = refused(run("check", job))

    assert err.startswith("3 values to mend:")
    for field, value in (("width", "76"), ("brakes", "no"), ("plug", "4-flatt")):
        number = 1 + next(
            n for n, line in enumerate(text.splitlines()) if f'{field} = "{value}"' in line
        )
        assert f"job.toml:{number}: trailer.{field} is '{value}'" in err.replace(
            f"{job.parent}/", ""
        )
    assert "did you mean 4-flat" in err


@pytest.mark.parametrize("command", ["check", "hookup", "sheet", "netlist"])
@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is missing"),
        (b"\xff\xfe\x00\x01\x80\x81", "UTF-8"),
        ("naïve = 1".encode("latin-1"), "UTF-8"),
        (b"a = [1,\n", "not TOML"),
        (b"\x00\x00\x00", "TOML"),
        (b"[rig]\nname = 'x'\n", "is missing"),
        (b"colour = 'red'\n", "colour"),
    ],
)
def test_files_that_hold_no_job(
    run: Run, tmp_path: Path, command: str, content: bytes, said: str
) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(content)
    more = {"sheet": ["-o", tmp_path / "x.pdf"], "netlist": ["--command", "park"]}
    err = refused(run(command, file, *more.get(command, [])))

    assert "bad.toml" in err
    assert said in err
    assert not (tmp_path / "x.pdf").exists()


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda folder: folder / "none.toml", "name a job file that exists"),
        (lambda folder: folder, "not a folder"),
        (lambda folder: folder / ("x" * 300), "name a file that can be read"),
        (lambda folder: f"{folder}/a\x00b", "name a file that can be read"),
        (lambda folder: folder / "job.toml" / "inside", "name a file that can be read"),
    ],
)
def test_paths_that_cannot_be_read(
    run: Run, job: Path, make: Callable[[Path], object], said: str
) -> None:
    assert said in refused(run("check", make(job.parent)))


def test_byte_order_marks_and_windows_lines_are_taken(run: Run, job: Path) -> None:
    text = job.read_text("utf-8")
    plain = run("check", job)
    job.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())

    assert run("check", job) == plain


@pytest.mark.parametrize(
    ("target", "said"),
    [
        ("missing/x.pdf", "make the folder"),
        (".", "not a folder"),
        ("job.toml", "this is the job file itself"),
        ("job.toml/x.pdf", "choose a place that can be written"),
    ],
)
def test_places_that_cannot_be_written(run: Run, job: Path, target: str, said: str) -> None:
    before = job.read_bytes()

    assert said in refused(run("sheet", job, "-o", job.parent / target))
    assert said in refused(run("netlist", job, "--command", "park", "-o", job.parent / target))
    assert job.read_bytes() == before


def test_a_demo_needs_a_folder(run: Run, job: Path) -> None:
    assert "name a folder, not a file" in refused(run("demo", job))
    assert "choose a place" in refused(run("demo", job / "below"))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["chek"], 'Did you mean "check"?'),
        (["check"], "name one job file or more"),
        (["check", "--unit", "us", "x"], "Did you mean --units?"),
        (["check", "--units", "miles", "x"], '"us", "metric"'),
        (["table", "trap"], "did you mean traps"),
        (["table", "zzz"], "give one of"),
        (["new", "utility"], "did you mean utility-rewire?"),
        (["new", "-o", "x.toml"], "kind is empty"),
        (["new", "zzz"], "give one of"),
        (["--nope"], "Unknown"),
        (["table", "traps", "more"], "more"),
        (["hookup"], "file"),
    ],
)
def test_misspelt_command_lines_name_the_nearest(run: Run, arguments: list[str], said: str) -> None:
    assert said.casefold() in refused(run(*arguments)).casefold()


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--command", "parc", "did you mean park?"),
        ("--command", "zzz", "give one of"),
        ("--conditions", "nominl", "did you mean nominal?"),
    ],
)
def test_unknown_commands_and_conditions_of_a_deck(
    run: Run, job: Path, option: str, value: str, said: str
) -> None:
    given = {"--command": "park", option: value}
    err = refused(run("netlist", job, *(word for pair in given.items() for word in pair)))

    assert said in err
    assert err.startswith(f"1 value to mend: {option.removeprefix('--')} is '{value}'")


def test_options_that_are_missing_are_named(run: Run, job: Path) -> None:
    assert "--output" in refused(run("sheet", job))
    assert "--command" in refused(run("netlist", job))
    assert "a4" in refused(run("sheet", job, "-o", "x.pdf", "--paper", "a5"))


def test_a_bug_is_not_dressed_up_as_bad_input() -> None:
    mixed = ExceptionGroup("both", [InvalidInput("a", 1, "b"), KeyError("bug")])

    with pytest.raises(ExceptionGroup):
        complaints_in(mixed)


def test_complaints_come_in_order_of_file_and_line() -> None:
    def at(line: int | None) -> InvalidInput:
        return InvalidInput("field", 1, "mend it", file="a.toml", line=line)

    group = ExceptionGroup("all", [at(9), ExceptionGroup("inner", [at(2), at(None)])])

    assert [each.line for each in complaints_in(group)] == [None, 2, 9]


def test_the_module_runs_and_its_exit_code_is_the_commands(job: Path) -> None:
    good, bad = outside("check", job), outside("check", job.parent)

    assert (good.returncode, good.stderr) == (1, "")
    assert (bad.returncode, bad.stdout) == (2, "")
    assert outside("--version").stdout.strip()


def test_a_reader_that_leaves_early_is_no_error(job: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "loomwright", "check", job, "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.read(10)
        program.stdout.close()
        said = program.stderr.read()

    assert said == b""


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_terminals_without_our_letters_get_plain_ones(job: Path, encoding: str) -> None:
    """The program itself once, and every command on a stream as Python gives it there."""
    alone = outside("check", job, encoding=encoding, PYTHONIOENCODING=encoding, PYTHONUTF8="0")
    commands = (
        ["check", str(job)],
        ["hookup", str(job)],
        ["table", "insulations"],
        ["check", str(job), "--json"],
        ["netlist", str(job), "--command", "park"],
        ["schema"],
    )
    pages = []
    for command in commands:
        out, err = (io.TextIOWrapper(io.BytesIO(), encoding, write_through=True) for _ in range(2))
        with redirect_stdout(out), redirect_stderr(err):
            code = main(command)

        assert code in (0, 1)
        assert err.buffer.getvalue() == b""
        pages.append(out.buffer.getvalue().decode(encoding))

    assert all(pages)
    assert (alone.stdout, alone.stderr, alone.returncode) == (pages[0], "", 1)
    assert "------" in alone.stdout
    assert "?" not in alone.stdout


def test_no_colour_is_heeded_and_pipes_get_none(job: Path) -> None:
    for environment in ({}, {"NO_COLOR": "1"}):
        assert "\x1b[" not in outside("check", job, **environment).stdout


def test_help_loads_no_heavy_library_and_lists_every_command() -> None:
    code = (
        "import sys; from loomwright.cli import main; main(['--help']); "
        "print('MODULES', *sorted(m for m in sys.modules if '.' not in m))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    page, _, modules = ran.stdout.partition("MODULES")

    assert HEAVY.isdisjoint(modules.split())
    for name in ("demo", "new", "check", "hookup", "sheet", "netlist", "table", "schema"):
        assert f" {name} " in page
