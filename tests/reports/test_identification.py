"""The JSON of an identification: what the page about it says is what it holds."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

from loomwright.colours import read_colour
from loomwright.identify.behaviour import Feeding, Signalling
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.identification import identify
from loomwright.identify.reading import readings_of
from loomwright.reports.identification import identification_report

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "json.md"


def leaves(value: object, path: str = "") -> Iterator[str]:
    """Paths of everything that is neither an object nor a list."""
    if isinstance(value, dict):
        for key, item in value.items():
            step = "{way}" if path in ("signalling", "feeding") else key
            yield from leaves(item, f"{path}.{step}".lstrip("."))
    elif isinstance(value, list):
        for item in value:
            yield from leaves(item, f"{path}[]")
    else:
        yield path


def test_every_key_is_documented_and_every_documented_key_is_there() -> None:
    known = {"signalling": Signalling.SEPARATE, "feeding": Feeding.SHARED}
    bundle = Bundle(
        (Wire("1", read_colour("white"), "16 AWG"), Wire("2"), Wire("3")),
        ("ground", "tail_left", "tail_right", "stop"),
        **known,  # type: ignore[arg-type]
    )
    said = (
        *(("rest", 0.0), ("ohms", 0.3), ("drop", 0.03), ("park", "steady"), ("park", 0.0)),
        *(("park", 0.0), ("left", 0.0)),
    )
    readings = tuple(
        each for held, shown in said for each in readings_of(bundle, held, "1", "meter", shown)
    )
    report = identification_report(identify(bundle, readings))
    section = PAGE.read_text("utf-8").partition("## `loomwright/identify`")[2].partition("\n## ")[0]
    told = {
        path
        for row in re.findall(r"^\| (`[^|]*`) \|", section, re.M)
        for path in re.findall(r"`([^`]+)`", row)
    }

    found = set(leaves(json.loads(json.dumps(report))))

    assert found - told == set()
    assert told - found <= {"next", "left_open[]"}
