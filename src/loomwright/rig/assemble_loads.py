"""The trailer's loads from what was written: lamps, brakes, battery, appliances."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from loomwright.quantities import (
    read_capacity_ah,
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_power_w,
    read_share,
    read_voltage_v,
)
from loomwright.reference.defaults import Variant, default, default_for
from loomwright.rig.assemble_lights import lamp_kinds_of, light_colour_of, light_from
from loomwright.rig.assemble_wires import Usual, wire_from
from loomwright.rig.fill import Fill
from loomwright.rig.job_part import JobBranch
from loomwright.rig.job_trailer import (
    JobAppliance,
    JobBattery,
    JobBrake,
    JobBreakaway,
    JobLamp,
    JobTrailer,
)
from loomwright.rig.known import CHEMISTRY_WORDS
from loomwright.rig.model import (
    Appliance,
    Brake,
    Breakaway,
    HouseBattery,
    Lamp,
    Side,
    Wire,
)
from loomwright.rig.words import NOTHING

MM_PER_IN = 25.4


@dataclass(frozen=True, slots=True)
class Yard:
    """What every load of a trailer is filled in by."""

    fill: Fill
    variant: Variant | None
    nominal_v: float
    farthest_m: float

    def back_m(self, path: str, written: JobBranch | JobBreakaway) -> float:
        """Return how far behind the junction it is: at the farthest lamp, if not said."""
        if written.back is not None:
            return read_length_m(written.back)
        text = f"{self.farthest_m:.3f} m"
        return read_length_m(
            self.fill.derive(f"{path}.back", text, "as far back as the farthest load written down")
        )

    def ends(self, path: str, kind: str, written: JobBranch) -> tuple[Wire, Wire, str]:
        """Return branch, ground wire and joint of a load."""
        fill, variant = self.fill, None if self.variant == "flat" else self.variant
        branch = wire_from(
            fill, f"{path}.branch", written.branch, Usual.of("branch", kind, variant)
        )
        ground = wire_from(
            fill, f"{path}.ground", written.ground, Usual.of("branch", kind, variant, "ground_")
        )
        joint = fill.text(
            f"{path}.joint", written.joint, default_for("branch", kind, "joint", variant)
        )
        return branch, ground, joint


def farthest_m(job: JobTrailer) -> float:
    """Return how far behind the junction the farthest load is. [m]"""
    loads: list[JobBranch | JobBreakaway] = [*job.lamps, *job.brakes, *job.appliances]
    loads += [load for load in (job.battery, job.breakaway) if load is not None]
    return max((read_length_m(load.back) for load in loads if load.back is not None), default=0.0)


def lamps_from(yard: Yard, job: JobTrailer) -> Iterator[Lamp]:
    """Yield the lamps; `sides` makes a pair."""
    for number, written in enumerate(job.lamps, start=1):
        path = f"trailer.lamp[{number}]"
        name = written.name or f"lamp {number}"
        if written.sides is None:
            usual = "on neither side, since no side was written down"
            side = written.side or yard.fill.derive(f"{path}.side", "centre", usual)
            yield _lamp(yard, path, written, name, side)
        else:
            for side in dict.fromkeys(written.sides):
                yield _lamp(yard, path, written, f"{side} {name}", side)


def _lamp(yard: Yard, path: str, written: JobLamp, name: str, side: str) -> Lamp:
    back_m = yard.back_m(path, written)
    branch, ground, joint = yard.ends(path, "lamp", written)
    functions = tuple(written.lights)
    counts_as = written.counts_as
    if counts_as is None:
        share = back_m / yard.farthest_m if yard.farthest_m > 0 else 1.0
        counts_as = lamp_kinds_of(functions, share)
        said = ", ".join(counts_as) or "no lamp of the rules"
        yard.fill.derive(f"{path}.counts_as", said, "by what lights it and where it is")
    return Lamp(
        name=name,
        side=cast("Side", side),
        back_m=back_m,
        lights=tuple(
            light_from(yard.fill, f"{path}.lights.{function}", function, text, yard.nominal_v)
            for function, text in written.lights.items()
        ),
        counts_as=counts_as,
        branch=branch,
        ground=ground,
        joint=joint,
        colour=written.colour or _colour(yard.fill, path, functions, counts_as),
        height_m=None if written.height is None else read_length_m(written.height),
    )


def _colour(fill: Fill, path: str, functions: tuple[str, ...], counts_as: tuple[str, ...]) -> str:
    colour = light_colour_of(functions, counts_as)
    return fill.derive(f"{path}.colour", colour, "usual for the lamps it counts as")


def brakes_from(yard: Yard, job: JobTrailer) -> Iterator[Brake]:
    """Yield both magnets of each axle."""
    for number, written in enumerate(job.brakes, start=1):
        path = f"trailer.brake[{number}]"
        axle = written.axle or number
        for side in ("left", "right"):
            yield _brake(yard, path, written, axle, side)


def _brake(yard: Yard, path: str, written: JobBrake, axle: int, side: str) -> Brake:
    branch, ground, joint = yard.ends(path, "brake", written)
    usual = default("brake.size_in")
    size_in = (
        read_diameter_mm(written.size) / MM_PER_IN
        if written.size is not None
        else float(yard.fill.text(f"{path}.size", None, usual))
    )
    return Brake(
        name=f"{side} brake, axle {axle}",
        axle=axle,
        side=cast("Side", side),
        back_m=yard.back_m(path, written),
        size_in=round(size_in, 6),
        branch=branch,
        ground=ground,
        joint=joint,
    )


def battery_from(yard: Yard, written: JobBattery) -> HouseBattery:
    """Return the trailer's own battery."""
    fill, path = yard.fill, "trailer.battery"
    branch, ground, joint = yard.ends(path, "battery", written)
    chemistry = fill.text(f"{path}.chemistry", written.chemistry, default("battery.chemistry"))
    charger = written.charger
    limit = None if charger is None else charger.limit
    return HouseBattery(
        name=written.name or "trailer battery",
        function=fill.text(f"{path}.function", written.function, default("battery.function")),
        chemistry=CHEMISTRY_WORDS.get(chemistry, chemistry),
        capacity_ah=read_capacity_ah(
            fill.text(f"{path}.capacity", written.capacity, default("battery.capacity"))
        ),
        charge_share=read_share(
            fill.text(f"{path}.charge", written.charge, default("battery.charge_share"))
        ),
        back_m=yard.back_m(path, written),
        branch=branch,
        ground=ground,
        joint=joint,
        charger_power_w=None if charger is None else read_power_w(charger.power),
        charger_max_input_a=None if limit is None else read_current_a(limit),
    )


