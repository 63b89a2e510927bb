"""The JSON of a trace: what the page about it says is what it holds."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

from tests.rigs import small_rig
from tests.trace.small import SHARED, seen, small_trace

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.report import trace_report

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "json.md"
OBJECTS = ("unread[]", "faults[].reasons[].observation", "next[].outcomes[].observations[]")
KEYED = {"faults[].flow.currents_a": "{element}", "by_side": "{side}", "by_place": "{place}"}


def leaves(value: object, path: str = "") -> Iterator[str]:
    """Paths of everything that is neither an object nor a list, and of observations."""
    if path in OBJECTS:
        yield path
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from leaves(item, f"{path}.{KEYED.get(path, key)}".lstrip("."))
    elif isinstance(value, list):
        for item in value:
            yield from leaves(item, f"{path}[]")
    else:
        yield path


def test_every_key_is_documented_and_every_documented_key_is_there() -> None:
    trace = small_trace(SHARED)
    pin = Place(PlaceKind.PIN, small_rig(SHARED).towing, "2")
    told = [
        seen("left", "left rear stop", Word.OFF),
        seen("left", "left rear tail", Word.FLASHING),
        Observation("park", pin, Quantity.VOLTS, value=12.2, tester="meter"),
        seen("brake_lever", "brakes", Word.WEAK),
    ]
    ranking = trace.rank(told)
    report = trace_report(small_rig(SHARED), ranking, trace.advise(ranking))
    section = PAGE.read_text("utf-8").partition("## `loomwright/trace`")[2].partition("\n## ")[0]
    documented = {
        path
        for row in re.findall(r"^\| (`[^|]*`) \|", section, re.M)
        for path in re.findall(r"`([^`]+)`", row)
    }

    found = set(leaves(json.loads(json.dumps(report))))

    assert found - documented == set()
    assert documented - found <= {
        *("faults[].flow", "faults[].flow.opened[]", "retest[]"),
        *("observations[].place.other", "observations[].note"),
    }
