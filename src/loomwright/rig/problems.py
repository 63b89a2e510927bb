"""From what the models refuse to what a person can mend: path, value, advice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from loomwright.invalid import InvalidInput
from loomwright.rig.known import functions
from loomwright.rig.places import Place, path_text
from loomwright.rig.schema import Schema, job_schema
from loomwright.rig.write import SECTIONS, TABLE_LISTS, section_of, value_text

MOST_LISTED = 24
KEY_MARK = "[key]"
KINDS = {
    "string": "text in quotes",
    "boolean": "true or false, without quotes",
    "integer": "a whole number, without quotes",
    "array": "a list in [ ]",
    "object": "a table",
}


def problems_of(refused: ValidationError) -> list[tuple[Place, InvalidInput]]:
    """Return every refused entry with its place: one problem each, the first found."""
    found: dict[Place, InvalidInput] = {}
    for details in refused.errors(include_url=False):
        if details["type"] == "too_short" and details["input"]:
            continue  # it has entries, each refused for its own reason
        place, problem = _problem(details)
        found.setdefault(place, problem)
    return list(found.items())


def _problem(details: ErrorDetails) -> tuple[Place, InvalidInput]:
    place: Place = details["loc"]
    if place and place[-1] == KEY_MARK:
        place = place[:-1]
    path = path_text(place)
    kind = details["type"]
    error = details.get("ctx", {}).get("error")
    if isinstance(error, InvalidInput):
        if _is_unknown_key(place, error):
            return place, InvalidInput(path, place[-1], _known_key(place))
        return place, error.at(path)
    if kind == "missing":
        return place, InvalidInput(path, None, f"is missing; {_asked(place)}")
    if kind == "extra_forbidden":
        return place, InvalidInput(path, _shown(details["input"]), _known_key(place))
    return place, InvalidInput(path, _shown(details["input"]), _wanted(place, details))


def _is_unknown_key(place: Place, error: InvalidInput) -> bool:
    """Whether the key itself was refused, in a table that has keys besides functions."""
    is_key = error.field == "function" and error.value == place[-1]
    return is_key and "properties" in _schema_at(place[:-1])


def _shown(value: object) -> object:
    """Return a value short enough to show."""
    return value if len(repr(value)) <= 80 else f"{repr(value)[:77]}..."


def _wanted(place: Place, details: ErrorDetails) -> str:
    schema = _schema_at(place)
    kind = KINDS.get(str(schema.get("type")), "")
    if details["type"] in ("too_short", "too_long"):
        return "give at least one entry"
    if details["type"] in ("greater_than_equal", "less_than_equal"):
        return f"give a number from {schema.get('minimum')} to {schema.get('maximum')}"
    return f"write it as {kind}{_example(place)}" if kind else f"mend it: {details['msg']}"


def _asked(place: Place) -> str:
    """Return how to write down what is missing."""
    path = section_of(place)
    if path in TABLE_LISTS:
        return f"write at least one table [[{path}]]"
    return f"write the table [{path}]" if path in SECTIONS else f"write it down{_example(place)}"


def _example(place: Place) -> str:
    schema = _schema_at(place)
    words = schema.get("enum") or schema.get("examples") or ()
    said = [value_text(word) for word in words[:3]]
    return f", such as {' or '.join(said)}" if said else ""


def _known_key(place: Place) -> str:
    """Return the advice for a key that its table does not have."""
    table, key = place[:-1], str(place[-1])
    schema = _schema_at(table)
    known = list(schema.get("properties", ()))
    if schema.get("additionalProperties"):
        known += functions()
    near = get_close_matches(key.casefold(), known, n=2, cutoff=0.6)
    if near:
        return f"is no known key; did you mean {' or '.join(near)}?"
    here = f"[{path_text(table)}]" if table else "the file"
    shown = ", ".join(known[:MOST_LISTED]) + (" ..." if len(known) > MOST_LISTED else "")
    return f"is no known key; {here} takes {shown}"


def _schema_at(place: Sequence[str | int]) -> Schema:
    """Return the schema of a place, empty where there is none."""
    root = job_schema()
    node = root
    for step in place:
        node = _inner(_resolved(root, node), step)
    return _resolved(root, node)


def _inner(node: Schema, step: str | int) -> Schema:
    if isinstance(step, int):
        found = node.get("items", {})
    else:
        found = node.get("properties", {}).get(step, node.get("additionalProperties", {}))
    return found if isinstance(found, dict) else {}


def _resolved(root: Mapping[str, Any], node: Schema) -> Schema:
    while "$ref" in node:
        name = node["$ref"].removeprefix("#/$defs/")
        node = root["$defs"][name] | {key: node[key] for key in node if key != "$ref"}
    return node
