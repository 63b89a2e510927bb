"""What is seen: lamps of the trailer, brakes, the controller; lamps of a tester on the pins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from loomwright.circuit import Load
from loomwright.electrics.cases import duties
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.lightcheck.asks import BAND, DARK, Ask, Asking, across, place_of
from loomwright.lightcheck.bench import LED_AT_V, LED_FORM, Held, tester_load
from loomwright.lightcheck.drawn import Reading
from loomwright.lightcheck.model import Expectation
from loomwright.lightcheck.naming import load_title, pin_title
from loomwright.lightcheck.spread import Spread, light_words
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import Bulb, LampDrive, Led, SocketFeed

BRAKING = ("brake_pedal", "brake_lever", "park+brake_pedal")


def seen_asks(asking: Asking) -> Iterator[Ask]:
    """Ask what the trailer shows, plugged in: lamps, and with a trailer at hand its brakes."""
    sees = asking.tester.sees
    for load in asking.bench.wiring.loads:
        if load.kind == "lamp" and load.source is not None:
            yield _lamp(asking, load, load.source)
        elif load.kind == "appliance" and "brakes" in sees:
            yield _appliance(asking, load)
        elif load.kind == "brake" and "brakes" in sees:
            yield from _brake(asking, load)
    controller = asking.bench.wiring.rig.vehicle.brake_controller
    if "messages" in sees and controller is not None and asking.command.key == "brake_lever":
        yield _message(asking)


def _load_place(load: LoadPlace) -> Place:
    return Place(PlaceKind.LOAD, load.name)


def _lamp(asking: Asking, load: LoadPlace, source: Bulb | Led) -> Ask:
    wiring, command = asking.bench.wiring, asking.command
    base = asking.expectation(
        _load_place(load), load_title(wiring, load, command), Quantity.SEEN, "rear", plugged=True
    )
    duty = duties(wiring, command).get(load.fed_by or "", 1.0)
    flashes = load.function in command.flashing

    def make(spread: Spread) -> Expectation:
        words = light_words(spread, source, wiring.rig.trailer.nominal_v, duty, flashes=flashes)
        why = DARK if words.right == (Word.OFF,) else BAND
        return replace(base, words=words.right, doubtful=words.doubtful, why=why)

    return Ask(Held(command), across(load), make)


def _appliance(asking: Asking, load: LoadPlace) -> Ask:
    base = asking.expectation(_load_place(load), load.name, Quantity.SEEN, "rear", plugged=True)

    def make(spread: Spread) -> Expectation:
        on = spread.middle > 0.5 * asking.bench.wiring.rig.trailer.nominal_v
        words = (Word.WORKS, Word.ON) if on else (Word.OFF,)
        return replace(base, words=words, why=BAND if on else DARK)

    return Ask(Held(asking.command), across(load), make)


def _brake(asking: Asking, load: LoadPlace) -> Iterator[Ask]:
    """A brake pulls under the commands that brake, and is free at rest."""
    command = asking.command.key
    if command not in (*BRAKING, "rest"):
        return
    base = asking.expectation(_load_place(load), load.name, Quantity.SEEN, "axle", plugged=True)

    def make(spread: Spread) -> Expectation:
        if abs(spread.middle) < 0.5:
            return replace(base, words=(Word.OFF,), why="a brake that nobody applies is free")
        note = "compass, hum or drag at the wheel"
        return replace(base, words=(Word.WORKS, Word.ON), why=BAND, note=note)

    yield Ask(Held(asking.command), across(load), make)


def _message(asking: Asking) -> Ask:
    base = asking.expectation(
        Place(PlaceKind.CONTROLLER), "brake controller", Quantity.SEEN, "cab", plugged=True
    )
    why = "the controller sees the trailer through its magnets"
    made = replace(base, words=(Word.CONNECTED,), why=why)
    return Ask(Held(asking.command), None, lambda _: made)


def probe_asks(asking: Asking) -> Iterator[Ask]:
    """Ask what a test lamp or an LED tester shows on each pin, plug out."""
    for pin in asking.pins:
        base = asking.expectation(
            place_of(pin), pin_title(pin), Quantity.SEEN, "socket", plugged=False
        )
        if asking.is_live(pin):
            yield _lit(asking, pin, base)
        else:
            quiet = _quiet(asking, pin, base)
            yield Ask(Held(asking.command, plugged=False), None, partial(_as_it_is, quiet))


def _as_it_is(made: Expectation, _: Spread) -> Expectation:
    return made


def _quiet(asking: Asking, pin: PinPlace, base: Expectation) -> Expectation:
    """A pin with nothing on it, where some vehicles send pulses to look for a trailer."""
    looks = looks_for_a_load(asking, pin)
    blinks = looks and "pulses" in asking.tester.sees
    note = "blinks that come and go: the vehicle looks for a trailer" if blinks else ""
    doubtful = (Word.PULSED,) if blinks else ()
    return replace(base, words=(Word.OFF,), doubtful=doubtful, why=DARK, note=note)


def looks_for_a_load(asking: Asking, pin: PinPlace) -> bool:
    """Whether what feeds a pin may look for a load before it gives anything."""
    rig = asking.bench.wiring.rig
    vehicle, box = rig.vehicle, rig.converter
    if pin.function == "brake":
        return vehicle.brake_controller is not None
    if box is not None and box.powered and pin.function in asking.bench.wiring.channels:
        return False
    return vehicle.socket_feed is SocketFeed.MODULE or vehicle.lamp_drive is LampDrive.MONITORED


def _lit(asking: Asking, pin: PinPlace, base: Expectation) -> Ask:
    tester, command, bench = asking.tester, asking.command, asking.bench
    at = (pin.socket, pin.pin)
    held = Held(command, plugged=False, tester=tester.key, pins=(at,))
    load = bench.network.element(tester_load(tester.key, *at))
    if not isinstance(load, Load):
        raise TypeError(f"{load.name} is no load")
    duty = duties(bench.wiring, command).get(pin.fed_by or "", 1.0)
    volts = bench.wiring.rig.trailer.nominal_v
    flashes = pin.function in command.flashing
    led = Led(LED_FORM, tester.led_a or 0.02, LED_AT_V * volts / 12.0)
    source = Bulb("P21W", "single") if tester.lamp_w is not None else led
    needs = looks_for_a_load(asking, pin) and (not tester.wakes or pin.function == "brake")

    def make(spread: Spread) -> Expectation:
        words = light_words(spread, source, volts, duty, flashes=flashes)
        right, doubtful = words.right, words.doubtful
        if "brightness" not in tester.sees:
            right, doubtful = _without_brightness(right, pulsed=duty < 1.0, flashes=flashes)
        why = (
            BAND if "brightness" in tester.sees else "an LED lights on any volts; it loads nothing"
        )
        if needs:
            doubtful = (*doubtful, Word.OFF, Word.PULSED)
            why = "the vehicle may give nothing until it finds a real load"
        return replace(base, words=right, doubtful=_others(doubtful, right), why=why)

    return Ask(held, Reading(load.a, load.b, fed_by=pin.fed_by), make)


def _without_brightness(
    right: tuple[Word, ...], *, pulsed: bool, flashes: bool
) -> tuple[tuple[Word, ...], tuple[Word, ...]]:
    """An LED says on or off, and shows pulses that a filament evens out."""
    if Word.OFF in right:
        return right, ()
    if flashes:
        return (Word.FLASHING,), (Word.FLASHING_DIM,)
    lit = (Word.NORMAL, Word.BRIGHT)
    return ((Word.PULSED, Word.ON), (*lit, Word.FLICKER)) if pulsed else ((Word.ON, *lit), ())


def _others(words: tuple[Word, ...], right: tuple[Word, ...]) -> tuple[Word, ...]:
    return tuple(word for word in dict.fromkeys(words) if word not in right)
