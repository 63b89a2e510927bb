"""The trailer's loads with their branches: lamps, brake magnets, battery, appliances.

The breakaway battery is left out: its trickle charge of some 0.1 A moves no reading here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from math import inf

from loomwright.circuit import ConstantPower, Element, Law, Load, Ohmic, Source
from loomwright.electrics.answers import LoadKind
from loomwright.electrics.carriers import carrier
from loomwright.electrics.harness import Ends, Harness, Spot, slug
from loomwright.electrics.lights import LightAt, add_light
from loomwright.electrics.mating import cord_functions, feeds_behind, return_of
from loomwright.electrics.places import LoadPlace
from loomwright.electrics.stated import stated_v
from loomwright.electrics.trailer_side import Drop, add_branch, add_runs, add_way_home
from loomwright.reference.batteries import chemistry, emf_v
from loomwright.reference.brakes import magnet
from loomwright.rig.model import Appliance, Brake, Bulb, HouseBattery, Lamp, Rig, Side

HOLDER_SHARE = 0.5
"""The table's bulb holder counts supply and shell together: half of it lies at each."""


@dataclass(frozen=True, slots=True)
class Hung:
    """A load other than a lamp, and how it hangs on the run; `key` names its elements."""

    key: str
    kind: LoadKind
    function: str
    drop: Drop
    spot: Spot
    make: Callable[[str, str, str], Element]


def add_loads(bench: Harness, rig: Rig) -> None:
    """Lay the runs and hang every load of the trailer on them."""
    drops = {lamp: _lamp_drops(rig, lamp) for lamp in rig.trailer.lamps}
    others = [*_brakes(bench, rig), *_battery(rig), *_appliances(rig)]
    add_runs(bench, rig, (*(d for each in drops.values() for d in each), *(h.drop for h in others)))
    feeds = feeds_behind(rig)
    for lamp, lamp_drops in drops.items():
        _add_lamp(bench, rig, lamp, lamp_drops, feeds)
    for hung in others:
        _hang(bench, rig, hung, feeds)


def _drop(
    rig: Rig,
    load: Lamp | Brake | HouseBattery | Appliance,
    function: str,
    ref: str,
    side: Side = "centre",
) -> Drop:
    carried_by = carrier(function, cord_functions(rig), side)
    return Drop(
        load.name,
        ref,
        carried_by,
        return_of(rig, carried_by) if carried_by else "ground",
        load.back_m,
        load.branch,
        load.ground,
        load.joint,
    )


def _lamp_drops(rig: Rig, lamp: Lamp) -> tuple[Drop, ...]:
    ref = f"trailer.lamp.{lamp.name}"
    return tuple(_drop(rig, lamp, light.function, ref, lamp.side) for light in lamp.lights)


def _add_lamp(
    bench: Harness, rig: Rig, lamp: Lamp, drops: tuple[Drop, ...], feeds: Mapping[str, str | None]
) -> None:
    """A housing: a branch for each light, and one ground they share."""
    key, ground = slug("lamp", lamp.name), slug("lamp", lamp.name, "ground")
    shell = slug("lamp", lamp.name, "shell")
    place = f"{lamp.name} lamp"
    for light, light_key, drop in zip(lamp.lights, _light_keys(lamp), drops, strict=True):
        name = light_key.removeprefix("lamp_").replace("_", " ")
        spot = Spot("supply", "branch", light.function, f"{drop.ref}.{light.function}")
        supply = slug(light_key, "supply")
        held = isinstance(light.source, Bulb)
        if drop.carried_by is not None:
            end = add_branch(bench, drop, light_key, f"{place}, {_said(light.function)}", spot)
            kind = "bulb-holder" if held else "soldered"
            _add_holder(bench, slug(light_key, "holder"), (end, supply), kind, spot)
        fed = feeds.get(drop.carried_by or "")
        home = shell if held else ground
        at = LightAt(light_key, name, "lamp", supply, home, rig.trailer.nominal_v, fed)
        add_light(bench, light, at, spot.at("load"))
    if any(isinstance(light.source, Bulb) for light in lamp.lights):
        at_shell = Spot("return", "branch", drops[0].returned_by, f"{drops[0].ref}.ground")
        _add_holder(bench, slug(key, "shell_contact"), (shell, ground), "bulb-holder", at_shell)
    add_way_home(bench, rig, drops[0], key, start=ground, place=place)


