"""What brakes, messages, sockets, fuses and the charge line show with a fault, from its form."""

from __future__ import annotations

from collections.abc import Callable

from loomwright.trace import beyond_forms as forms
from loomwright.trace.beyond_ways import Way
from loomwright.trace.beyond_words import Belief, mixed
from loomwright.trace.cases_words import Spot

AT_REST = frozenset({"rest", "key_on", "plug_in", "unplugged", "charge", "park"})
BRAKING = frozenset({"brake_pedal", "brake_lever", "rolling", "bump", "any", "breakaway", "rain"})
SHARED_GROUND = (
    "vehicle.ground",
    "vehicle.harness",
    "vehicle.socket",
    "coupling",
    "trailer.plug",
    "trailer.cord",
    "trailer.junction_box",
    "trailer.ground",
)
"""Where a return is that lamps and brakes share."""

ONE_OF_ALL = 0.3
"""How far one dead circuit is told as a dead socket."""

FREE: Belief = {"normal": 0.6, "off": 0.4}
NORMAL: Belief = {"normal": 1.0}
LATENT = forms.SHORT | forms.SHORT_AT_TIMES | forms.POOR | forms.LOOSE
SIGNALS = frozenset({"left", "right", "signal"})


def healthy(command: str, spot: Spot) -> Belief:
    """Return what a healthy rig shows at any place but a lamp of the trailer."""
    if spot.part == "brakes":
        return NORMAL if command in BRAKING else FREE
    if spot.part == "truck lamp":
        return _truck_lamp(command, spot)
    if spot.part in ("socket", "cord"):
        return _live(command, spot)
    return AS_USUAL.get(spot.part, NORMAL)


def by_form(way: Way, command: str, spot: Spot) -> Belief | None:
    """Return what a fault's form does there, or None if it does nothing."""
    tell = TELLERS.get(spot.part)
    return None if tell is None else tell(way, command, spot)


def _brakes(way: Way, command: str, spot: Spot) -> Belief | None:
    if way.form == "stuck_on" and way.circuit == "brake":
        return forms.BRAKING["stuck_on"]
    if command not in BRAKING:
        return None
    if way.circuit == "ground":
        return forms.GROUND_BRAKING.get(way.form) if _shares_return(way) else None
    if way.circuit != "brake" or way.kind.place == "trailer.breakaway":
        return None
    if way.reach == "all":
        return forms.BRAKING.get(way.form)
    return _one_brake(way, spot)


def _one_brake(way: Way, spot: Spot) -> Belief | None:
    at_it = forms.BRAKING.get(way.form, NORMAL)
    if spot.side:
        return at_it if spot.side == way.side else NORMAL
    if spot.name in ("one", "axle1", "axle2"):
        return mixed((0.6, at_it), (0.4, NORMAL))
    return forms.ONE_BRAKE.get(way.form)


def _shares_return(way: Way) -> bool:
    """Whether brakes come home through the ground that is at fault."""
    place = way.kind.place
    not_brakes = place in ("trailer.ground.frame", "trailer.ground.lamp")
    return place.startswith(SHARED_GROUND) and not not_brakes


def _hub(way: Way, command: str, spot: Spot) -> Belief | None:
    if command not in BRAKING:
        return None
    if way.form == "stuck_on" and way.circuit == "brake":
        return {"hot": 0.9, "normal": 0.1}
    if way.circuit != "brake" or way.reach != "one" or not spot.side:
        return None
    at_it = spot.side == way.side
    if way.form == "low_resistance":
        return {"hot": 0.7, "normal": 0.3} if at_it else None
    return {"normal": 0.95, "hot": 0.05} if at_it else {"hot": 0.5, "normal": 0.5}


def _message(way: Way, command: str, _: Spot) -> Belief | None:
    if way.circuit == "ground":
        found = forms.GROUND_MESSAGE.get(way.form) if _shares_return(way) else None
    elif way.circuit == "brake" and way.kind.place != "trailer.breakaway":
        table = forms.MESSAGE if way.reach == "all" else forms.ONE_MESSAGE
        found = table.get(way.form)
    else:
        return None
    if found is not None and command in AT_REST and way.form in LATENT:
        return mixed((0.35, found), (0.65, forms.QUIET))
    return found


def _cluster(way: Way, command: str, spot: Spot) -> Belief | None:
    """A dash says less exactly what a controller says, and not on every vehicle."""
    found = _message(way, command, spot)
    if found is None:
        lamp = way.circuit in ("tail", "left", "right", "stop", "ground")
        return mixed((0.2, {"fault": 1.0}), (0.8, forms.QUIET)) if lamp else None
    vague = {
        "fault": found.get("fault", 0.0) + 0.5 * found.get("overload", 0.0),
        "overload": 0.5 * found.get("overload", 0.0),
        "no_trailer": found.get("no_trailer", 0.0),
    }
    kept = {word: share for word, share in vague.items() if share > 0}
    return mixed((0.6, kept), (0.4, forms.QUIET)) if kept else None


