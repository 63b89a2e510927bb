"""What the trailer's loads take at their rating, by function: to size a converter or a feed."""

from __future__ import annotations

from collections import defaultdict

from loomwright.hookup.schemes import may_join
from loomwright.reference.brakes import magnet
from loomwright.reference.functions import function
from loomwright.reference.lamps import lamp
from loomwright.rig.model import Bulb, Light, Trailer


def light_current_a(light: Light, system_v: float) -> float:
    """Rated current of one light source on a 12 or 24 V system. [A]"""
    if isinstance(light.source, Bulb):
        bulb = lamp(light.source.key, int(system_v))
        return bulb.filaments[light.source.filament].rated_a
    return light.source.current_a


def demand_a(trailer: Trailer) -> dict[str, float]:
    """Sum of rated currents on each function of the trailer. [A]

    Lamps at their design current, magnets cold at nominal voltage, appliances at their rating;
    a battery is left out, since its current depends on the wiring.
    """
    total: defaultdict[str, float] = defaultdict(float)
    for housing in trailer.lamps:
        for light in housing.lights:
            total[light.function] += light_current_a(light, trailer.nominal_v)
    for brake in trailer.brakes:
        total["brake"] += trailer.nominal_v / magnet(brake.size_in).resistance_20_ohm
    for appliance in trailer.appliances:
        total[appliance.function] += appliance.power_w / appliance.at_v
    return dict(total)


def used_functions(trailer: Trailer) -> frozenset[str]:
    """Functions that some load of the trailer needs."""
    used = set(demand_a(trailer))
    if trailer.battery is not None:
        used.add(trailer.battery.function)
    if trailer.breakaway is not None and trailer.breakaway.charged_by:
        used.add(trailer.breakaway.charged_by)
    return frozenset(used)


def needs_function(trailer: Trailer, key: str) -> bool:
    """Whether some load of the trailer is fed, or brought home, by a conductor of this function."""
    used = used_functions(trailer)
    return function(key).is_return or any(may_join(key, each) for each in used)
