"""The page about the command line is made from it, and help tells the same."""

import inspect
from importlib import import_module
from pathlib import Path

import pytest
from cyclopts import App

from loomwright.cli import main
from loomwright.cli.app import COMMANDS
from loomwright.cli.manual import manual

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "cli.md"


def test_the_page_is_what_the_commands_make() -> None:
    assert PAGE.read_text("utf-8") == manual(), "run tools/write_cli_reference.py"


@pytest.mark.parametrize(("name", "summary"), [(name, summary) for name, summary, _ in COMMANDS])
def test_the_summary_of_a_command_is_the_first_line_of_its_docstring(
    name: str, summary: str
) -> None:
    module = name.replace("-", "_")
    command = getattr(import_module(f"loomwright.cli.{module}"), module)

    said = command.help if isinstance(command, App) else inspect.getdoc(command)
    assert (said or "").splitlines()[0] == summary


@pytest.mark.parametrize("name", [name for name, _, _ in COMMANDS])
def test_help_of_a_command_fits_eighty_columns(
    capsys: pytest.CaptureFixture[str], name: str
) -> None:
    code = main([name, "--help"])
    out, err = capsys.readouterr()

    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 80
    assert "\x1b" not in out
