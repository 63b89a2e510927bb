"""The reference pages say what the code says."""

import pytest
from tests.docs.pages import page
from tools.job_file_page import job_file_page, paths
from tools.stated_defaults import shown, stated
from tools.write_reference import pages

from loomwright.reference.catalogue import table_names
from loomwright.reference.functions import function_keys


@pytest.mark.parametrize("name", sorted(pages()))
def test_a_page_is_what_the_code_says(name: str) -> None:
    """Write it again with `python -m tools.write_reference` when the code has changed."""
    assert page(f"docs/reference/{name}") == pages()[name]


def test_every_key_of_the_job_file_is_on_its_page() -> None:
    told = job_file_page()
    tables = {path.rpartition(".")[0] for path in paths()} - {""}
    headed = {table for table in tables if f"## `[{table}]`" in told or f"## `[[{table}]]`" in told}

    assert tables == headed
    assert [p for p in paths() if "." in p and f"- **`{p.rpartition('.')[2]}`**" not in told] == []


def test_no_default_stays_hidden() -> None:
    """Whatever the reader of job files assumes, in jobs that leave all out, is told."""
    told = job_file_page()

    assert len(stated()) > 90
    assert [
        path for path in stated() if shown(path) not in told and "worked out" not in shown(path)
    ] == []


def test_the_lists_of_tables_and_functions_are_whole() -> None:
    tables, commands = (
        page("docs/reference/tables.md"),
        page("docs/reference/conditions-and-commands.md"),
    )

    assert [name for name in table_names() if f"\n## {name}\n" not in tables] == []
    assert [key for key in function_keys() if f"| `{key}` |" not in commands] == []
