"""The rig on the bench: its network with the tester on the pins, and the breakaway battery.

A tester that draws current is a load of the same network, between a pin and the return of
that pin, behind a switch that is closed while the tester is on it. So what a test lamp shows
is solved, with the trailer unplugged, and never guessed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from loomwright.circuit import Case, Element, Law, Load, Network, Ohmic, Pulsed, Source, Switch
from loomwright.electrics.cases import case_for, duties
from loomwright.electrics.commands import Command
from loomwright.electrics.harness import slug
from loomwright.electrics.lights import law_of
from loomwright.electrics.mating import junction_node, return_of
from loomwright.electrics.places import PinPlace
from loomwright.electrics.resistances import LEAST_OHM
from loomwright.electrics.sockets import is_return
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.lightcheck.setting import Setting
from loomwright.reference.batteries import chemistry, emf_v
from loomwright.reference.testers import Tester
from loomwright.rig.model import Bulb, Led, Rig

BREAKAWAY, BREAKAWAY_SWITCH = "breakaway_battery", "breakaway_switch"
LEAD_OHM = 0.01
"""The leads and clips of a tester. [ohm]"""

LED_FORM, LED_AT_V = "string-3", 12.8
CHARGE = ("battery", "ignition", "charge")


@dataclass(frozen=True, slots=True)
class Held:
    """A command held, with the plug in or out, and the tester on some pins.

    Attributes
    ----------
    command : Command
        What the driver does.
    plugged : bool
        Whether the trailer is plugged in.
    tester : str
        Key of the tester that draws current; empty for none.
    pins : tuple of (str, str)
        Socket and pin that it is on.
    pin_out : bool
        Whether the breakaway pin is pulled.
    """

    command: Command
    plugged: bool = True
    tester: str = ""
    pins: tuple[tuple[str, str], ...] = ()
    pin_out: bool = False


@dataclass(frozen=True, slots=True)
class Bench:
    """A rig with testers at hand; `wiring` is the rig alone, `network` has the testers too.

    `laws` are those of the testers; `setting` says under which commands the engine runs, and so
    whether what needs it is live.
    """

    wiring: Wiring
    network: Network
    laws: dict[str, Law]
    setting: Setting

    def case(self, held: Held, changes: Case | None = None) -> Case:
        """Return the case of the network for what is held.

        Parameters
        ----------
        held : Held
            Command, plug and tester.
        changes : Case, optional
            What is otherwise than wired: a fault.
        """
        running = self.setting.runs(held.command)
        now = replace(self.wiring.conditions, engine_running=running)
        wiring = replace(self.wiring, conditions=now)
        made = case_for(wiring, held.command, changes or Case(), plugged=held.plugged)
        on = {tester_switch(held.tester, *each): True for each in held.pins}
        if held.pin_out:
            on[BREAKAWAY_SWITCH] = True
        pulsed = duties(self.wiring, held.command)
        fed = {(pin.socket, pin.pin): pin.fed_by or "" for pin in self.wiring.pins}
        laws: dict[str, Law] = {}
        for each in held.pins:
            duty = pulsed.get(fed[each], 1.0)
            name = tester_load(held.tester, *each)
            if duty < 1.0 and name in self.laws:
                laws[name] = Pulsed(self.laws[name], duty, "heats")
        return replace(made, closed={**made.closed, **on}, law={**made.law, **laws})


def make_bench(rig: Rig, testers: tuple[Tester, ...] = (), setting: Setting | None = None) -> Bench:
    """Put a rig on the bench.

    Parameters
    ----------
    rig : Rig
        The rig.
    testers : tuple of Tester
        What may be put on its pins.
    setting : Setting, optional
        What is known of engine, battery and air.
    """
    wiring = wire_up(rig)
    elements: list[Element] = []
    for tester in testers:
        for pin in probed_pins(wiring):
            elements += _on_pin(wiring, tester, pin)
    elements += _breakaway(rig)
    laws = {each.name: each.law for each in elements if isinstance(each, Load)}
    network = Network([*wiring.network.elements, *elements])
    return Bench(wiring, network, laws, setting or Setting())


def probed_pins(wiring: Wiring) -> tuple[PinPlace, ...]:
    """Return the pins a tester is put on: every one with a return in its socket."""
    return tuple(
        pin for pin in wiring.pins if pin.return_node is not None and not is_return(pin.function)
    )


def tester_switch(tester: str, socket: str, pin: str) -> str:
    """Name of the switch that is closed while a tester is on a pin."""
    return slug(tester, "on", socket, pin)


def tester_load(tester: str, socket: str, pin: str) -> str:
    """Name of what a tester puts on a pin."""
    return slug(tester, "load", socket, pin)


def has_breakaway(rig: Rig) -> bool:
    """Whether the breakaway pin can be tried: a battery and a brake conductor."""
    return rig.trailer.breakaway is not None and rig.trailer.cord_wire_for("brake") is not None


def _on_pin(wiring: Wiring, tester: Tester, pin: PinPlace) -> tuple[Element, ...]:
    law = _law(wiring, tester, pin.function)
    if law is None or pin.return_node is None:
        return ()
    clip = slug(tester.key, "clip", pin.socket, pin.pin)
    return (
        Switch(tester_switch(tester.key, pin.socket, pin.pin), pin.node, clip, LEAD_OHM, False),
        Load(tester_load(tester.key, pin.socket, pin.pin), clip, pin.return_node, law),
    )


def _law(wiring: Wiring, tester: Tester, function: str) -> Law | None:
    """What a tester draws on a pin of this function; None if it draws nothing."""
    volts = wiring.rig.trailer.nominal_v
    if function == "brake" and tester.brake_ohm is not None:
        return Ohmic(tester.brake_ohm)
    if function in CHARGE and tester.charge_a is not None:
        return Ohmic(volts / tester.charge_a)
    if tester.lamp_w is not None:
        return law_of(Bulb("P21W", "single"), volts)
    if tester.led_a is not None:
        return law_of(Led(LED_FORM, tester.led_a, LED_AT_V * volts / 12.0), volts)
    return None


def _breakaway(rig: Rig) -> tuple[Element, ...]:
    """The trailer's own battery onto its brakes, at the junction. Its wires are left out."""
    kit = rig.trailer.breakaway
    if kit is None or not has_breakaway(rig):
        return ()
    cells = rig.trailer.nominal_v / 12.0
    ohm = cells * chemistry("agm").resistance_ohm(kit.capacity_ah, charging=False)
    home = junction_node(return_of(rig, "brake"))
    return (
        Source(BREAKAWAY, "breakaway_plus", home, cells * emf_v("agm", 1.0), ohm),
        Switch(BREAKAWAY_SWITCH, "breakaway_plus", junction_node("brake"), LEAST_OHM, False),
    )
