"""What a job file's keys fall back to, learnt by reading jobs that leave everything out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from loomwright import read_rig
from loomwright.reference.defaults import defaults
from loomwright.rig.fill import FROM_FILE
from loomwright.rig.model import Assumption

LIGHT_US, METRIC, HEAVY, FLAT, HIGH_VOLTAGE = "light US", "metric", "heavy", "flat", "24 V"
BY_FUNCTION: Mapping[str, tuple[str, str]] = {
    "vehicle.feed.size": ("feed", "size"),
    "vehicle.feed.fuse": ("feed", "fuse"),
    "vehicle.feed.live": ("feed", "live"),
    "vehicle.feed.lamps": ("bulb", "key"),
    "converter.channels.FUNCTION": ("converter", "channel"),
    "socket.lead.FUNCTION.size": ("lead", "size"),
    "trailer.cord.FUNCTION.size": ("cord", "size"),
    "trailer.run.FUNCTION": ("run", "size"),
    "trailer.lamp.lights.FUNCTION.current": ("led", "current"),
    "trailer.lamp.lights.FUNCTION.form": ("led", "form"),
}
"""Keys whose default hangs on the function, and the part and property of their rows."""


@dataclass(frozen=True, slots=True)
class Family:
    """A family of rigs with defaults of its own, and a job that shows them."""

    name: str
    connector: str
    combined: bool
    voltage: str | None = None

    @property
    def functions(self) -> tuple[str, ...]:
        """Signal functions of its lamps."""
        if self.combined:
            return ("left_stop_turn", "right_stop_turn")
        return ("left_turn", "right_turn", "stop")


FAMILIES = (
    Family(LIGHT_US, "7-blade", combined=True),
    Family(METRIC, "13-pin", combined=False),
    Family(HEAVY, "7-heavy", combined=False),
    Family(FLAT, "4-flat", combined=True),
    Family(HIGH_VOLTAGE, "24n", combined=False, voltage="24 V"),
)

JOB = """\
[vehicle]
{voltage}
supply = {{ managed = {managed} }}
brake_controller = {{}}
{feeds}
[converter]
{converter}

[[socket]]
connector = "{connector}"
lead = {{}}

[[socket]]
name = "second"
connector = "{connector}"
{second}

[trailer]
cord = {{}}
run = {{}}
{lamps}
[[trailer.appliance]]
power = "10 W"
{brakes}
[trailer.battery]
charger = {{ power = "100 W" }}

[trailer.breakaway]
"""
POWERED = 'kind = "isolate"\npowered = true\nfeed = {}'
SHOWN_APART: Mapping[str, tuple[dict[str, str], ...]] = {
    LIGHT_US: (
        {"brakes": "[[trailer.brake]]\n"},
        {"second": 'join = "cut"\njoins = "7-blade"'},
        {"second": 'join = "branched"'},
        {"second": 'join = "tee"'},
        {"converter": 'kind = "combine"'},
        {"converter": 'kind = "split"'},
        {"second": '[[socket.leg]]\nname = "leg"\nlength = "1 m"'},
    ),
    METRIC: ({"second": '[[socket.leg]]\nname = "leg"\nlength = "1 m"'},),
    HIGH_VOLTAGE: ({"converter": 'kind = "step-down"'},),
}
"""What else is left out or said in jobs of a family, to show further defaults."""


@cache
def stated() -> Mapping[str, Mapping[str, tuple[Assumption, ...]]]:
    """Return the assumptions by path of the key, then by family of rigs."""
    found: dict[str, dict[str, tuple[Assumption, ...]]] = {}
    for family in FAMILIES:
        for row in _assumed(family):
            mine = found.setdefault(plain_path(row.field), {})
            if row not in mine.get(family.name, ()):
                mine[family.name] = (*mine.get(family.name, ()), row)
    return found


def plain_path(field: str) -> str:
    """Return where a key stands in any job: no numbers, and FUNCTION for each function.

    ``socket[2].lead.tail.size`` is ``socket.lead.FUNCTION.size``.
    """
    bare = re.sub(r"\[\d+\]", "", field)
    bare = re.sub(
        r"((?:lead|cord|lights|channels)\.)(?!size|length|insulation|colours)\w+",
        r"\1FUNCTION",
        bare,
    )
    return re.sub(r"(run\.)(?!size)\w+", r"\1FUNCTION", bare)


def shown(path: str) -> str:
    """Return the default of a key in words, with its source and standing; empty if it has none."""
    families = {name: _values(rows) for name, rows in stated().get(path, {}).items()}
    if not families:
        return ""
    if path in BY_FUNCTION:
        return f"by function: [{path}](#{anchor(path)})"
    told = dict.fromkeys(families.values())
    said = []
    for values in told:
        names = [name for name, each in families.items() if each == values]
        alone = len(told) == 1 or LIGHT_US in names
        said.append("; ".join(values) if alone else f"{', '.join(names)}: {'; '.join(values)}")
    return ". ".join(said)


def anchor(heading: str) -> str:
    """Return the address of a heading, as the usual readers of Markdown make it."""
    return re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-")


def by_function(path: str) -> Iterator[tuple[str, str, str, str]]:
    """Yield rigs, functions, value and origin for a key whose default hangs on the function."""
    part, what = BY_FUNCTION[path]
    told: dict[tuple[str, str, str], list[str]] = {}
    for row in defaults():
        family, item = _place(row.key, part, what)
        if item:
            origin = f"{row.says} ({row.standing}: {row.source})"
            told.setdefault((family, row.value_text, origin), []).append(item)
    for (family, value, origin), items in told.items():
        yield family, ", ".join(items), value, origin


def _place(key: str, part: str, what: str) -> tuple[str, str]:
    """Return family and function of a row's key; empty where it is another row."""
    words = key.split(".")
    family = words.pop(0) if words[0] in (METRIC, HEAVY, FLAT) else LIGHT_US
    if words[:2] == [part, what] and len(words) == 3:
        return family, words[2]
    if len(words) == 3 and words[0] == part and words[2] == what:
        return family, words[1]
    return family, ""


def _values(rows: tuple[Assumption, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(_value(row) for row in rows))


def _value(row: Assumption) -> str:
    if row.source == FROM_FILE:
        return f"worked out, {_general(row.says).removeprefix('worked out ')}"
    told = _general(row.says)
    if told == "usual colours of the connector":
        return f"{told} ({row.standing})"
    return f"`{row.value}`, {told} ({row.standing}: {row.source})"


def _general(says: str) -> str:
    for family in FAMILIES:
        says = says.replace(f"the {family.connector} connector", "the connector")
    return says.partition(": ")[0] if says.startswith("usual colours") else says


def _assumed(family: Family) -> Iterator[Assumption]:
    for text in _jobs(family):
        yield from read_rig(text, family.name).assumptions


def _jobs(family: Family) -> Iterator[str]:
    named = ("tail", *family.functions)
    base = {
        "voltage": "" if family.voltage is None else f'voltage = "{family.voltage}"',
        "connector": family.connector,
        "feeds": "".join(f'[[vehicle.feed]]\nfunction = "{each}"\n' for each in named),
        "lamps": "".join(f'[[trailer.lamp]]\nlights = {{ {each} = "LED" }}\n' for each in named),
        "brakes": "",
        "managed": "false",
        "converter": POWERED,
        "second": 'join = "scratch"\njoins = "converter"',
    }
    yield JOB.format_map(base)
    yield JOB.format_map(base | {"managed": "true", "converter": 'kind = "isolate"'})
    for change in SHOWN_APART.get(family.name, ()):
        yield JOB.format_map(base | change)
