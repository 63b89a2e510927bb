"""The published schema: the models' own, complete, and true to the examples."""

import tomllib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import pytest

from loomwright import examples
from loomwright.rig import known
from loomwright.rig.schema import job_schema, job_schema_text
from loomwright.rig.write import FIRST_LINE


def tables_of(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield "Job", schema
    yield from schema["$defs"].items()


def test_the_file_beside_the_examples_is_the_schema_of_the_models() -> None:
    """When this fails: write `job_schema_text()` to the file."""
    text = files("loomwright.examples").joinpath("job.schema.json").read_text("utf-8")

    assert text == job_schema_text()


def test_every_key_is_described() -> None:
    schema = job_schema()
    for name, table in tables_of(schema):
        for key, entry in table.get("properties", {}).items():
            own = schema["$defs"].get(entry.get("$ref", "").rpartition("/")[2], {})
            says = entry.get("description") or own.get("description", "")
            assert says.endswith("."), f"{name}.{key}"


def test_unknown_keys_are_refused_everywhere_but_where_functions_are_keys() -> None:
    open_tables = {
        name
        for name, table in tables_of(job_schema())
        if table.get("additionalProperties") is not False
    }

    assert open_tables == {"JobLead", "JobRun"}


def test_quantities_and_colours_are_text_with_examples() -> None:
    wire = job_schema()["$defs"]["JobWire"]["properties"]

    assert {key: wire[key]["type"] for key in ("size", "length", "colour")} == {
        "size": "string",
        "length": "string",
        "colour": "string",
    }
    assert all(wire[key]["examples"] for key in ("size", "length", "colour"))


def test_keys_of_tables_are_listed_for_the_editor() -> None:
    socket = job_schema()["$defs"]["JobSocket"]["properties"]

    assert socket["connector"]["enum"] == list(known.connectors())
    assert socket["joint"]["enum"] == list(known.joints())


def test_nothing_asks_for_null_which_toml_cannot_say() -> None:
    assert "null" not in job_schema_text()


@pytest.mark.parametrize("text", [*map(examples.text, examples.names())])
def test_examples_name_the_schema_and_keep_to_it(text: str) -> None:
    """Checked by a small walk of the schema: keys known, kinds right, words from the lists."""
    schema = job_schema()

    assert text.startswith(FIRST_LINE + "\n")
    assert list(complaints(schema, schema, tomllib.loads(text), "")) == []


def complaints(
    root: dict[str, Any], schema: dict[str, Any], value: object, path: str
) -> Iterator[str]:
    """Yield what in a value does not keep to the schema."""
    while "$ref" in schema:
        schema = root["$defs"][schema["$ref"].rpartition("/")[2]]
    kinds = {"object": dict, "array": list, "string": str, "boolean": bool, "integer": int}
    if not isinstance(value, kinds[schema["type"]]):
        yield f"{path} is no {schema['type']}"
    if "enum" in schema and value not in schema["enum"]:
        yield f"{path} is {value}"
    if isinstance(value, list):
        for number, each in enumerate(value):
            yield from complaints(root, schema["items"], each, f"{path}[{number + 1}]")
    if isinstance(value, dict):
        for key in {*schema.get("required", ())} - {*value}:
            yield f"{path}.{key} is missing"
        for key, each in value.items():
            inner = schema.get("properties", {}).get(key) or schema.get("additionalProperties")
            if not inner:
                yield f"{path}.{key} is unknown"
            else:
                yield from complaints(root, inner, each, f"{path}.{key}")
