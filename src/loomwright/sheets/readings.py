"""What a meter should show at each pin of the towing socket, and what brakes and battery draw."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from loomwright.checks.rule import Work
from loomwright.drawing.function_words import function_words
from loomwright.electrics.answers import Answers, Band, LoadAnswer, LoadKind, PinAnswer
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.conditions import conditions_for
from loomwright.quantities import show_current
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import NO_BREAK, capital, command_title, function_title

LIVE_SHARE = 0.25
"""A pin counts as live from this share of the supply's nominal voltage."""

GROUND_SHOWN_ABOVE_V = 0.005
ALL_PINS = ("rest", "charge", "all")
"""Commands under which every live pin and every return has its own row."""

WHEN_MEASURED: dict[LoadKind, tuple[str, ...]] = {
    "brake": ("brake_lever", "brake_pedal"),
    "battery": ("charge",),
    "appliance": ("charge",),
}
"""Loads whose current is measured, and the commands that tell most about them."""

ENGINE_OFF = "engine-off"
MINUS = "−"


def readings(work: Work) -> Content:
    """Return the expected readings of each command, and those of brakes, battery and ground."""
    return {
        "socket": work.rig.towing,
        "conditions": [
            {"title": capital(each.title), "says": capital(each.says)}
            for each in conditions_for(work.rig)
        ],
        "commands": [
            _command(work, command)
            for command in commands_for(work.rig)
            if command.key in work.answers.commands
        ],
        "currents": [*_currents(work)],
    }


def meter_volts(voltage_v: float) -> str:
    """Return a voltage as a hand meter shows it: hundredths below 10 V, tenths above."""
    shown = f"{voltage_v:.2f}" if abs(voltage_v) < 9.995 else f"{voltage_v:.1f}"
    return f"{shown.replace('-', MINUS) if float(shown) else '0'}{NO_BREAK}V"


def _command(work: Work, command: Command) -> dict[str, object]:
    """Rows for the pins a command is about; the others in one line."""
    key = command.key
    pins = [pin for pin in _pins(work, key) if not function(pin.function).is_return]
    live = [pin for pin in pins if _is_live(work, pin)]
    shown = [pin for pin in live if key in ALL_PINS or pin.function in command.functions]
    homes = [pin for pin in _pins(work, key) if _is_home(work, key, pin)]
    main = [pin for pin in homes if key in ALL_PINS or pin.function == "ground"]
    return {
        "title": capital(command.title),
        "pins": [_pin_row(work, key, pin) for pin in shown],
        "grounds": [_ground_row(work, key, pin) for pin in main],
        "also": "; ".join(
            [
                *_in_brief([pin for pin in live if pin not in shown], "to_return_v"),
                *_in_brief([pin for pin in homes if pin not in main], "voltage_v"),
            ]
        ),
        "dead": ", ".join(pin.pin for pin in pins if pin not in live),
        "dead_up_to": _most([pin for pin in pins if pin not in live]),
    }


def _in_brief(pins: list[PinAnswer], reading: Literal["to_return_v", "voltage_v"]) -> Iterator[str]:
    for pin in pins:
        value_v = pin.to_return_v if reading == "to_return_v" else pin.voltage_v
        yield f"{pin.pin} {function_words(pin.function)} {meter_volts(value_v)}"


def _pins(work: Work, key: str, conditions: str = "nominal") -> list[PinAnswer]:
    """Pins of the towing socket in the order of the connector."""
    towing = work.rig.towing_socket
    order = [pin.number for pin in connector(towing.connector).pins]
    mine = [pin for pin in work.answers.at(key, conditions).pins if pin.socket == towing.name]
    return sorted(mine, key=lambda pin: order.index(pin.pin) if pin.pin in order else len(order))


def _least_live_v(work: Work) -> float:
    return LIVE_SHARE * work.rig.trailer.nominal_v


