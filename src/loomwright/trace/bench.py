"""A rig made ready for tracing: its network, with electronics that watch their own current.

The rig's circuit has plain switches. For tracing, what feeds a trailer through electronics is
a driver: a module's or a converter's output, and the brake controller. A short then shows as
it does on a real rig: the output shuts down before the fuse does.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from loomwright.circuit import Case, Driver, Element, Network, Source, Switch, Transformed
from loomwright.electrics.boxes import SUPPLY_SWITCH
from loomwright.electrics.cases import case_for, duties
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER, feed_switch
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.rig.model import Rig, SocketFeed

MODULE_LIMIT_A: Final = 15.0
"""At which an output of a trailer module shuts down, 10 to 20 A. [A] From memory."""

LIMIT_SHARE: Final = 1.3
"""Of its rating, at which an output that has one shuts down. From memory."""

STILL: Final = Command("still", "nothing on")
"""The dark half of a flash by itself."""

DARK_HALVES: Final = {
    "left": "still",
    "right": "still",
    "hazard": "still",
    "park+left": "park",
}
"""What is left of a flashing command while its lamps are dark."""


@dataclass(frozen=True, slots=True)
class Bench:
    """A rig as a network to put faults into.

    Attributes
    ----------
    wiring : Wiring
        The rig under nominal conditions, with drivers in place of switches.
    commands : tuple of Command
        What the driver does; the last is the dark half of a flash.
    cases : tuple of Case
        What each does to the network.
    duties : tuple of mapping
        Share of time each pulsed feed is on.
    """

    wiring: Wiring
    commands: tuple[Command, ...]
    cases: tuple[Case, ...]
    duties: tuple[Mapping[str, float], ...]

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.wiring.rig

    def number(self, command: str) -> int:
        """Number of a command, by key.

        Raises
        ------
        KeyError
            If the rig has none of that key.
        """
        for n, each in enumerate(self.commands):
            if each.key == command:
                return n
        raise KeyError(command)

    def has(self, command: str) -> bool:
        """Whether this command can show something on this rig."""
        return any(each.key == command for each in self.commands)

    def dark_half(self, number: int) -> int | None:
        """Number of what is left of a command while its flashing lamps are dark."""
        dark = DARK_HALVES.get(self.commands[number].key)
        return None if dark is None else self.number(dark)


def make_bench(rig: Rig) -> Bench:
    """Make a rig ready for faults.

    Parameters
    ----------
    rig : Rig
        The rig.
    """
    wiring = wire_up(rig)
    emf_v = wiring.conditions.emf_v
    elements = (_stepped_down(each, emf_v) for each in wiring.network.elements)
    driven = Network([_driven(rig, each) for each in elements])
    wiring = replace(wiring, network=driven)
    commands = (*commands_for(rig), STILL)
    return Bench(
        wiring,
        commands,
        tuple(case_for(wiring, each) for each in commands),
        tuple(duties(wiring, each) for each in commands),
    )


def _stepped_down(element: Element, emf_v: float) -> Element:
    """A step-down converter as what it takes off the voltage; anything else as it is.

    So it is dead when its input is, and needs no state of its own: hundreds of faults are
    solved in the time of a few. What it draws is told too high, by the ratio of the voltages,
    and it does not hold its output while its input sags.
    """
    if not isinstance(element, Transformed):
        return element
    less_v = emf_v - element.emf_v
    return Source(element.name, element.in_a, element.out_plus, less_v, element.resistance_ohm)


def _driven(rig: Rig, element: Element) -> Element:
    """A switch that is electronics, as a driver; anything else as it is."""
    if not isinstance(element, Switch) or element.name == SUPPLY_SWITCH:
        return element
    limit_a = _limit_a(rig, element.name)
    if limit_a is None:
        return element
    name, a, b = element.name, element.a, element.b
    return Driver(name, a, b, element.resistance_ohm, element.closed, limit_a)


def _limit_a(rig: Rig, name: str) -> float | None:
    """Current at which a switch shuts down by itself, or None if it never does. [A]"""
    controller = rig.vehicle.brake_controller
    if name == feed_switch("brake") and controller is not None:
        return LIMIT_SHARE * controller.max_current_a
    box = rig.converter
    if box is not None and name.startswith("converter_switch"):
        outputs = [o for o in box.channel_a if name.startswith(f"converter_switch_{o}")]
        return LIMIT_SHARE * max((box.channel_a[o] for o in outputs), default=MODULE_LIMIT_A)
    if rig.vehicle.socket_feed is SocketFeed.MODULE and name.startswith("feed_"):
        feed = next((f for f in rig.vehicle.feeds if feed_switch(f.function) == name), None)
        if feed is not None and feed.fuse is not None:
            return max(MODULE_LIMIT_A, feed.fuse.rating_a)
        return MODULE_LIMIT_A
    return None


CONTROLLER_SWITCH: Final = feed_switch("brake")
__all__ = ["BRAKE_CONTROLLER", "CONTROLLER_SWITCH", "STILL", "Bench", "make_bench"]
