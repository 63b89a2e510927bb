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

    assert [path for path in paths() if f"- **`{path.rpartition('.')[2]}`**" not in told] == []
    assert [
        path
        for path in paths()
        if "." in path
        and f"`[{path.rpartition('.')[0]}]`" not in told
        and f"`[[{path.rpartition('.')[0]}]]`" not in told
    ] == []


def test_every_default_learnt_belongs_to_a_key_of_the_page() -> None:
    """What the reader of job files assumes is told somewhere: no default stays hidden."""
    told, keys = job_file_page(), set(paths())
    untold = [
        path
        for path in stated()
        if path not in keys and path.rpartition(".")[0] not in keys and shown(path) not in told
    ]

    assert untold == []


def test_the_lists_of_tables_and_functions_are_whole() -> None:
    tables, commands = (
        page("docs/reference/tables.md"),
        page("docs/reference/conditions-and-commands.md"),
    )

    assert [name for name in table_names() if f"\n## {name}\n" not in tables] == []
    assert [key for key in function_keys() if f"| `{key}` |" not in commands] == []
