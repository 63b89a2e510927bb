"""How well each hypothesis explains a number: volts, amps, ohms at a place."""

from __future__ import annotations

from typing import Final

import numpy as np

from loomwright.electrics.harness import slug
from loomwright.electrics.readings import nominal_of
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.brightness import Numbers
from loomwright.trace.eye import chance, spoken
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.meter import chance_of_amps, chance_of_ohms, chance_of_volts
from loomwright.trace.ohms import ohms_between
from loomwright.trace.simulate import Field, Floats
from loomwright.trace.unplugged import unplugged_pins, volts_between
from loomwright.trace.whereabouts import meant_by

Points = tuple[str, str]
Readings = Floats | Numbers

DROP_V: Final = 0.3
"""Across a part that carries current, from which it is called bad. [V] From memory."""

DROP_SPREAD_V: Final = 0.06

CAUGHT: Final = 0.8
"""How often what comes and goes is there at a reading: one measures what shows. From memory."""

MANY: Final = 6000
"""Variants above which a reading with the plug pulled is solved by itself, when asked for."""


def chance_of_reading(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis explains a reading; None if the rig has no such place.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        A number, or a word for a pin.
    """
    match observation.quantity:
        case Quantity.OHMS:
            return _ohms(hypotheses, observation)
        case Quantity.AMPS:
            return _amps(hypotheses, observation)
        case _:
            return _volts(hypotheses, observation)


def _mixed(hypotheses: Hypotheses, by_variant: Floats) -> Floats:
    """By hypothesis; what comes and goes is mostly there while it is measured."""
    return _caught(hypotheses, by_variant[hypotheses.variant], float(by_variant[0]))


def _caught(hypotheses: Hypotheses, there: Floats, healthy: float) -> Floats:
    caught = CAUGHT * there + (1.0 - CAUGHT) * healthy
    return np.asarray(np.where(hypotheses.loose, caught, there))


def _volts(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    found = volts_at(hypotheses, observation)
    if found is None:
        return None
    volts, by_hypothesis = found
    if observation.place.kind is PlaceKind.POINTS and observation.quantity is Quantity.SEEN:
        by_case = _seen_across(volts, observation)
    elif observation.quantity is Quantity.SEEN:
        by_case = _seen_at_pin(hypotheses.field, volts, observation)
    else:
        by_case = chance_of_volts(observation.value or 0.0, volts)
    if by_case is None:
        return None
    if by_hypothesis:
        return _caught(hypotheses, by_case, float(by_case[int(np.argmin(hypotheses.first))]))
    return _mixed(hypotheses, by_case)


def volts_at(hypotheses: Hypotheses, observation: Observation) -> tuple[Floats, bool] | None:
    """Return the volts at a place, and whether they are given by hypothesis, not by variant.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        Tells place and command.
    """
    bench, command = hypotheses.field.bench, observation.command or "rest"
    if not bench.has(command):
        return None
    number = bench.number(command)
    match observation.place.kind:
        case PlaceKind.LOAD | PlaceKind.GROUP:
            kept = _at_loads(hypotheses.field, observation.place, number)
            return None if kept is None else (kept, False)
        case PlaceKind.PIN | PlaceKind.RETURN:
            kept = _at_pin(hypotheses, observation, number)
            return _solved_at(hypotheses, observation, number) if kept is None else (kept, False)
        case _:
            return _solved_at(hypotheses, observation, number)


def _at_loads(solved: Field, place: Place, command: int) -> Floats | None:
    """Across some loads, on average; None if the rig has none of that name."""
    loads = list(meant_by(solved.bench.wiring, place.name).loads)
    return solved.volts[:, command, loads].mean(axis=1).astype(float) if loads else None


def _at_pin(hypotheses: Hypotheses, observation: Observation, command: int) -> Floats | None:
    """At a pin of a socket, where such readings are kept."""
    place = observation.place
    column = _pin_column(hypotheses.field, place)
    if column is None:
        return None
    read = _of_pins(hypotheses, plugged=observation.plugged)[place.kind is PlaceKind.RETURN]
    return read[:, command, column].astype(float) if read.shape[2] else None


def _solved_at(
    hypotheses: Hypotheses, observation: Observation, command: int
) -> tuple[Floats, bool] | None:
    """Between two points, solved when it is asked for."""
    points = points_of(hypotheses.field, observation.place)
    if points is None:
        return None
    exact = observation.place.kind is PlaceKind.POINTS
    plugged = observation.plugged
    found = volts_between(hypotheses, command, points, plugged=plugged, exact=exact)
    return found, exact


def _of_pins(hypotheses: Hypotheses, *, plugged: bool) -> tuple[Readings, Readings]:
    """Volts of the pins to their returns and to battery negative; empty where not kept."""
    solved = hypotheses.field
    if plugged:
        return solved.pins, solved.drops
    if len(solved.changes) > MANY:
        nothing = np.zeros((0, 0, 0))
        return nothing, nothing
    return unplugged_pins(hypotheses)


def _pin_column(solved: Field, place: Place) -> int | None:
    for n, pin in enumerate(solved.bench.wiring.pins):
        wanted = place.pin in {pin.pin, pin.function}
        if place.kind is PlaceKind.RETURN:
            wanted = pin.function == "ground"
        if pin.socket == place.name and wanted:
            return n
    return None


def points_of(solved: Field, place: Place) -> Points | None:
    """Return the two nodes a meter is held to, or None if the rig has no such place.

    Parameters
    ----------
    solved : Field
        The rig.
    place : Place
        A pin, a return, or two points.
    """
    network = solved.bench.wiring.network
    known = {*network.nodes, network.reference}
    if place.kind is PlaceKind.POINTS:
        names = {"battery negative": "0", "chassis": "chassis", "battery": "battery_plus"}
        a, b = (names.get(n, n) for n in (place.name, place.other))
        return (a, b) if {a, b} <= known and a != b else None
    column = _pin_column(solved, place)
    if column is None:
        return None
    pin = solved.bench.wiring.pins[column]
    if place.kind is PlaceKind.RETURN:
        return pin.node, network.reference
    return None if pin.return_node is None else (pin.node, pin.return_node)


def _seen_across(volts: Floats, observation: Observation) -> Floats | None:
    """Whether a part drops more than it may while it carries current."""
    much = 1.0 / (1.0 + np.exp(-np.clip((np.abs(volts) - DROP_V) / DROP_SPREAD_V, -40.0, 40.0)))
    match observation.word:
        case Word.WRONG | Word.FAILS:
            return np.asarray(0.03 + 0.94 * much)
        case Word.NORMAL | Word.WORKS | Word.OFF:
            return np.asarray(0.97 - 0.94 * much)
        case _:
            return None


def _seen_at_pin(solved: Field, volts: Floats, observation: Observation) -> Floats | None:
    """A word for a pin: as a lamp on it would show."""
    if observation.word is None:
        return None
    nominal_v = solved.bench.rig.vehicle.supply.nominal_v
    light = (np.abs(volts) / nominal_v) ** 3.4
    words = spoken(np.asarray(light), None, filament=True)
    word = {Word.WEAK: Word.DIM, Word.FLASHING: Word.ON, Word.PULSED: Word.ON}.get(
        observation.word, observation.word
    )
    return chance(words, word, words[0], flashes=False)


def _amps(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    solved, place = hypotheses.field, observation.place
    if not solved.bench.has(observation.command):
        return None
    number = solved.bench.number(observation.command)
    if place.kind is PlaceKind.CONTROLLER or _is_brakes(solved, place):
        amps = solved.controller_a[:, number].astype(float)
    elif place.kind in (PlaceKind.LOAD, PlaceKind.GROUP):
        found = _load_amps(solved, place, number)
        if found is None:
            return None
        amps = found
    else:
        return None
    return _mixed(hypotheses, chance_of_amps(observation.value or 0.0, amps))


def _is_brakes(solved: Field, place: Place) -> bool:
    if place.kind is PlaceKind.PIN:
        column = _pin_column(solved, place)
        return column is not None and solved.bench.wiring.pins[column].function == "brake"
    return place.kind is PlaceKind.GROUP and place.name.casefold() in ("brakes", "all brakes")


def _load_amps(solved: Field, place: Place, command: int) -> Floats | None:
    """Current of loads: as a share of rated light or force, at the rated current, about."""
    from loomwright.circuit import Load

    wiring = solved.bench.wiring
    total = np.zeros(len(solved.changes))
    meant = meant_by(wiring, place.name)
    for n in meant.loads:
        load = wiring.loads[n]
        element = wiring.network.element(load.element)
        if not isinstance(element, Load):
            return None
        volts = np.abs(solved.volts[:, command, n].astype(float))
        grid = np.linspace(0.0, 1.6 * nominal_of(wiring, load), 97)
        curve = np.array([element.law.current_a(float(v)) for v in grid])
        lives = solved.lit(command, n) > 0.0
        total += np.where(lives, np.interp(volts, grid, curve), 0.0)
    return total if meant.loads else None


def _ohms(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Ohms are read with the power off and the plug out, into the trailer or into the vehicle."""
    solved, place = hypotheses.field, observation.place
    points: Points | None
    if place.kind is PlaceKind.PIN:
        points = _plug_points(solved, place)
    elif place.kind in (PlaceKind.LOAD, PlaceKind.GROUP):
        meant = meant_by(solved.bench.wiring, place.name)
        load = solved.bench.wiring.loads[meant.loads[0]] if len(meant.loads) == 1 else None
        points = None if load is None else (load.a, load.b)
    else:
        points = points_of(solved, place)
    if points is None:
        return None
    ohms = ohms_between(hypotheses, points)
    chances = chance_of_ohms(observation.value or 0.0, ohms)
    return _caught(hypotheses, chances, float(chances[0]))


def _plug_points(solved: Field, place: Place) -> Points | None:
    """Nodes of the plug's pin, and of the plug's ground."""
    cord = solved.bench.rig.trailer.cord
    wire = next((w for w in cord if place.pin in (w.pin, w.function)), None)
    ground = next((w for w in cord if w.function == "ground"), None)
    if wire is None or ground is None or wire is ground:
        return None
    return slug("plug", wire.pin, wire.function), slug("plug", ground.pin, ground.function)
