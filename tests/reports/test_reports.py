"""The JSON reports: what the page about them says is what they hold."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest
from tests.rigs import simple_rig, van_rig

import loomwright
from loomwright import examples
from loomwright.colours import read_colour
from loomwright.hookup import pair
from loomwright.quantities import WireSize
from loomwright.reports import VERSION, check_report, hookup_report
from loomwright.reports.plain import Plain, plain, reading
from loomwright.rig.model import ConverterKind, FuseHolder

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "json.md"
MAPS = {
    "bands": "{load}",
    "commands": "{command}",
    "nodes_v": "{node}",
    "parts": "{element}",
    "readings": "{conditions}",
}
READINGS = "commands.{command}.readings.{conditions}"
REACHED_ELSEWHERE = {"commands.{command}.readings.{conditions}.cycling[]"}
"""No example has a load that cycles."""


@cache
def report(kind: str, name: str) -> dict[str, Plain]:
    rig = loomwright.read_rig(examples.text(name), name)
    work = loomwright.survey(rig)
    if kind == "hookup":
        return hookup_report(rig, work.hookup)
    return check_report(work, loomwright.check(work), name)


def more(kind: str) -> dict[str, Plain]:
    """A report of something no example shows: a converter needed, a fuse that opens."""
    if kind == "hookup":
        rig = replace(van_rig(ConverterKind.COMBINE), converter=None)
        return hookup_report(rig, pair(rig))
    base = simple_rig()
    feeds = tuple(replace(feed, fuse=FuseHolder("medium", 0.5)) for feed in base.vehicle.feeds)
    work = loomwright.survey(replace(base, vehicle=replace(base.vehicle, feeds=feeds)))
    return check_report(work, loomwright.check(work))


def leaves(value: Plain, path: str = "") -> Iterator[str]:
    """Paths of everything that is not an object or a list, and of objects that may be null."""
    if isinstance(value, dict):
        for key, item in value.items():
            step = MAPS.get(path.rpartition(".")[2], key)
            yield from leaves(item, f"{path}.{step}".lstrip("."))
    elif isinstance(value, list):
        for item in value:
            yield from leaves(item, f"{path}[]")
    else:
        yield path


def documented(kind: str) -> set[str]:
    text = PAGE.read_text("utf-8").partition(f"## `loomwright/{kind}`")[2].partition("\n## ")[0]
    cells = re.findall(r"^\| (`.*?) \|", text, re.M)
    return {path.replace("…", READINGS) for cell in cells for path in re.findall(r"`(.*?)`", cell)}


def emitted(kind: str) -> set[str]:
    found = {path for name in examples.names() for path in leaves(report(kind, name))}
    return found | set(leaves(more(kind)))


@pytest.mark.parametrize("kind", ["check", "hookup"])
def test_every_key_is_documented_and_every_documented_key_is_there(kind: str) -> None:
    described, held = documented(kind), emitted(kind)

    assert len(described) > 30
    assert held - described == set()
    objects = {
        path for path in described if any(other.startswith(f"{path}.") for other in described)
    }
    assert described - held - objects - REACHED_ELSEWHERE == set()


@pytest.mark.parametrize("name", examples.names())
def test_a_report_is_strict_json_and_says_what_it_is(name: str) -> None:
    for kind in ("check", "hookup"):
        found = json.loads(json.dumps(report(kind, name), allow_nan=False))

        assert found["format"] == f"loomwright/{kind}"
        assert found["version"] == VERSION == 1


@pytest.mark.parametrize("name", examples.names())
def test_every_element_that_is_named_is_among_the_parts(name: str) -> None:
    found = json.loads(json.dumps(report("check", name)))
    for command in found["commands"].values():
        for answer in command["readings"].values():
            rungs = [rung for load in answer["loads"] for rung in load["ladder"]]
            named = {row["element"] for row in (*rungs, *answer["conductors"], *answer["joints"])}
            assert named <= set(found["parts"])


@pytest.mark.parametrize("name", examples.names())
def test_the_drops_and_the_load_make_up_the_supply(name: str) -> None:
    """Kirchhoff's voltage law, read from the report alone: what is lost and what is left.

    The ladder is told from the battery's EMF, so the drop in the battery is part of it.
    """
    found = json.loads(json.dumps(report("check", name)))
    for command in found["commands"].values():
        for load in command["readings"]["nominal"]["loads"]:
            if load["floating"] or not load["ladder"]:
                continue
            drops = sum(rung["drop_v"] for rung in load["ladder"])
            told = load["supply_drop_v"] + load["return_drop_v"]
            assert drops == pytest.approx(told, abs=1e-4)


def test_a_report_of_a_clean_rig_says_so() -> None:
    work = loomwright.survey(simple_rig())

    assert check_report(work, ())["to_mend"] is False
    assert check_report(work, ())["file"] == ""


def test_values_become_what_json_takes() -> None:
    assert plain(read_colour("GN/VT")) == {"code": "GN/VT", "words": "green with violet stripe"}
    assert plain(WireSize("awg", "14")) == "14 AWG"
    assert plain(ConverterKind.STEP_DOWN) == "step-down"
    assert plain((1, True, None, "text")) == [1, True, None, "text"]


def test_numbers_without_end_become_null_and_long_ones_are_rounded() -> None:
    assert reading(float("inf")) is None
    assert reading(float("nan")) is None
    assert reading(None) is None
    assert reading(12.3456789) == 12.34568


def test_what_no_report_holds_is_refused() -> None:
    @dataclass(frozen=True)
    class Holder:
        value: object

    with pytest.raises(TypeError, match="complex has no place in a report"):
        plain(Holder(1j))
