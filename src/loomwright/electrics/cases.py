"""What a command does to the network: which switches close, which loads see pulses."""

from __future__ import annotations

import math
from collections.abc import Mapping

from loomwright.circuit import Case, Law, Load, Pulsed
from loomwright.electrics.boxes import SUPPLY_SWITCH, channel_switch
from loomwright.electrics.carriers import driving_input
from loomwright.electrics.commands import Command
from loomwright.electrics.lights import pulsed_law
from loomwright.electrics.places import LoadPlace
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER, feed_switch
from loomwright.electrics.wiring import Wiring
from loomwright.reference.leds import led_form
from loomwright.rig.model import Feed, Led, Live

NOTHING = Case()


def case_for(
    wiring: Wiring, command: Command, changes: Case = NOTHING, *, plugged: bool = True
) -> Case:
    """Return the case of the rig's network that a command makes.

    Parameters
    ----------
    wiring : Wiring
        The rig as a network.
    command : Command
        What the driver does.
    changes : Case
        What is otherwise than wired, by element: a fault, a tolerance. It overrules the
        command; a pulled plug overrules it.
    plugged : bool
        Whether the trailer's plug is in; if not, every contact of it is open.
    """
    live = live_feeds(wiring, command)
    closed = {
        feed_switch(feed.function): feed.function in live for feed in wiring.rig.vehicle.feeds
    }
    closed |= _channels(wiring, command, live)
    emf = {}
    if BRAKE_CONTROLLER in wiring.parts:
        controller = wiring.rig.vehicle.brake_controller
        share = 1.0 if controller is None else controller.output_share
        emf[BRAKE_CONTROLLER] = (1.0 - share) * wiring.conditions.emf_v if "brake" in live else 0.0
    contacts = {} if plugged else dict.fromkeys(wiring.plug_contacts, math.inf)
    return Case(
        resistance_ohm={**changes.resistance_ohm, **contacts},
        closed={**closed, **changes.closed},
        emf_v={**emf, **changes.emf_v},
        law={**_laws(wiring, command), **changes.law},
        power_w=changes.power_w,
    )


def live_feeds(wiring: Wiring, command: Command) -> frozenset[str]:
    """Return the functions of the vehicle's feeds that are on."""
    return frozenset(
        feed.function for feed in wiring.rig.vehicle.feeds if is_live(wiring, feed, command)
    )


def is_live(wiring: Wiring, feed: Feed, command: Command) -> bool:
    """Whether a feed is on: by command, or by the key and the engine."""
    running = command.engine_running and wiring.conditions.engine_running
    match feed.live:
        case Live.ALWAYS:
            return True
        case Live.IGNITION:
            return command.engine_running
        case Live.ENGINE:
            return running
        case Live.COMMAND:
            undriven = feed.function == "brake" and wiring.rig.vehicle.brake_controller is None
            return feed.function in command.functions and not undriven


def duties(wiring: Wiring, command: Command) -> Mapping[str, float]:
    """Return the share of time each pulsed feed is on, for the feeds that are live."""
    live = live_feeds(wiring, command)
    return {
        feed.function: feed.duty
        for feed in wiring.rig.vehicle.feeds
        if feed.duty < 1.0 and feed.function in live
    }


def _channels(wiring: Wiring, command: Command, live: frozenset[str]) -> dict[str, bool]:
    """Return the switches of the converter."""
    box = wiring.rig.converter
    if box is None:
        return {}
    closed = {}
    for output, inputs in wiring.channels.items():
        driven_by = driving_input(output, inputs, live, command.flashing)
        if channel_switch(output) in wiring.parts:
            closed[channel_switch(output)] = driven_by is not None
        else:
            closed |= {channel_switch(output, each): each == driven_by for each in inputs}
    if SUPPLY_SWITCH in wiring.parts:
        feed = box.feed
        by_command = feed is None or feed.live is Live.COMMAND
        closed[SUPPLY_SWITCH] = by_command or (feed is not None and is_live(wiring, feed, command))
    return closed


def _laws(wiring: Wiring, command: Command) -> dict[str, Law]:
    """Return the laws of the loads that see pulses."""
    pulsed = duties(wiring, command)
    return {
        load.element: _while_on(wiring, load, pulsed[load.fed_by])
        for load in wiring.loads
        if load.fed_by is not None and load.fed_by in pulsed and _has_law(load)
    }


def _has_law(load: LoadPlace) -> bool:
    """Whether pulses change how a load draws: its law, not a battery or constant power."""
    if load.kind in ("lamp", "vehicle lamp"):
        multivolt = isinstance(load.source, Led) and led_form(load.source.form).law == "switch-mode"
        return not multivolt
    return load.kind == "brake"


def _while_on(wiring: Wiring, load: LoadPlace, duty: float) -> Law:
    nominal_v = (
        wiring.rig.vehicle.supply.nominal_v
        if load.kind == "vehicle lamp"
        else wiring.rig.trailer.nominal_v
    )
    if load.source is not None:
        return pulsed_law(load.source, nominal_v, duty)
    element = wiring.network.element(load.element)
    if not isinstance(element, Load):
        raise TypeError(f"{load.element} has no law")
    return Pulsed(element.law, duty, "freewheels")
