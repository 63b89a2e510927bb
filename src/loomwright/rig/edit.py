"""Changing one value of a job file, with every comment and the order kept."""

from __future__ import annotations

import copy
from typing import Any

import tomlkit
from tomlkit.items import AoT

from loomwright.invalid import InvalidInput
from loomwright.rig.lines import standing
from loomwright.rig.places import Place, read_path
from loomwright.rig.toml_text import toml_values, without_mark
from loomwright.rig.write import SECTIONS, TABLE_LISTS, key_text, section_of, value_text

HEADED = SECTIONS | TABLE_LISTS

Value = str | int | bool | list[Any] | dict[str, Any]


def write_value(text: str, path: str, value: Value | None) -> str:
    """Return a job file with one value changed, comments and order kept.

    Parameters
    ----------
    text : str
        What stands in the file.
    path : str
        Where, such as ``trailer.lamp[2].lights.tail``: entries are counted from 1. An entry one
        past the last is added, and tables that are missing on the way are made.
    value : str, int, bool, list, dict or None
        What to write; None takes the entry out.

    Raises
    ------
    InvalidInput
        If the path leads nowhere, or the change cannot be made without rewriting the file.
    ExceptionGroup
        Of `InvalidInput`, if the text is no TOML.

    Notes
    -----
    The new value is not judged: read the text to learn whether it can be used.
    """
    plain = without_mark(text)
    place = read_path(path)
    wanted = _opened(toml_values(plain), place)
    _change(wanted, place, copy.deepcopy(value), path)
    if isinstance(value, str | int):
        changed = _with_value(plain, place, value) or _with_entry(plain, place, value)
        if changed and toml_values(changed) == wanted:
            return changed
    document = tomlkit.parse(plain)
    _change(document, place, None if value is None else _item(value, place), path)
    changed = tomlkit.dumps(document)
    if toml_values(changed) != wanted:
        fix = "change this one in the file by hand: it stands where no line can be put safely"
        raise InvalidInput("path", path, fix)
    return changed


def _with_value(toml: str, place: Place, value: str | int) -> str:
    """Return a text with another value behind a key that has one already, "" if it has not.

    Many times quicker than to take the whole text apart and put it together again.
    """
    found = standing(toml).spans.get(place) if isinstance(place[-1], str) else None
    if found is None:
        return ""
    start, end = found
    return f"{toml[:start]}{value_text(value)}{toml[end:]}"


def _with_entry(toml: str, place: Place, value: str | int) -> str:
    """Return a text with an entry more in a table that it has, "" if that takes another header."""
    stands = standing(toml)
    depth = next((n for n in range(len(place) - 1, 0, -1) if place[:n] in stands.lines), 0)
    table, steps = place[:depth], [step for step in place[depth:] if isinstance(step, str)]
    more_headers = [
        place[:n] for n in range(depth + 1, len(place)) if section_of(place[:n]) in HEADED
    ]
    if place in stands.lines or more_headers or len(steps) < len(place) - depth:
        return ""
    inside: Value = value
    for step in reversed(steps[1:]):
        inside = {step: inside}
    entry = f"{key_text(steps[0])} = {value_text(inside)}"
    if table in stands.inline:
        end = stands.inline[table]
        return f"{toml[:end]}, {entry}{toml[end:]}"
    if table in stands.under_header:
        end = toml.find("\n", stands.under_header[table])
        before, after = (toml[:end], toml[end:]) if end >= 0 else (toml, "\n")
        return f"{before}\n{entry}{after}"
    return ""


def _opened(node: Any, place: Place) -> Any:
    """Return what a file says with all on the way to a place copied, so that it can be changed."""
    if isinstance(node, dict | list):
        node = copy.copy(node)
        if place and _has(node, place[0]):
            node[place[0]] = _opened(node[place[0]], place[1:])
    return node


def _change(top: Any, place: Place, value: Any, path: str) -> None:
    """Put a value at a place, or take out what is there if it is None."""
    node = top
    for depth, step in enumerate(place[:-1], start=1):
        if isinstance(node, dict) and isinstance(step, str) and step not in node:
            if value is None:
                return
            node[step] = _missing(top, place[:depth], place[depth])
        node = _inside(node, step, path)
    last = place[-1]
    if value is None:
        if not isinstance(node, dict) or last in node:
            _inside(node, last, path)
            del node[last]
    elif isinstance(node, list) and last == len(node):
        _append(node, value)
    else:
        if isinstance(last, int) or not isinstance(node, dict):
            _inside(node, last, path)
        if section_of(place) in TABLE_LISTS and isinstance(value, dict) != isinstance(last, int):
            raise InvalidInput("path", path, "give a table for each entry of this list")
        node[last] = value


def _inside(node: Any, step: str | int, path: str) -> Any:
    """Return what a table or list holds at a step."""
    if _has(node, step):
        return node[step]
    fix = "name an entry that the file has, or one past the last of a list"
    raise InvalidInput("path", path, fix)


def _has(node: Any, step: str | int) -> bool:
    in_list = isinstance(node, list) and isinstance(step, int) and step < len(node)
    return in_list or (isinstance(node, dict) and step in node)


def _append(node: Any, value: Any) -> None:
    """Add an entry to a list, with one empty line before its header, and after if there was."""
    if isinstance(node, AoT) and len(node):
        ends_apart = node[-1].as_string().endswith("\n\n")
        (value if ends_apart else node[-1]).add(tomlkit.nl())
    node.append(value)


def _missing(top: Any, place: Place, following: str | int) -> Any:
    """Return an empty table or list of the kind that belongs at a place."""
    is_plain = not isinstance(top, tomlkit.TOMLDocument)
    if isinstance(following, int):
        return (
            []
            if is_plain
            else (tomlkit.aot() if section_of(place) in TABLE_LISTS else tomlkit.array())
        )
    if is_plain:
        return {}
    return tomlkit.table() if section_of(place) in SECTIONS else tomlkit.inline_table()


def _item(value: Value, place: Place) -> Any:
    """Return a value as it is laid out in a file."""
    if isinstance(value, dict):
        is_entry = isinstance(place[-1], int) and section_of(place) in TABLE_LISTS
        if not is_entry and section_of(place) not in SECTIONS:
            return tomlkit.value(value_text(value))
        table = tomlkit.table()
        for key, each in value.items():
            table.add(key, _item(each, (*place, key)))
        return table
    if isinstance(value, list) and value and section_of(place) in TABLE_LISTS:
        entries = tomlkit.aot()
        for number, each in enumerate(value):
            entries.append(_item(each, (*place, number)))
        return entries
    return tomlkit.value(value_text(value))
