"""Faults in the line: what breaks, corrodes, chafes or is too thin, element by element."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.circuit import ConstantPower, Driver, Fuse, Load, Resistor, Switch
from loomwright.circuit.faults import Bridged, Opened, Resisted, Shorted
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER
from loomwright.trace.drafting import Draft, Plant
from loomwright.trace.form_words import SHORT_OHM, SIZES_OHM, THIN_OHM
from loomwright.trace.usual import is_known

NEVER = ("chassis_to_battery", "hitch", BRAKE_CONTROLLER, "converter_feed_switch")
"""What is taken to be sound: no person would look for a fault there first."""


def series_faults(plant: Plant) -> Iterator[Draft]:
    """Draw up the faults of every conductor, contact, fuse and switch."""
    for element in plant.wiring.network.elements:
        if element.name in NEVER or plant.part(element.name).kind == "load":
            continue
        if isinstance(element, Resistor | Switch | Fuse | Driver):
            yield from _breaks(plant, element.name)
        if isinstance(element, Switch | Driver):
            yield from _switch_faults(plant, element.name)
        if plant.part(element.name).kind == "wire":
            yield from _wire_faults(plant, element.name)


def _breaks(plant: Plant, name: str) -> Iterator[Draft]:
    home, at = plant.home(name), plant.part(name).place
    yield Draft(home, "open", (Opened(name),), at=at)
    yield Draft(home, "missing", (Opened(name),), at=at)
    yield Draft(home, "intermittent_open", (Opened(name),), comes_and_goes=True, at=at)
    for ohm in SIZES_OHM:
        change = (Resisted(name, ohm),)
        yield Draft(home, "high_resistance", change, ohm, sizes=len(SIZES_OHM), at=at)


def _switch_faults(plant: Plant, name: str) -> Iterator[Draft]:
    home = plant.home(name)
    yield Draft(home, "latched_off", (Opened(name),))
    yield Draft(home, "stuck_on", (Shorted(name, 0.02),))


def _wire_faults(plant: Plant, name: str) -> Iterator[Draft]:
    home, part = plant.home(name), plant.part(name)
    yield Draft(home, "undersized", (Resisted(name, THIN_OHM),), at=part.place)
    if part.path == "return" or plant.metal(name) in plant.ends(name):
        return
    short = (Bridged(plant.ends(name)[1], plant.metal(name), SHORT_OHM),)
    yield Draft(home, "short_to_ground", short, at=part.place)
    yield Draft(home, "intermittent_short", short, comes_and_goes=True, at=part.place)


def load_faults(plant: Plant) -> Iterator[Draft]:
    """Draw up what is wrong inside a load: burnt out, shorted, the wrong way round."""
    for load in plant.wiring.loads:
        element = plant.wiring.network.element(load.element)
        home = plant.home(load.element)
        if load.kind in ("lamp", "brake") and isinstance(element, Load):
            yield Draft(home, "open", (Opened(load.element),))
        elif isinstance(element, ConstantPower) and plant.has(f"{load.element}_branch"):
            yield Draft(home, "open", (Opened(f"{load.element}_branch"),))
        if is_known(home.place, "reversed") and plant.has(f"{load.element}_branch"):
            is_battery = load.kind == "battery"
            short = Bridged(load.a, load.b, SHORT_OHM)
            change = short if is_battery else Opened(f"{load.element}_branch")
            yield Draft(home, "reversed", (change,))
        if load.kind == "brake":
            yield Draft(home, "short_to_ground", (Shorted(load.element, SHORT_OHM),))
            yield Draft(home, "low_resistance", (Bridged(load.a, load.b, 4.0),))
        if load.kind == "lamp" and plant.has(f"{load.element}_holder"):
            at_holder = plant.home(f"{load.element}_holder")
            yield Draft(at_holder, "short_to_ground", (Bridged(load.a, load.b, SHORT_OHM),))