def _is_live(work: Work, pin: PinAnswer) -> bool:
    most_v = max(abs(pin.to_return_v), abs(pin.open_circuit_v))
    return not pin.floating and most_v > _least_live_v(work)


def _pin_row(work: Work, key: str, pin: PinAnswer) -> dict[str, str]:
    joined, opened = _pin_band(work, key, pin, opened=False), _pin_band(work, key, pin, opened=True)
    return {
        "pin": pin.pin,
        "function": function_title(pin.function),
        "volts": meter_volts(joined.nominal),
        "band": _band_words(joined),
        "open": meter_volts(opened.nominal),
        "open_band": _band_words(opened),
    }


def _pin_band(work: Work, key: str, pin: PinAnswer, *, opened: bool) -> Band:
    """Band over the conditions; a stopped engine is left out where it switches the feed off."""
    values = {}
    for case in work.answers.conditions:
        found = next(each for each in _pins(work, key, case) if each.pin == pin.pin)
        value_v = found.open_circuit_v if opened else found.to_return_v
        if case != ENGINE_OFF or abs(value_v) > _least_live_v(work):
            values[case] = value_v
    return Band(min(values.values()), values["nominal"], max(values.values()))


def _is_home(work: Work, key: str, pin: PinAnswer) -> bool:
    """Whether a pin brings current home and shows a drop that a meter can read."""
    if not function(pin.function).is_return or pin.floating:
        return False
    return max(abs(value) for value in _home_volts(work, key, pin)) >= GROUND_SHOWN_ABOVE_V


def _home_volts(work: Work, key: str, pin: PinAnswer) -> list[float]:
    return [
        next(each for each in _pins(work, key, case) if each.pin == pin.pin).voltage_v
        for case in work.answers.conditions
    ]


def _ground_row(work: Work, key: str, pin: PinAnswer) -> dict[str, str]:
    values = _home_volts(work, key, pin)
    return {
        "pin": pin.pin,
        "function": function_title(pin.function),
        "volts": meter_volts(pin.voltage_v),
        "band": _band_words(Band(min(values), pin.voltage_v, max(values))),
    }


def _most(pins: list[PinAnswer]) -> str:
    if not pins:
        return ""
    return meter_volts(max(abs(pin.to_return_v) for pin in pins))


def _currents(work: Work) -> Iterator[dict[str, str]]:
    """Currents to measure: each magnet, each battery on charge, each appliance."""
    answers = work.answers
    for kind, likely in WHEN_MEASURED.items():
        for load in answers.at(answers.commands[0]).loads:
            if load.kind == kind:
                keys = [key for key in (*likely, *answers.commands) if key in answers.commands]
                key = next((k for k in keys if answers.at(k).load(load.name).commanded), "")
                if key:
                    yield _current_row(answers, key, load)


def _current_row(answers: Answers, key: str, load: LoadAnswer) -> dict[str, str]:
    across = [answers.at(key, case).load(load.name) for case in answers.conditions]
    on = [each for each in across if abs(each.current_a) > 0.01] or across
    nominal = answers.at(key).load(load.name)
    amps = [abs(each.current_a) for each in on]
    volts = [each.voltage_v for each in on]
    return {
        "name": capital(load.name),
        "command": command_title(key).partition(" of ")[0],
        "amps": show_current(abs(nominal.current_a)),
        "amps_band": _amps_words(min(amps), max(amps)),
        "volts": meter_volts(nominal.voltage_v),
        "volts_band": _band_words(Band(min(volts), nominal.voltage_v, max(volts))),
    }


def _amps_words(low_a: float, high_a: float) -> str:
    low, high = show_current(low_a), show_current(high_a)
    return low if low == high else f"{low.removesuffix(f'{NO_BREAK}A')} to {high}"


def _band_words(band: Band) -> str:
    low, high = meter_volts(band.low), meter_volts(band.high)
    return low if low == high else f"{low.removesuffix(f'{NO_BREAK}V')} to {high}"