def _add_holder(bench: Harness, name: str, ends: Ends, kind: str, spot: Spot) -> None:
    """The contact of a bulb holder; an LED lamp has soldered tails instead."""
    share = HOLDER_SHARE if kind == "bulb-holder" else 1.0
    lamp = spot.ref.split(".")[2]
    words = f"{kind.replace('-', ' ')} contact of the {lamp} lamp, {_said(spot.function)}"
    bench.joint(name, ends, kind, words, spot, share=share)


def _light_keys(lamp: Lamp) -> list[str]:
    """Names of the lights' elements: lamp and function, numbered where that is not enough."""
    seen: Counter[str] = Counter()
    keys = []
    for light in lamp.lights:
        seen[light.function] += 1
        again = seen[light.function] if seen[light.function] > 1 else None
        keys.append(slug("lamp", lamp.name, light.function, again))
    return keys


def _hang(bench: Harness, rig: Rig, hung: Hung, feeds: Mapping[str, str | None]) -> None:
    """Branch, load and ground wire of a load other than a lamp."""
    drop, name = hung.drop, hung.drop.name
    supply, ground = slug(hung.key, "supply"), slug(hung.key, "ground")
    if drop.carried_by is not None:
        supply = add_branch(bench, drop, hung.key, name, hung.spot)
    element = hung.make(hung.key, supply, ground)
    bench.add(element, "load", name, hung.spot.at("load"))
    add_way_home(bench, rig, drop, hung.key, start=ground, place=name)
    fed = feeds.get(drop.carried_by or "")
    gives = isinstance(element, Source)
    bench.loads.append(
        LoadPlace(name, hung.kind, hung.function, hung.key, supply, ground, fed, gives=gives)
    )


def _brakes(bench: Harness, rig: Rig) -> Iterator[Hung]:
    for load in rig.trailer.brakes:
        law = Ohmic(magnet(load.size_in).resistance_ohm(bench.conditions.magnet_c))
        ref = f"trailer.brake.{load.name}"
        yield Hung(
            slug("brake", load.name),
            "brake",
            "brake",
            _drop(rig, load, "brake", ref),
            Spot("supply", "branch", "brake", ref),
            partial(_load, law=law),
        )


def _battery(rig: Rig) -> Iterator[Hung]:
    """A battery works both ways, unless a charger stands before it.

    Both ways it is taken with its charging resistance, so what it gives back is told too low.
    """
    load = rig.trailer.battery
    if load is None:
        return
    ref = "trailer.battery"
    cells = rig.trailer.nominal_v / 12.0
    make: Callable[[str, str, str], Element]
    if load.charger_power_w is not None:
        limit = inf if load.charger_max_input_a is None else load.charger_max_input_a
        off, on = (cells * stated_v(f"charger.{key}_v") for key in ("off_below", "on_above"))
        make = partial(
            ConstantPower,
            power_w=load.charger_power_w,
            off_below_v=off,
            on_above_v=on,
            max_current_a=limit,
        )
    else:
        ohm = cells * chemistry(load.chemistry).resistance_ohm(load.capacity_ah, charging=True)
        emf = cells * emf_v(load.chemistry, load.charge_share)
        make = partial(Source, emf_v=emf, resistance_ohm=ohm)
    yield Hung(
        slug("battery", load.name),
        "battery",
        load.function,
        _drop(rig, load, load.function, ref),
        Spot("supply", "branch", load.function, ref),
        make,
    )


def _appliances(rig: Rig) -> Iterator[Hung]:
    cells = rig.trailer.nominal_v / 12.0
    for load in rig.trailer.appliances:
        ref = f"trailer.appliance.{load.name}"
        make: Callable[[str, str, str], Element]
        if load.law == "resistance":
            make = partial(_load, law=Ohmic(load.at_v**2 / load.power_w))
        else:
            make = partial(
                ConstantPower,
                power_w=load.power_w,
                off_below_v=cells * stated_v("appliance.off_below_v"),
                on_above_v=cells * stated_v("appliance.on_above_v"),
            )
        yield Hung(
            slug("appliance", load.name),
            "appliance",
            load.function,
            _drop(rig, load, load.function, ref),
            Spot("supply", "branch", load.function, ref),
            make,
        )


def _load(name: str, a: str, b: str, law: Law) -> Load:
    return Load(name, a, b, law)


def _said(function: str) -> str:
    return function.replace("_", " ")
