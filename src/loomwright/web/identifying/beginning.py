"""The form that begins a bundle: mostly taps, read into a bundle or into what to mend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.identify.behaviour import Feeding, Signalling, function_rows
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.from_rig import USUAL
from loomwright.identify.seen import Tester
from loomwright.identify.titles import title
from loomwright.invalid import InvalidInput

COUNTS = tuple(range(1, 15))
TESTERS = {
    "meter+lamp": ("Meter and test lamp", "finds and proves a ground", "meter,lamp"),
    "meter+led+lamp": ("Those and an LED tester", "", "meter,led,lamp"),
    "meter": ("Meter alone", "a ground is found, not proved under load", "meter"),
    "led": ("LED tester alone", "no ground is found", "led"),
}
SIGNALLINGS = {
    "": ("Not known", ""),
    "combined": ("Stop and turn on one wire", "combined"),
    "separate": ("A wire for stop, one for each turn", "separate"),
}
FEEDINGS = {
    "": ("Not known", ""),
    "shared": ("On the wires of its own lamps", ""),
    "module": ("From a module or relay", ""),
    "sleeping": ("From a module that wakes with a load", ""),
}
Fields = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Begun:
    """A bundle that a form describes, or what to mend in the form, by field."""

    bundle: Bundle | None
    problems: Mapping[str, InvalidInput]


def begin(fields: Fields, functions: tuple[str, ...]) -> Begun:
    """Return the bundle that a form describes.

    Parameters
    ----------
    fields : mapping
        What was sent.
    functions : tuple of str
        Functions marked as possible.
    """
    problems: dict[str, InvalidInput] = {}
    wires = _wires(fields, problems)
    if not functions:
        problems["functions"] = InvalidInput("functions", "none", "mark what may be there")
    found: list[Bundle] = []
    if not problems:
        try:
            found.append(_bundle(fields, wires, functions))
        except* InvalidInput as refused:
            problems.update(_by_field(refused))
    return Begun(found[0] if found else None, problems)


def _bundle(fields: Fields, wires: tuple[Wire, ...], functions: tuple[str, ...]) -> Bundle:
    testers = TESTERS.get(fields.get("testers", ""), TESTERS["meter+lamp"])[2]
    signalling, feeding = fields.get("signalling", ""), fields.get("feeding", "")
    return Bundle(
        wires=wires,
        functions=functions,
        signalling=Signalling(signalling) if signalling in set(Signalling) else None,
        feeding=Feeding(feeding) if feeding in set(Feeding) else None,
        nominal_v=24.0 if fields.get("volts") == "24" else 12.0,
        at_socket=fields.get("place") == "socket",
        testers=tuple(Tester(each) for each in testers.split(",")),
        helper=fields.get("people") != "1",
        colour_weight=0.0 if fields.get("colours_count") == "no" else 1.0,
    )


def choices(functions: tuple[str, ...]) -> list[tuple[str, str, bool]]:
    """Return every function that can be identified, its name, and whether it is expected."""
    expected = functions or USUAL
    return [
        (key, title(key), key in expected)
        for key in function_rows()
        if key not in ("spare", "leave_alone")
    ]


def _wires(fields: Fields, problems: dict[str, InvalidInput]) -> tuple[Wire, ...]:
    said = fields.get("count", "")
    count = int(said) if said.isdecimal() else 0
    if not 1 <= count <= COUNTS[-1]:
        problems["count"] = InvalidInput("count", said, "say how many wires there are")
        return ()
    return tuple(Wire(str(number)) for number in range(1, count + 1))


def _by_field(group: ExceptionGroup[InvalidInput]) -> dict[str, InvalidInput]:
    found: dict[str, InvalidInput] = {}
    for each in group.exceptions:
        if isinstance(each, InvalidInput):
            found[each.field.partition("[")[0]] = each
    return found
