"""Docstrings tell the truth about signatures (ruff sees to it that each public name has one)."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "loomwright"
MODULES = sorted(SOURCE.rglob("*.py"))
SECTION = re.compile(r"^Parameters\n-+\n(?P<body>.*?)(?=^\w[^\n]*\n-{3,}$|\Z)", re.M | re.S)
ENTRY = re.compile(r"^(?P<names>\*{0,2}\w+(?:, *\*{0,2}\w+)*)(?: *:.*)?$", re.M)

Documented = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def documented(tree: ast.Module) -> Iterator[tuple[Documented, str]]:
    for node in ast.walk(tree):
        if isinstance(node, Documented) and (text := ast.get_docstring(node)):
            yield node, text


def described_parameters(docstring: str) -> list[str]:
    """Names in the numpy-style section Parameters, in its order."""
    section = SECTION.search(docstring)
    if not section:
        return []
    return [
        name.strip().lstrip("*")
        for entry in ENTRY.finditer(section["body"])
        for name in entry["names"].split(",")
    ]


def taken_parameters(node: Documented) -> list[str]:
    """Names a function takes, or the fields a dataclass is made from."""
    if isinstance(node, ast.ClassDef):
        inits = [n for n in node.body if isinstance(n, ast.FunctionDef) and n.name == "__init__"]
        if inits:
            return taken_parameters(inits[0])
        fields = (n.target for n in node.body if isinstance(n, ast.AnnAssign))
        return [target.id for target in fields if isinstance(target, ast.Name)]
    taken = node.args
    named = [*taken.posonlyargs, *taken.args, *taken.kwonlyargs, taken.vararg, taken.kwarg]
    return [arg.arg for arg in named if arg and arg.arg not in {"self", "cls"}]


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_described_parameters_are_those_of_the_signature(module: Path) -> None:
    for node, docstring in documented(ast.parse(module.read_text("utf-8"))):
        described = described_parameters(docstring)
        taken = taken_parameters(node)

        where = f"{module.relative_to(ROOT)}:{node.lineno} {node.name}"
        assert len(described) == len(set(described)), f"{where} describes a parameter twice"
        assert set(described) <= set(taken), f"{where} describes {set(described) - set(taken)}"
        assert described == [name for name in taken if name in described], f"{where}: order"


def test_the_reader_of_docstrings_sees_a_parameter_that_is_not_there() -> None:
    """The check has teeth: a misnamed parameter of a small example is found."""
    example = ast.parse(
        "def drop_v(current_a, resistance_ohm):\n"
        '    """Drop.\n\n    Parameters\n    ----------\n'
        "    current_a : float\n        Current. [A]\n    ohms : float\n        Resistance.\n\n"
        '    Returns\n    -------\n    float\n    """\n'
    )
    ((node, docstring),) = documented(example)

    assert described_parameters(docstring) == ["current_a", "ohms"]
    assert taken_parameters(node) == ["current_a", "resistance_ohm"]
