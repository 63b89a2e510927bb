"""Writing a whole job file anew."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import tomlkit
from tomlkit.items import SingleKey

from loomwright.rig.job import Job
from loomwright.rig.places import Place, path_text

FIRST_LINE = "#:schema ./job.schema.json"
SECTIONS = frozenset(
    {
        *("rig", "vehicle", "vehicle.supply", "vehicle.brake_controller", "converter", "adapter"),
        *("socket.lead", "trailer", "trailer.cord", "trailer.run", "trailer.battery"),
        "trailer.breakaway",
    }
)
"""Tables that get a header of their own; all others stand on one line."""

TABLE_LISTS = frozenset(
    {
        *("vehicle.feed", "socket", "socket.leg"),
        *("trailer.lamp", "trailer.brake", "trailer.appliance"),
    }
)
"""Lists whose entries get a header each."""


FIRST_KEYS = (
    *("name", "function", "kind", "connector", "axle", "side", "sides", "plug"),
    *("colours", "size", "length", "back", "height", "lights"),
)
"""Keys people look for first in a table."""


def section_of(place: Place) -> str:
    """Return a place without the numbers of its list entries."""
    return path_text([step for step in place if isinstance(step, str)])


def job_values(job: Job) -> dict[str, Any]:
    """Return a job as the tables of its file, with what was written and no more."""
    return job.model_dump(mode="json", by_alias=True, exclude_unset=True)


def write_job(job: Job) -> str:
    """Return the text of a job file; reading it gives the same job."""
    blocks = [FIRST_LINE, *_blocks("", job_values(job))]
    return "\n".join(blocks).rstrip("\n") + "\n"


def value_text(value: Any) -> str:
    """Return a value as it stands behind its equals sign, on one line."""
    if isinstance(value, dict):
        inside = ", ".join(f"{key_text(key)} = {value_text(each)}" for key, each in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list):
        return f"[{', '.join(map(value_text, value))}]"
    return str(tomlkit.item(value).as_string())


def key_text(key: str) -> str:
    """Return a key as it stands in a file: in quotes if it has more than letters and digits."""
    return SingleKey(key).as_string()


def _blocks(path: str, table: Mapping[str, Any]) -> Iterator[str]:
    """Yield the lines of a table, then those of the tables inside it."""
    inner: list[tuple[str, str, Mapping[str, Any]]] = []
    for key, value in sorted(table.items(), key=_rank):
        place = f"{path}.{key}" if path else key
        if isinstance(value, dict) and place in SECTIONS:
            inner.append((place, f"[{place}]", value))
        elif value and place in TABLE_LISTS:
            inner += [(place, f"[[{place}]]", entry) for entry in value]
        else:
            yield f"{key_text(key)} = {value_text(value)}"
    for place, header, content in inner:
        yield f"\n{header}"
        yield from _blocks(place, content)


def _rank(entry: tuple[str, Any]) -> int:
    return FIRST_KEYS.index(entry[0]) if entry[0] in FIRST_KEYS else len(FIRST_KEYS)
