"""The JSON Schema of the job file, for editors, made from the models that read it."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from loomwright.rig.job import Job

TITLE = "Loomwright job file"
Schema = dict[str, Any]


@cache
def _schema_text() -> str:
    schema = Job.model_json_schema(by_alias=True)
    plain = _without_null(schema)
    plain["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    plain["title"] = TITLE
    return json.dumps(plain, indent=2, ensure_ascii=False) + "\n"


def job_schema() -> Schema:
    """Return the JSON Schema of a job file; quantities and colours are text."""
    schema: Schema = json.loads(_schema_text())
    return schema


def job_schema_text() -> str:
    """Return the text of ``job.schema.json``."""
    return _schema_text()


def _without_null(node: Any) -> Any:
    """Return the schema without null, which a TOML file cannot say, and without made-up titles."""
    if isinstance(node, list):
        return [_without_null(each) for each in node]
    if not isinstance(node, dict):
        return node
    found = {
        key: {name: _without_null(value) for name, value in child.items()}
        if key in ("properties", "$defs")
        else _without_null(child)
        for key, child in node.items()
        if not (key == "title" and isinstance(child, str)) and key != "default"
    }
    choices = [each for each in found.get("anyOf", ()) if each != {"type": "null"}]
    if len(choices) == 1:
        del found["anyOf"]
        return choices[0] | found
    return found
