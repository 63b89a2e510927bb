"""What is measured: volts at the pins, the drop on the return, amps of brakes and charge."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from typing import Literal

from loomwright.circuit import Resistor, Switch
from loomwright.electrics.carriers import carrier
from loomwright.electrics.harness import REFERENCE, slug
from loomwright.electrics.mating import cord_functions, junction_node, mated_pins
from loomwright.electrics.places import PinPlace
from loomwright.electrics.sockets import pin_node, pins_of
from loomwright.electrics.stated import stated_v
from loomwright.lightcheck.asks import BAND, DARK, Ask, Asking, across, at_pin, place_of
from loomwright.lightcheck.bench import BREAKAWAY_SWITCH, Held, has_breakaway
from loomwright.lightcheck.drawn import Reading
from loomwright.lightcheck.model import Expectation
from loomwright.lightcheck.naming import function_words, pin_title
from loomwright.lightcheck.spread import Spread
from loomwright.lightcheck.word_asks import BRAKING, looks_for_a_load
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.reference.testers import Tester
from loomwright.rig.model import PinWire, Rig

HOLD_HIGHEST = "it flashes: read the highest"
PIN_BACK = "put the pin back within a minute: it empties the battery and heats the magnets"
BREAKAWAY_STEP = "breakaway"
"""Key of what is no command of the driver: the breakaway pin pulled."""


def band(base: Expectation, spread: Spread, tester: Tester) -> Expectation:
    """Return an expectation with a spread as its band, made wider by what the tester is off."""
    unit: Literal["V", "A"] = "A" if base.quantity is Quantity.AMPS else "V"
    low, high, least, most = (
        value + sign * tester.off_by(value, unit)
        for value, sign in (
            (spread.low, -1.0),
            (spread.high, 1.0),
            (spread.least, -1.0),
            (spread.most, 1.0),
        )
    )
    return replace(
        base, low=low, nominal=spread.middle, high=high, least=least, most=most, why=BAND
    )


def open_asks(asking: Asking) -> Iterator[Ask]:
    """Ask for the volts of every pin with the plug out and nothing on it."""
    held = Held(asking.command, plugged=False)
    for pin in asking.pins:
        base = _at(asking, pin, plugged=False)
        yield Ask(held, at_pin(pin), _maker(asking, pin, base))


def loaded_asks(asking: Asking) -> Iterator[Ask]:
    """Ask for the volts of every live pin with the trailer on it, and the drop on the return."""
    held = Held(asking.command)
    if asking.socket != asking.bench.wiring.rig.towing:
        return
    live = [pin for pin in asking.pins if asking.is_commanded(pin)]
    for pin in live:
        yield Ask(held, at_pin(pin), _maker(asking, pin, _at(asking, pin, plugged=True)))
    if live:
        yield _return(asking, held)
        yield from _trailer_ground(asking, held)


def box_asks(asking: Asking) -> Iterator[Ask]:
    """Ask for the volts at the posts of a load box, and for its dark lamps."""
    pins = tuple((pin.socket, pin.pin) for pin in asking.pins)
    held = Held(asking.command, plugged=False, tester=asking.tester.key, pins=pins)
    live = False
    for pin in asking.pins:
        if asking.is_live(pin):
            live = True
            base = _at(asking, pin, plugged=False)
            yield Ask(held, at_pin(pin), _maker(asking, pin, base))
        else:
            dark = asking.expectation(
                place_of(pin), pin_title(pin), Quantity.SEEN, "socket", plugged=False
            )
            made = replace(dark, words=(Word.OFF,), why=DARK)
            yield Ask(held, None, partial(_as_made, made))
    if live:
        yield _return(asking, held)


def _at(asking: Asking, pin: PinPlace, *, plugged: bool) -> Expectation:
    base = asking.expectation(
        place_of(pin), pin_title(pin), Quantity.VOLTS, "socket", plugged=plugged
    )
    flashes = pin.function in asking.command.flashing
    return replace(base, note=HOLD_HIGHEST if flashes else "")


def _maker(asking: Asking, pin: PinPlace, base: Expectation) -> Callable[[Spread], Expectation]:
    """Make the band of a pin: of its volts, or of none."""
    unloaded = not base.plugged and asking.tester.loads == "none"
    may_wait = unloaded and looks_for_a_load(asking, pin)

    def make(spread: Spread) -> Expectation:
        made = band(base, spread, asking.tester)
        if not asking.is_live(pin):
            dead_v = stated_v("light_check.dead_pin")
            most = max(spread.most, dead_v)
            return replace(made, low=-dead_v, nominal=0.0, high=most, least=-dead_v, most=most)
        if may_wait:
            why = "the vehicle may give nothing until it finds a real load"
            return replace(made, least=min(0.0, made.least or 0.0), why=why)
        return made

    return make


def _return(asking: Asking, held: Held) -> Ask:
    """The drop on the shared return: what a bad ground cannot hide."""
    rig = asking.bench.wiring.rig
    socket = rig.socket(asking.socket)
    wire = next(each for each in pins_of(socket) if each.function == "ground")
    place = Place(PlaceKind.RETURN, socket.name, wire.pin)
    base = asking.expectation(
        place,
        f"ground of the {socket.name} to battery negative",
        Quantity.VOLTS,
        "socket",
        plugged=held.plugged,
    )
    reading = Reading(pin_node(socket, wire.pin, "ground"), REFERENCE)
    return Ask(held, reading, partial(_dropped, base, asking))


def _trailer_ground(asking: Asking, held: Held) -> Iterator[Ask]:
    """The drop up to the trailer's own ground: with the contacts and the cord."""
    if asking.bench.wiring.rig.trailer.cord_wire_for("ground") is None:
        return
    node = junction_node("ground")
    place = Place(PlaceKind.POINTS, node, other=REFERENCE)
    title = "trailer ground at its junction to battery negative"
    base = asking.expectation(place, title, Quantity.VOLTS, "hitch", plugged=True)
    yield Ask(held, Reading(node, REFERENCE), partial(_dropped, base, asking))


