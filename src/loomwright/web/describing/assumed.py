"""What is taken where a job file says nothing: each default beside the question it answers."""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass
from typing import Any

from loomwright.invalid import InvalidInput
from loomwright.quantities import Units
from loomwright.rig.edit import write_value
from loomwright.rig.model import Assumption
from loomwright.rig.places import read_path
from loomwright.rig.read import read_rig
from loomwright.web.describing.questions import Question
from loomwright.web.describing.understood import understood

NUMBER = re.compile(r"\[\d+\]")
ALONE = ("vehicle.feed", "trailer.lamp", "trailer.brake", "trailer.appliance")
"""Lists whose entries stand by themselves: the rest of the rig is sound without the others."""


@dataclass(frozen=True, slots=True)
class Assumed:
    """A default in the units of the reader, and why it is taken."""

    written: str
    value: str
    says: str
    standing: str


def assumptions_at(text: str, path: str) -> tuple[Assumption, ...]:
    """Return the assumptions of a rig that hold at a path and below.

    Parameters
    ----------
    text : str
        A job file; what cannot be used in it is left out.
    path : str
        Of an entry of a list, such as ``vehicle.feed[3]``: the others are left out, so that what
        is assumed is said of this one alone. Any other path: the rig as it is.
    """
    listed, _, number = path.rpartition("[")
    if listed not in ALONE or not number.endswith("]"):
        return _readable(text)
    try:
        alone = write_value(text, listed, [_entry(text, path)])
    except (InvalidInput, ExceptionGroup):
        return _readable(text)
    found = _readable(alone) or _readable(text)
    return tuple(_moved(one, f"{listed}[1]", path) for one in found)


def assumed(question: Question, found: tuple[Assumption, ...], units: Units) -> Assumed | None:
    """Return what is taken if a question is left open, or None if nothing is."""
    exact = next((one for one in found if one.field == question.path), None)
    plain = NUMBER.sub("", question.path)
    one = exact or next((one for one in found if one.field == plain), None)
    if one is None:
        return None
    titles = {option.value: option.title for option in question.options}
    value = titles.get(one.value) or understood(question.kind, one.value, units) or one.value
    standing = "" if one.standing == "found" else one.standing
    return Assumed(one.value, value, one.says, standing)


def _entry(text: str, path: str) -> dict[str, Any]:
    from loomwright.rig.toml_text import read_toml, without_mark

    node: Any = read_toml(without_mark(text))
    for step in read_path(path):
        node = node[step]
    return copy.deepcopy(dict(node))


def _readable(text: str, tries: int = 2) -> tuple[Assumption, ...]:
    """Return the assumptions of a text, without the entries that keep it from being used."""
    problems: list[InvalidInput] = []
    try:
        return read_rig(text).assumptions
    except* InvalidInput as refused:
        problems = [one for one in refused.exceptions if isinstance(one, InvalidInput)]
    if not tries:
        return ()
    for problem in reversed(problems):
        try:
            text = write_value(text, problem.field, None)
        except (InvalidInput, ExceptionGroup, KeyError):
            return ()
    return _readable(text, tries - 1)


def _moved(one: Assumption, alone: str, path: str) -> Assumption:
    if not one.field.startswith(alone):
        return one
    return Assumption(
        path + one.field.removeprefix(alone), one.value, one.says, one.source, one.standing
    )
