"""The project speaks of itself alone, and its modules stay short enough to read."""

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
TEXT = {"", ".cfg", ".csv", ".md", ".py", ".svg", ".toml", ".txt", ".typ", ".json", ".ambr"}
FOREIGN = re.compile(
    r"/(w[o]rk|r[o]ot|t[m]p|h[o]me)/|\.\./sh[a]red|seed d[o]cument|tr[a]nscripts?\b"
    r"|\bsub-?ag[e]nts?\b|\bL[L]Ms?\b|co-auth[o]red-by|generated w[i]th|\biss[u]e #?\d",
    re.IGNORECASE,
)
UNFINISHED = re.compile(
    r"\bT[O]DO\b|\bF[I]XME\b|\bX[X]X\b|NotImplemented[E]rror|except E[x]ception\b|except[:]"
    r"|pytest\.mark\.(sk[i]p|xf[a]il)|pytest\.sk[i]p\(|m[o]nkeypatch"
)


def text_files() -> Iterator[Path]:
    """Every text file of the project, leaving out what `.gitignore` leaves out."""
    ignored = {line.rstrip("/") for line in (ROOT / ".gitignore").read_text("utf-8").split()}
    folders = [ROOT]
    while folders:
        for path in sorted(folders.pop().iterdir()):
            if path.name in ignored | {".git"} or path.suffix == ".egg-info":
                continue
            if path.is_dir():
                folders.append(path)
            elif path.suffix in TEXT:
                yield path


def lines_with(pattern: re.Pattern[str], suffixes: set[str]) -> list[str]:
    return [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}"
        for path in text_files()
        if path.suffix in suffixes
        for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1)
        if pattern.search(line)
    ]


def test_no_file_speaks_of_a_machine_or_of_how_it_was_made() -> None:
    assert lines_with(FOREIGN, TEXT) == []


def test_nothing_is_left_unfinished() -> None:
    assert lines_with(UNFINISHED, {".py"}) == []


def test_no_module_is_longer_than_400_lines() -> None:
    long = {
        str(path.relative_to(ROOT)): lines
        for path in [*(ROOT / "src").rglob("*.py"), ROOT / "dev.py"]
        if (lines := len(path.read_text("utf-8").splitlines())) > 400
    }

    assert long == {}


def test_no_room_is_called_what_anything_could_be_called() -> None:
    vague = {"utils", "util", "helpers", "common", "misc", "manager"}

    assert [path for path in (ROOT / "src").rglob("*") if path.stem in vague] == []


def test_the_locked_requirements_name_no_host() -> None:
    for path in (ROOT / "requirements").glob("*.txt"):
        assert not re.search(r"://|--(extra-)?index-url|--find-links", path.read_text("utf-8")), (
            path
        )
