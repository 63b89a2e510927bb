"""The job file of a rig known by a few answers; what nobody said is left out of it.

What the text leaves out is taken from the stated defaults by the reader of job files, and stands
in the rig's assumptions with its source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from loomwright.reference.connectors import Connector, connector
from loomwright.rig.write import value_text as quoted

SIDES = ("left", "right")
LENGTHS_FT = {"short": 14, "medium": 22, "long": 32}
LED_A = {"tail": 0.05, "signal": 0.3, "stop": 0.3, "marker": 0.05, "reverse": 0.35, "fog": 0.25}
"""Typical currents of LED lamps, from the table of LED currents. [A]"""

NO_FEED = (
    "ground",
    "spare",
    "coding",
    "can",
    "abs",
    "brake_wear",
    "spring",
    "lift",
    "trailer_brake",
)


def job_text(answers: Mapping[str, str]) -> str:
    """Return the text of a job file for a rig with every answer given.

    Parameters
    ----------
    answers : mapping of str to str
        A value for each question of `QUESTIONS`.
    """
    plug = connector(answers["connector"])
    return "\n".join((*_head(answers), *_vehicle(answers, plug), *_trailer(answers, plug), ""))


def _head(answers: Mapping[str, str]) -> Iterator[str]:
    said = ", ".join(f"{key} {value}" for key, value in answers.items())
    yield "[rig]"
    yield f"name = {quoted('typical rig')}"
    yield f"notes = {quoted(said)}"


def _vehicle(answers: Mapping[str, str], plug: Connector) -> Iterator[str]:
    with_box = answers["converter"] == "yes" and plug.system == "combined"
    yield "[vehicle]"
    yield f'voltage = "{answers["volts"]} V"'
    yield f'signals = "{"separate" if with_box or plug.system == "separate" else "combined"}"'
    yield f'socket_feed = "{answers["feed"]}"'
    if answers["brakes"] in ("electric", "electric-over-hydraulic"):
        yield "[vehicle.brake_controller]"
    functions = [pin.function for pin in plug.pins if pin.function]
    for function in _fed(functions, answers, with_box=with_box):
        yield "[[vehicle.feed]]"
        yield f'function = "{function}"'
        if function == "battery":
            yield 'live = "engine"'
    if with_box:
        yield "[converter]"
        yield 'kind = "combine"'
        yield "powered = true"
        yield 'feed = { size = "14 AWG", length = "20 ft", fuse = "15 A" }'
        yield 'channels = { left_stop_turn = "5 A", right_stop_turn = "5 A", tail = "6 A" }'
    yield "[[socket]]"
    yield f'name = "rear {plug.key}"'
    yield f'connector = "{plug.key}"'
    yield f'join = "{"scratch" if with_box else "factory"}"'
    if with_box:
        yield 'joins = "converter"'


def _fed(functions: Iterable[str], answers: Mapping[str, str], *, with_box: bool) -> Iterator[str]:
    """Feeds of the vehicle: those the socket has a pin for, and that this rig has."""
    if with_box:
        yield from ("left_turn", "right_turn", "stop")
    electric = answers["brakes"] in ("electric", "electric-over-hydraulic")
    for function in functions:
        unwanted = (
            function.startswith(NO_FEED)
            or (function == "brake" and not electric)
            or (function in ("battery", "ignition") and answers["charge"] == "no")
            or (with_box and function in ("left_stop_turn", "right_stop_turn"))
        )
        if not unwanted and function not in ("aux", "aux2", "clearance"):
            yield function


def _trailer(answers: Mapping[str, str], plug: Connector) -> Iterator[str]:
    length_ft = LENGTHS_FT[answers["length"]]
    have = {pin.function for pin in plug.pins}
    electric = answers["brakes"] in ("electric", "electric-over-hydraulic") and "brake" in have
    yield "[trailer]"
    yield f'length = "{length_ft} ft"'
    yield f'brakes = "{answers["brakes"] if electric or answers["brakes"] == "surge" else "none"}"'
    yield f'returns = "{answers["returns"]}"'
    yield 'condition = "aged"'
    for side in SIDES:
        yield from _rear_lamp(side, answers, have, length_ft)
    yield from _lamp(
        "plate", "left", length_ft - 3, _light("tail", side="left", have=have, answers=answers)
    )
    for name, back in (("front marker", 2), ("rear marker", length_ft - 3)):
        for side in SIDES:
            lights = _light("tail", side=side, have=have, answers=answers, small=True)
            yield from _lamp(f"{side} {name}", side, back, lights)
    if electric:
        for axle in range(int(answers["magnets"]) // 2):
            yield "[[trailer.brake]]"
            yield f"axle = {axle + 1}"
            yield f'back = "{length_ft // 2 + 3 * axle} ft"'
    if answers["charge"] == "yes" and "battery" in have:
        yield "[trailer.battery]"
        yield 'back = "3 ft"'


def _rear_lamp(
    side: str, answers: Mapping[str, str], have: set[str], length_ft: int
) -> Iterator[str]:
    lights: dict[str, str] = _light("tail", side=side, have=have, answers=answers)
    lights |= _light("signal", side=side, have=have, answers=answers)
    if "stop" in have:
        lights |= {"stop": _source("stop", answers)}
    yield from _lamp(f"{side} rear", side, length_ft - 3, lights)


def _light(
    kind: str, *, side: str, have: set[str], answers: Mapping[str, str], small: bool = False
) -> dict[str, str]:
    names = (f"{side}_stop_turn", f"{side}_turn") if kind == "signal" else ("tail", f"tail_{side}")
    function = next((name for name in names if name in have), None)
    if function is None:
        return {}
    return {function: _source("marker" if small else kind, answers)}


def _source(kind: str, answers: Mapping[str, str]) -> str:
    """Light source by the kind of lamp: of mixed trailers the small lamps are LED."""
    led = answers["lamps"] == "led" or (answers["lamps"] == "mixed" and kind == "marker")
    if led:
        return f"LED {LED_A[kind]:g} A"
    if answers["volts"] == "24" or connector(answers["connector"]).system == "separate":
        bulbs = {"tail": "R5W", "signal": "PY21W", "stop": "P21W", "marker": "W5W"}
    else:
        bulbs = {"tail": "1157 minor", "signal": "1157 major", "stop": "1156", "marker": "194"}
    return bulbs[kind]


def _lamp(name: str, side: str, back_ft: int, lights: Mapping[str, str]) -> Iterator[str]:
    if not lights:
        return
    yield "[[trailer.lamp]]"
    yield f'name = "{name}"'
    yield f'side = "{side}"'
    yield f'back = "{max(back_ft, 1)} ft"'
    said = ", ".join(f"{function} = {quoted(source)}" for function, source in lights.items())
    yield f"lights = {{ {said} }}"