def appliances_from(yard: Yard, job: JobTrailer) -> Iterator[Appliance]:
    """Yield the other loads."""
    for number, written in enumerate(job.appliances, start=1):
        path = f"trailer.appliance[{number}]"
        yield _appliance(yard, path, written, written.name or f"appliance {number}")


def _appliance(yard: Yard, path: str, written: JobAppliance, name: str) -> Appliance:
    fill = yard.fill
    branch, ground, joint = yard.ends(path, "appliance", written)
    at = default("appliance.24.at_v" if yard.nominal_v > 18 else "appliance.at_v")
    law = fill.text(f"{path}.law", written.law, default("appliance.law"))
    return Appliance(
        name=name,
        function=fill.text(f"{path}.function", written.function, default("appliance.function")),
        law="constant-power" if law == "constant-power" else "resistance",
        power_w=read_power_w(written.power),
        at_v=read_voltage_v(fill.text(f"{path}.at", written.at, at)),
        back_m=yard.back_m(path, written),
        branch=branch,
        ground=ground,
        joint=joint,
    )


def breakaway_from(yard: Yard, written: JobBreakaway) -> Breakaway:
    """Return the breakaway battery."""
    fill, path = yard.fill, "trailer.breakaway"
    charged_by = fill.text(
        f"{path}.charged_by", written.charged_by, default("breakaway.charged_by")
    )
    return Breakaway(
        capacity_ah=read_capacity_ah(
            fill.text(f"{path}.capacity", written.capacity, default("breakaway.capacity"))
        ),
        charged_by="" if charged_by == NOTHING else charged_by,
        back_m=read_length_m(fill.text(f"{path}.back", written.back, default("breakaway.back"))),
    )