def _charge(way: Way, _: str, spot: Spot) -> Belief | None:
    if way.circuit == "charge":
        found = forms.CHARGING.get(way.form)
    elif way.circuit == "ground" and way.half != "trailer":
        found = mixed((0.5, forms.CHARGING.get(way.form, NORMAL)), (0.5, NORMAL))
    else:
        return None
    if spot.part == "charge" or found is None:
        return found
    return _uncharged(found) if spot.name in ("battery", "breakaway") else None


def _uncharged(charge: Belief) -> Belief:
    """What a battery shows in time that is charged so."""
    less = charge.get("off", 0.0) + 0.5 * charge.get("weak", 0.0)
    return {"flat": 0.7 * less, "weak": 0.2 * less, "normal": 1.0 - 0.9 * less}


def _fuse(way: Way, _: str, spot: Spot) -> Belief | None:
    if not _is_circuit(way.circuit, spot.name):
        return None
    if way.kind.place == "vehicle.fuse" and way.form == "open":
        return {"blown": 0.93, "whole": 0.07}
    return forms.FUSE.get(way.form)


def _socket(way: Way, command: str, spot: Spot) -> Belief | None:
    """At the vehicle's socket; at the cord, faults of the coupling show as well."""
    fine = _live(command, spot)
    if spot.name == "voltage":
        return _unloaded(way)
    touched = _is_circuit(way.circuit, spot.name) or way.circuit == "ground"
    if spot.side and way.side and spot.side != way.side:
        touched = False
    if not touched or (fine.get("off", 0.0) > 0.5 and spot.name != "ground"):
        return None
    if way.half == "vehicle" or (spot.part == "cord" and way.half == "coupling"):
        table = forms.GROUND_LIT if way.circuit == "ground" else forms.CHARGING
        found = table.get(way.form)
        share = ONE_OF_ALL if spot.name == "all" and way.circuit != "ground" else 0.9
        return None if found is None else mixed((share, found), (1.0 - share, fine))
    if way.form in forms.SHORT | forms.SHORT_AT_TIMES:
        return mixed((0.5, {"off": 1.0}), (0.5, fine))
    return None


def _unloaded(way: Way) -> Belief | None:
    """What a meter without load reads: a poor joint reads right."""
    if way.half != "vehicle":
        return None
    if way.form in forms.POOR | forms.LOOSE:
        return {"normal": 0.75, "weak": 0.15, "off": 0.1}
    return {"normal": 0.3, "off": 0.5, "weak": 0.2}


def _live(command: str, spot: Spot) -> Belief:
    if spot.name == "ground" or spot.name in ("voltage", "all"):
        return NORMAL
    if spot.name == "charge":
        certain = command in ("charge", "any", "rolling")
        return NORMAL if certain else {"normal": 0.55, "off": 0.45}
    if command in AT_REST and not (command == "park" and spot.name == "tail"):
        return {"off": 1.0}
    return {"normal": 0.9, "flashing": 0.1}


def _truck_lamp(command: str, spot: Spot) -> Belief:
    if spot.name == "other":
        return {"off": 0.7, "normal": 0.3}
    acts = set(command.split("+"))
    if spot.name in ("signal", "all") and acts & {"left", "right", "hazard"}:
        return {"flashing": 0.7, "normal": 0.3}
    lit = {
        "tail": {"park"},
        "marker": {"park"},
        "stop": {"brake_pedal"},
        "signal": {"left", "right", "hazard", "brake_pedal"},
        "reverse": {"reverse"},
        "fog": {"fog"},
    }
    on = spot.name == "all" or "any" in acts or bool(acts & lit.get(spot.name, set()))
    return NORMAL if on else {"off": 0.9, "normal": 0.1}


def _is_circuit(circuit: str, name: str) -> bool:
    """Whether a circuit is the one a socket's pin or a fuse is named for."""
    if name in ("all", circuit):
        return True
    if circuit in ("left", "right"):
        return name in SIGNALS
    return circuit == "stop" and name == "signal"


AS_USUAL: dict[str, Belief] = {
    "hub": {"normal": 0.85, "hot": 0.15},
    "controller": forms.QUIET,
    "cluster": forms.QUIET,
    "fuse": forms.WHOLE,
}
"""What a healthy rig shows at places where it hardly depends on the command."""

Teller = Callable[[Way, str, Spot], "Belief | None"]
TELLERS: dict[str, Teller] = {
    "brakes": _brakes,
    "hub": _hub,
    "controller": _message,
    "cluster": _cluster,
    "charge": _charge,
    "trailer part": _charge,
    "fuse": _fuse,
    "socket": _socket,
    "cord": _socket,
}
"""For each part of a rig, what tells of it."""
