"""The state of everything but the driver: supply, warmth, age. Four sets bound what can be met."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.electrics.stated import stated_c
from loomwright.rig.model import Rig, Supply

Age = Literal["new", "aged"]


@dataclass(frozen=True, slots=True)
class Conditions:
    """One set of conditions: EMF of the supply [V], warmth [°C], age of contacts and fuses."""

    key: str
    title: str
    says: str
    emf_v: float
    engine_running: bool
    wire_c: float
    magnet_c: float
    contacts: Age
    fuses: Literal["cold", "hot"]


def conditions_for(rig: Rig) -> tuple[Conditions, ...]:
    """Return the four sets of conditions a rig is solved under, nominal first."""
    supply, age = rig.vehicle.supply, rig.trailer.condition
    mild_wire_c, mild_magnet_c = (
        stated_c("temperature.wire.nominal"),
        stated_c("temperature.magnet.nominal"),
    )
    return (
        Conditions(
            "nominal",
            "normal running",
            "engine running, mild weather, contacts as old as the trailer",
            supply.running_v,
            True,
            mild_wire_c,
            mild_magnet_c,
            age,
            "cold",
        ),
        Conditions(
            "dim",
            "least light and braking",
            "idling or lowest charging voltage, hot wire, hot magnets, aged contacts",
            lowest_running_v(supply),
            True,
            stated_c("temperature.wire.hot"),
            stated_c("temperature.magnet.hot"),
            "aged",
            "hot",
        ),
        Conditions(
            "heavy",
            "largest currents",
            "highest charging voltage, frost, new contacts",
            supply.high_v,
            True,
            stated_c("temperature.wire.cold"),
            stated_c("temperature.magnet.cold"),
            "new",
            "cold",
        ),
        Conditions(
            "engine-off",
            "engine off",
            "rested battery, mild weather, contacts as old as the trailer",
            supply.resting_v,
            False,
            mild_wire_c,
            mild_magnet_c,
            age,
            "cold",
        ),
    )


def lowest_running_v(supply: Supply) -> float:
    """Return the lowest EMF with the engine running. [V]"""
    return min(supply.idle_v, supply.low_v)