def _dropped(base: Expectation, asking: Asking, spread: Spread) -> Expectation:
    note = HOLD_HIGHEST if asking.command.flashing else ""
    return replace(band(base, spread, asking.tester), note=note)


def amps_asks(asking: Asking) -> Iterator[Ask]:
    """Ask for the amps of the brakes and of the charge line, trailer plugged in."""
    rig, command = asking.bench.wiring.rig, asking.command
    if command.key in BRAKING and rig.trailer.brakes:
        yield from _through(asking, "brake", f"all {len(rig.trailer.brakes)} magnets together")
    if command.key == "charge":
        battery = rig.trailer.battery
        for wire in rig.trailer.cord:
            carried = battery is not None and _carries(rig, wire)
            if carried and battery is not None:
                yield from _through(asking, wire.function, f"charge of the {battery.name}")


def _carries(rig: Rig, wire: PinWire) -> bool:
    """Whether a conductor of the cord charges the battery."""
    battery = rig.trailer.battery
    return battery is not None and carrier(battery.function, cord_functions(rig)) == wire.function


def _through(asking: Asking, function: str, what: str) -> Iterator[Ask]:
    """Amps through the plug's contact of a function, as a clamp on that core reads."""
    rig, wiring = asking.bench.wiring.rig, asking.bench.wiring
    wire = rig.trailer.cord_wire_for(function)
    mates = mated_pins(rig)
    if wire is None or wire.pin not in mates:
        return
    contact = slug("contact", wire.pin, function)
    element = wiring.network.element(contact)
    if not isinstance(element, Resistor):
        raise TypeError(f"{contact} is no contact")
    place = Place(PlaceKind.PIN, rig.towing, mates[wire.pin])
    title = f"{what}, clamp on the {function_words(function)} core"
    base = asking.expectation(place, title, Quantity.AMPS, "hitch", plugged=True)
    if function == "brake":
        base = replace(base, count=len(rig.trailer.brakes))

    def make(spread: Spread) -> Expectation:
        return band(base, spread, asking.tester)

    yield Ask(Held(asking.command), Reading(element.a, element.b, contact), make)


def battery_asks(asking: Asking) -> Iterator[Ask]:
    """Ask for the volts at the trailer's battery while it is charged."""
    if asking.command.key != "charge":
        return
    for load in asking.bench.wiring.loads:
        if load.kind == "battery":
            base = asking.expectation(
                Place(PlaceKind.LOAD, load.name),
                f"{load.name}, at its posts",
                Quantity.VOLTS,
                "battery",
                plugged=True,
            )
            yield Ask(Held(asking.command), across(load), partial(_banded, base, asking.tester))


def _banded(base: Expectation, tester: Tester, spread: Spread) -> Expectation:
    return band(base, spread, tester)


def breakaway_asks(asking: Asking) -> Iterator[Ask]:
    """Ask whether the breakaway pin, pulled, puts the trailer's own battery on its brakes."""
    rig, wiring = asking.bench.wiring.rig, asking.bench.wiring
    if not has_breakaway(rig):
        return
    held = Held(asking.command, plugged=False, pin_out=True)
    if "brakes" in asking.tester.sees:
        for load in wiring.loads:
            if load.kind == "brake":
                base = asking.expectation(
                    Place(PlaceKind.LOAD, load.name),
                    load.name,
                    Quantity.SEEN,
                    "axle",
                    plugged=False,
                    command=BREAKAWAY_STEP,
                )
                words = (Word.WORKS, Word.LOCKED, Word.ON)
                made = replace(base, words=words, why="the pin is out", note=PIN_BACK)
                yield Ask(held, None, partial(_as_made, made))
    if "amps" in asking.tester.sees:
        switch = wiring_switch(asking)
        count = len(rig.trailer.brakes)
        base = asking.expectation(
            Place(PlaceKind.ELSEWHERE, "breakaway battery"),
            f"all {count} magnets on the breakaway battery",
            Quantity.AMPS,
            "hitch",
            plugged=False,
            command=BREAKAWAY_STEP,
        )
        base = replace(base, note=PIN_BACK, count=count)
        reading = Reading(switch.a, switch.b, BREAKAWAY_SWITCH)
        yield Ask(held, reading, partial(_banded, base, asking.tester))


def wiring_switch(asking: Asking) -> Switch:
    """Return the breakaway switch of the bench."""
    switch = asking.bench.network.element(BREAKAWAY_SWITCH)
    if not isinstance(switch, Switch):
        raise TypeError("the breakaway switch is no switch")
    return switch


def _as_made(made: Expectation, _: Spread) -> Expectation:
    return made
