"""The papers beside the code say what the code says."""

import re
import tomllib
from pathlib import Path

import loomwright

ROOT = Path(__file__).parents[2]
GLOSSARY = "docs/glossary.md"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def read(name: str) -> str:
    return (ROOT / name).read_text("utf-8")


def test_every_dependency_has_its_reason() -> None:
    groups = PROJECT["dependency-groups"].values()
    wanted = [*PROJECT["project"]["dependencies"], *(one for group in groups for one in group)]
    names = {re.split(r"[<>=;\[ ]", one)[0] for one in wanted if isinstance(one, str)}
    paper = read("docs/dependencies.md")

    assert [name for name in sorted(names) if not re.search(rf"\b{re.escape(name)}\b", paper)] == []


def test_the_glossary_says_each_word_once_and_in_order() -> None:
    parts = [re.findall(r"^- \*\*(.+?)\*\*", part, re.M) for part in read(GLOSSARY).split("## ")]
    words = [word for part in parts for word in part]

    assert len(words) > 50
    assert len(words) == len(set(words))
    assert parts == [sorted(part) for part in parts]


def test_the_newest_version_in_the_changelog_is_this_one() -> None:
    newest = re.search(r"^## \[(\d+\.\d+\.\d+)\]", read("CHANGELOG.md"), re.M)

    assert newest
    assert newest[1] == PROJECT["project"]["version"]


def test_contributing_names_every_room_and_no_other() -> None:
    rooms = {
        path.stem
        for path in Path(loomwright.__file__).parent.iterdir()
        if not path.stem.startswith("_") and (path.is_dir() or path.suffix == ".py")
    }
    table = read("CONTRIBUTING.md").partition("| room | holds |")[2].partition("\n\n")[0]
    named = {room for row in table.splitlines() for room in re.findall(r"`(\w+)`", row[:40])}

    assert named == rooms


def test_the_layers_are_the_rooms_in_the_order_of_the_table() -> None:
    layers = PROJECT["tool"]["importlinter"]["contracts"][0]["layers"]
    source = Path(loomwright.__file__).parent
    named = [room for layer in layers for room in re.findall(r"\w+", layer)]
    rooms = [room for room in named if next(source.glob(f"{room}*"), None)]
    table = read("CONTRIBUTING.md").partition("| room | holds |")[2].partition("\n\n")[0]

    assert rooms == [r for row in table.splitlines() for r in re.findall(r"`(\w+)`", row[:40])]
