"""The reports of changes hold what the page about them says."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import loomwright
from loomwright import examples
from loomwright.changes.change import Edit
from loomwright.changes.changeable import changeables
from loomwright.changes.mends import mend_for
from loomwright.changes.outcome import findings_moved
from loomwright.changes.what_if import what_would
from loomwright.reports import VERSION, change_report, changeable_report, mends_report
from loomwright.rig.read import read_job

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "json.md"
FINDINGS = {"gone[]", "come[]", "changed[].before", "changed[].after"}
"""Whole findings: described under `loomwright/check`."""


@cache
def reports(name: str) -> dict[str, Any]:
    text = examples.text(name)
    work = loomwright.survey(loomwright.read_rig(text))
    findings = loomwright.check(work)
    job = read_job(text)
    found = [(one, mend_for(one, work, job)) for one in findings]
    edits = next((change.edits for _, change in found if change), (Edit("rig.name", "Another"),))
    result = what_would(work, text, edits)
    moved = findings_moved(
        findings, loomwright.check(loomwright.survey(loomwright.read_rig(result.text)))
    )
    return {
        "mends": mends_report(work.rig, found),
        "changeable": changeable_report(work.rig, changeables(work.rig, job, text)),
        "change": change_report(work.rig, edits, result, moved, "nominal"),
    }


def leaves(value: object, path: str = "") -> Iterator[str]:
    if path in FINDINGS or path.endswith("edits[].value"):
        yield path
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from leaves(item, f"{path}.{key}".lstrip("."))
    elif isinstance(value, list):
        for item in value:
            yield from leaves(item, f"{path}[]")
    else:
        yield path


def documented(kind: str) -> set[str]:
    text = PAGE.read_text("utf-8").partition(f"## `loomwright/{kind}`")[2].partition("\n## ")[0]
    cells = re.findall(r"^\| (`.*?) \|", text, re.M)
    return {path for cell in cells for path in re.findall(r"`(.*?)`", cell)}


@pytest.mark.parametrize("kind", ["mends", "changeable", "change"])
def test_every_key_is_documented_and_every_documented_key_is_there(kind: str) -> None:
    held = {path for name in examples.names() for path in leaves(reports(name)[kind])}

    assert held - documented(kind) == set()
    assert documented(kind) - held <= {"changed[].before", "changed[].after"}


@pytest.mark.parametrize("name", examples.names())
def test_a_report_is_strict_json_and_says_what_it_is(name: str) -> None:
    for kind, report in reports(name).items():
        told = json.loads(json.dumps(report, allow_nan=False))
        assert (told["format"], told["version"]) == (f"loomwright/{kind}", VERSION)
