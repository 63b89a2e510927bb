"""What a meter should show at each pin of the towing socket, and what brakes and battery draw."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Work
from loomwright.electrics.answers import Answers, Band, LoadAnswer, PinAnswer
from loomwright.electrics.conditions import conditions_for
from loomwright.quantities import show_current
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import NO_BREAK, capital, command_title, function_title

LIVE_SHARE = 0.25
"""A pin counts as live from this share of the supply's nominal voltage."""

GROUND_SHOWN_ABOVE_V = 0.005
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
        "commands": [_command(work, key) for key in work.answers.commands],
        "currents": [*_currents(work)],
        "has_trailer_loads": True,
    }


def meter_volts(voltage_v: float) -> str:
    """Return a voltage as a hand meter shows it: hundredths below 10 V, tenths above."""
    shown = f"{voltage_v:.2f}" if abs(voltage_v) < 9.995 else f"{voltage_v:.1f}"
    return f"{shown.replace('-', MINUS) if float(shown) else '0'}{NO_BREAK}V"


def _command(work: Work, key: str) -> dict[str, object]:
    pins = [pin for pin in _pins(work, key) if not function(pin.function).is_return]
    live = [pin for pin in pins if _is_live(work, pin)]
    return {
        "title": command_title(key),
        "pins": [_pin_row(work, key, pin) for pin in live],
        "dead": ", ".join(pin.pin for pin in pins if pin not in live),
        "dead_up_to": _most([pin for pin in pins if pin not in live]),
        "grounds": [*_grounds(work, key)],
    }


def _pins(work: Work, key: str, conditions: str = "nominal") -> list[PinAnswer]:
    """Pins of the towing socket in the order of the connector."""
    towing = work.rig.towing_socket
    order = [pin.number for pin in connector(towing.connector).pins]
    mine = [pin for pin in work.answers.at(key, conditions).pins if pin.socket == towing.name]
    return sorted(mine, key=lambda pin: order.index(pin.pin) if pin.pin in order else len(order))


def _is_live(work: Work, pin: PinAnswer) -> bool:
    least_v = LIVE_SHARE * work.rig.trailer.nominal_v
    return not pin.floating and max(abs(pin.to_return_v), abs(pin.open_circuit_v)) > least_v


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
        found = next(p for p in _pins(work, key, case) if p.pin == pin.pin)
        if case != ENGINE_OFF or _is_live(work, found):
            values[case] = found.open_circuit_v if opened else found.to_return_v
    return Band(min(values.values()), values["nominal"], max(values.values()))


def _grounds(work: Work, key: str) -> Iterator[dict[str, str]]:
    for pin in _pins(work, key):
        if not function(pin.function).is_return or pin.floating:
            continue
        values = [
            next(p for p in _pins(work, key, case) if p.pin == pin.pin).voltage_v
            for case in work.answers.conditions
        ]
        if max(abs(value) for value in values) >= GROUND_SHOWN_ABOVE_V:
            yield {
                "pin": pin.pin,
                "function": capital(function_title(pin.function)),
                "volts": meter_volts(pin.voltage_v),
                "band": _band_words(Band(min(values), pin.voltage_v, max(values))),
            }


def _most(pins: list[PinAnswer]) -> str:
    if not pins:
        return ""
    return meter_volts(max(abs(pin.to_return_v) for pin in pins))


def _currents(work: Work) -> Iterator[dict[str, str]]:
    """Currents to measure: each magnet with pedal or lever, each battery on charge."""
    answers = work.answers
    keys = answers.commands
    brake_key = next((key for key in ("brake_lever", "brake_pedal") if key in keys), "")
    wanted = (("brake", brake_key), ("battery", "charge"), ("appliance", ""))
    for kind, key in wanted:
        for load in answers.at("all").loads if "all" in keys else ():
            at = key if key in keys else _command_of(answers, load)
            if load.kind == kind and at:
                yield _current_row(answers, at, load)


def _command_of(answers: Answers, load: LoadAnswer) -> str:
    for key in answers.commands:
        if answers.at(key).load(load.name).commanded:
            return key
    return ""


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
