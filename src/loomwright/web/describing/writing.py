"""From the text of an answer to the values of a job file, and back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from loomwright.rig.edit import Value, write_value
from loomwright.rig.places import read_path
from loomwright.web.describing.questions import Question

PAIR = "pair"
WRITTEN_MM2, READ_MM2 = "mm2", "mm²"
"""Square millimetres in the job file, and as they are read."""
Edit = tuple[str, Value | None]
"""A path, and what to write there; None takes out what is there."""


def value_at(data: Mapping[str, Any], path: str) -> Any:
    """Return what a job file says at a path; None if it says nothing there."""
    node: Any = data
    for step in read_path(path):
        if isinstance(step, int):
            node = node[step] if isinstance(node, list) and step < len(node) else None
        else:
            node = node.get(step) if isinstance(node, dict) else None
    return node


def entries_at(data: Mapping[str, Any], path: str) -> tuple[dict[str, Any], ...]:
    """Return the entries of a list of tables, whatever else may stand there left out."""
    found = value_at(data, path)
    listed = found if isinstance(found, list) else []
    return tuple(each if isinstance(each, dict) else {} for each in listed)


def shown(question: Question, data: Mapping[str, Any]) -> str:
    """Return an answer as it stands in its field; "" if there is none."""
    value = value_at(data, question.path)
    if question.kind == "table":
        return "yes" if value is not None else "no"
    if question.kind == "placing":
        return _placing(value if isinstance(value, dict) else {})
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if question.kind == "joined":
        value = value[0] if isinstance(value, list) and value else []
    if isinstance(value, list):
        return ("\n" if question.kind == "lines" else ", ").join(map(str, value))
    return str(value).replace(WRITTEN_MM2, READ_MM2) if question.kind == "size" else str(value)


def is_same(question: Question, said: str, before: str) -> bool:
    """Return whether two answers mean the same: what is ticked has no order."""
    one, other = (text.replace("\r\n", "\n").strip() for text in (said, before))
    if question.is_ticked:
        return sorted(one.split(", ")) == sorted(other.split(", "))
    return one == other


def edits(question: Question, text: str, data: Mapping[str, Any]) -> Iterator[Edit]:
    """Yield what to write into a job file for an answer."""
    text = text.replace("\r\n", "\n").strip()
    text = text.replace(READ_MM2, WRITTEN_MM2) if question.kind == "size" else text
    if question.kind == "placing":
        yield from _placed(question.path, text, value_at(data, question.path) or {})
    elif question.kind == "table":
        is_there = value_at(data, question.path) is not None
        if is_there != (text == "yes"):
            yield from _unjoined(question.path, data) if is_there else ()
            yield question.path, None if is_there else {}
    elif not text and question.whole:
        if value_at(data, question.whole) is not None:
            yield question.whole, None
    else:
        yield question.path, _value(question, text)


def write_all(text: str, changes: Iterator[Edit]) -> str:
    """Return a job file with changes written into it, comments kept.

    Raises
    ------
    InvalidInput
        If one cannot be written without rewriting the file.
    """
    for path, value in changes:
        text = write_value(text, path, value)
    return text


def _unjoined(path: str, data: Mapping[str, Any]) -> Iterator[Edit]:
    """Yield what lets go of a converter that is taken out: the sockets that join it."""
    for number, socket in enumerate(entries_at(data, "socket"), start=1):
        if socket.get("joins") == path:
            yield f"socket[{number}].joins", None


def _value(question: Question, text: str) -> Value | None:
    """Return an answer as it is written; what cannot be used stays the text it is."""
    if not text:
        return None
    if question.kind == "flag":
        return {"yes": True, "no": False}.get(text, text)
    if question.kind == "number":
        return int(text) if text.isascii() and text.isdigit() else text
    if question.kind in ("list", "lamps", "several", "joined"):
        listed = [part.strip() for part in text.split(",") if part.strip()]
        return [listed] if question.kind == "joined" else listed
    if question.kind == "lines":
        return [line.strip() for line in text.split("\n") if line.strip()]
    return text if question.kind == "notes" else " ".join(text.split())


def _placing(table: Mapping[str, Any]) -> str:
    sides = table.get("sides")
    if isinstance(sides, list) and len(sides) > 1:
        return PAIR
    return str(sides[0]) if isinstance(sides, list) and sides else str(table.get("side", ""))


def _placed(path: str, text: str, table: Mapping[str, Any]) -> Iterator[Edit]:
    if "side" in table:
        yield f"{path}.side", None
    if "sides" in table and text != PAIR:
        yield f"{path}.sides", None
    if text == PAIR:
        yield f"{path}.sides", ["left", "right"]
    elif text:
        yield f"{path}.side", text
