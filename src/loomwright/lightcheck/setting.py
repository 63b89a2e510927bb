"""What a light check is made under: engine, battery, air. It stands still, so nothing is hot."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.electrics.commands import Command
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.stated import stated_c, stated_v
from loomwright.invalid import InvalidInput, raise_all
from loomwright.reference.batteries import emf_v
from loomwright.reference.testers import find_tester
from loomwright.rig.model import Rig

Engine = Literal["off", "running"]

LEAST_SHARE, MOST_SHARE = 0.75, 1.3
"""Of the nominal volts: 9 to 15.6 V of 12, below which nothing starts and above which it boils."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What is known before the check begins.

    Attributes
    ----------
    engine : {"off", "running"}
        Whether the engine runs while lamps and brakes are looked at. The charge line is always
        read with it running.
    battery_v : float or None
        What a meter shows at the battery with the engine in that state; makes the bands
        narrower. [V]
    air_c : float or None
        Temperature of the air, and so of wires and cold brakes. [°C]
    """

    engine: Engine = "off"
    battery_v: float | None = None
    air_c: float | None = None

    def __post_init__(self) -> None:
        problems = []
        if self.engine not in ("off", "running"):
            problems.append(InvalidInput("engine", self.engine, "say off or running"))
        if self.battery_v is not None and not 6.0 <= self.battery_v <= 32.0:
            fix = "give the volts at the battery, 6 to 32"
            problems.append(InvalidInput("battery_v", self.battery_v, fix))
        if self.air_c is not None and not -40.0 <= self.air_c <= 60.0:
            fix = "give the temperature of the air, -40 to 60 °C"
            problems.append(InvalidInput("air_c", self.air_c, fix))
        raise_all(problems, "setting")

    def check(self, rig: Rig) -> None:
        """Refuse a battery that is none of this rig's system.

        Parameters
        ----------
        rig : Rig
            The rig.

        Raises
        ------
        InvalidInput
            If the volts are of another system.
        """
        nominal_v = rig.vehicle.supply.nominal_v
        low, high = LEAST_SHARE * nominal_v, MOST_SHARE * nominal_v
        if self.battery_v is not None and not low <= self.battery_v <= high:
            fix = f"give {low:g} to {high:g} V: this vehicle has {nominal_v:g} V"
            raise InvalidInput("battery_v", self.battery_v, fix)

    def runs(self, command: Command) -> bool:
        """Whether the engine runs under a command: in reverse never, people stand behind."""
        if command.key == "charge":
            return True
        return self.engine == "running" and command.key not in ("rest", "reverse")

    def supply_v(self, rig: Rig, *, running: bool) -> tuple[float, float, float]:
        """Return the lowest, nominal and highest EMF of the supply. [V]

        Parameters
        ----------
        rig : Rig
            The rig.
        running : bool
            Whether the engine runs.
        """
        if self.battery_v is not None and running == (self.engine == "running"):
            off = find_tester("meter").off_by(self.battery_v, "V")
            return self.battery_v - off, self.battery_v, self.battery_v + off
        if not running:
            return _resting_v(rig)
        known = {each.key: each for each in conditions_for(rig)}
        now = known["nominal"].emf_v
        low = known["dim"].emf_v if "dim" in known else now
        high = known["heavy"].emf_v if "heavy" in known else now
        return min(low, now), now, max(high, now)

    def air_range_c(self) -> tuple[float, float]:
        """Return the coldest and warmest air the check may be made in. [°C]"""
        if self.air_c is not None:
            return self.air_c - 3.0, self.air_c + 3.0
        return stated_c("light_check.air.low"), stated_c("light_check.air.high")


def _resting_v(rig: Rig) -> tuple[float, float, float]:
    """From half charged to full with the surface charge of the drive still on it."""
    supply = rig.vehicle.supply
    cells = supply.nominal_v / 12.0
    full, half = emf_v("flooded", 1.0), emf_v("flooded", 0.5)
    low = supply.resting_v - cells * (full - half)
    return low, supply.resting_v, supply.resting_v + cells * stated_v("light_check.surface")
