"""The report of a light check: what the page about it says is what it holds, and no more."""

import json
import re
from pathlib import Path

from tests.rigs import brake_rig

from loomwright.lightcheck.judging import judge_all, observe
from loomwright.lightcheck.plan import plan_for
from loomwright.lightcheck.solo import Alone
from loomwright.observations.word import Word
from loomwright.reports import VERSION, lightcheck_report
from loomwright.reports.plain import Plain

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "json.md"
EXPECTATION = "steps[].expectations[]"


def leaves(value: Plain, path: str = "") -> set[str]:
    if isinstance(value, dict):
        return {each for k, v in value.items() for each in leaves(v, f"{path}.{k}".lstrip("."))}
    if isinstance(value, list):
        return {each for item in value for each in leaves(item, f"{path}[]")}
    return {path}


def documented() -> set[str]:
    text = PAGE.read_text("utf-8")
    part = text.partition("## `loomwright/lightcheck`")[2].partition("\n## ")[0]
    cells = re.findall(r"^\| (`.*?) \|", part, re.M)
    return {
        path.replace("…", EXPECTATION) for cell in cells for path in re.findall(r"`(.*?)`", cell)
    }


def report() -> dict[str, Plain]:
    """A rig with brakes, seen and read by one who has no prop; one answer has a note."""
    one = Alone(prop=False, timed_s={"brake_lever": 600})
    testers = "trailer+meter+led-tester+clamp"
    plan = plan_for(brake_rig(), testers, 1, alone=one, samples=100)
    asked = [each for step in plan.steps for each in step.expectations]
    seen = [observe(e, e.words[0] if e.words else e.nominal or 0.0) for e in asked]
    lit = next(each for each in asked if not each.is_dark and each.words)
    return lightcheck_report(plan, judge_all(plan, [*seen, observe(lit, Word.OFF, "rain")]), "x")


def test_every_key_is_documented_and_every_documented_key_is_there() -> None:
    found = report()
    held = leaves(json.loads(json.dumps(found, allow_nan=False)))

    assert held - documented() == set()
    assert documented() - held == set()
    assert found["version"] == VERSION
    assert isinstance(found["counts"], dict)
    assert found["counts"]["wrong"] == 1
