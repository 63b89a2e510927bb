"""What the driver does, and which functions that calls for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from loomwright.invalid import InvalidInput
from loomwright.rig.model import Braking, Live, Rig

PARK = ("tail", "tail_left", "tail_right", "clearance")
LEFT = ("left_turn", "left_stop_turn")
RIGHT = ("right_turn", "right_stop_turn")
STOP = ("stop", "left_stop_turn", "right_stop_turn")
BRAKE = ("brake",)


@dataclass(frozen=True, slots=True)
class Command:
    """One thing the driver does.

    `functions` names what it calls for in both signal systems: a rig has the one or the other.
    Turn signals are taken in their lit half. `engine_running` is what it takes for granted;
    conditions with a stopped engine overrule it.
    """

    key: str
    title: str
    functions: tuple[str, ...] = ()
    engine_running: bool = True

    @property
    def flashing(self) -> tuple[str, ...]:
        """Functions that flash under it, where it says so: not under everything at once."""
        sides = {"left": LEFT, "right": RIGHT, "hazard": LEFT + RIGHT}
        return tuple(f for act in self.acts for f in sides.get(act, ()))

    @property
    def acts(self) -> tuple[str, ...]:
        """The single actions that make up a command: ``park+left`` is park and left."""
        return tuple(self.key.split("+"))


def _joined(*commands: Command) -> Command:
    return Command(
        "+".join(each.key for each in commands),
        " and ".join(each.title for each in commands),
        tuple(dict.fromkeys(f for each in commands for f in each.functions)),
    )


_PARK = Command("park", "park lamps", PARK)
_LEFT = Command("left", "left signal", LEFT)
_PEDAL = Command("brake_pedal", "brake pedal", STOP + BRAKE)

COMMANDS = (
    Command("rest", "everything off", engine_running=False),
    _PARK,
    _LEFT,
    Command("right", "right signal", RIGHT),
    _PEDAL,
    Command("hazard", "hazard signals", LEFT + RIGHT),
    Command("reverse", "reverse gear", ("reverse",)),
    Command("fog", "rear fog lamps", ("fog",)),
    Command("brake_lever", "brake lever of the controller", BRAKE),
    _joined(_PARK, _LEFT),
    _joined(_PARK, _PEDAL),
    Command("charge", "engine running, lamps off"),
    Command(
        "all",
        "everything at once",
        tuple(dict.fromkeys((*PARK, *LEFT, *RIGHT, *STOP, *BRAKE, "reverse", "fog", "worklight"))),
    ),
)
"""Every command, simple ones first."""

WORDS = {
    "off": "rest",
    "nothing": "rest",
    "parking": "park",
    "tail": "park",
    "tails": "park",
    "running": "park",
    "marker": "park",
    "position": "park",
    "turn": "",
    "and": "",
    "with": "",
    "at": "",
    "once": "",
    "signal": "",
    "signals": "",
    "lamp": "",
    "lamps": "",
    "lights": "",
    "gear": "",
    "the": "",
    "flashers": "hazard",
    "hazards": "hazard",
    "pedal": "brake_pedal",
    "brake": "brake_pedal",
    "brakes": "brake_pedal",
    "stop": "brake_pedal",
    "lever": "brake_lever",
    "manual": "brake_lever",
    "controller": "brake_lever",
    "reversing": "reverse",
    "backup": "reverse",
    "charging": "charge",
    "engine": "charge",
    "everything": "all",
}
"""What people say for an action; the empty ones add nothing."""


def commands_for(rig: Rig) -> tuple[Command, ...]:
    """Return the commands that can show something on this rig."""
    known = _functions_of(rig)
    shown = [each for each in COMMANDS if _applies(each, rig, known)]
    return tuple(_with_stop_lamps(each, rig) for each in shown)


def find_command(text: str, among: Iterable[Command] = COMMANDS) -> Command:
    """Return the command a person means by `park+brake pedal`, `stop`, `left and park` ...

    Raises
    ------
    InvalidInput
        If nothing among the commands matches; lists their keys.
    """
    candidates = tuple(among)
    for each in candidates:
        if text.strip().casefold() in (each.key, each.title):
            return each
    wanted = _acts_said(text)
    for each in candidates:
        if frozenset(each.acts) == wanted:
            return each
    raise InvalidInput("command", text, "use one of " + ", ".join(each.key for each in candidates))


def _acts_said(text: str) -> frozenset[str]:
    for mark in "_-+,&":
        text = text.replace(mark, " ")
    acts = {WORDS.get(word, word) for word in text.casefold().split()} - {""}
    if "rest" in acts:
        return frozenset({"rest"})
    if "brake_lever" in acts:
        acts.discard("brake_pedal")
    return frozenset(acts)


def _functions_of(rig: Rig) -> frozenset[str]:
    fed = {feed.function for feed in rig.vehicle.feeds}
    led = {wire.function for socket in rig.sockets for wire in socket.lead}
    lit = {light.function for lamp in rig.trailer.lamps for light in lamp.lights}
    return frozenset(fed | led | lit)


def _applies(command: Command, rig: Rig, known: frozenset[str]) -> bool:
    match command.key:
        case "reverse" | "fog" as function:
            return function in known
        case "brake_lever":
            has_magnets = rig.trailer.braking in (Braking.ELECTRIC, Braking.ELECTRIC_OVER_HYDRAULIC)
            return rig.vehicle.brake_controller is not None or has_magnets
        case "charge":
            return any(feed.live is not Live.COMMAND for feed in rig.vehicle.feeds)
        case _:
            return True


def _with_stop_lamps(command: Command, rig: Rig) -> Command:
    """Add the stop lamps to the lever, where the controller lights them."""
    controller = rig.vehicle.brake_controller
    if command.key != "brake_lever" or controller is None:
        return command
    if not controller.lever_lights_stop_lamps:
        return command
    return replace(command, functions=BRAKE + STOP)
