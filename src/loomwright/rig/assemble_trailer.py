"""The trailer from what was written: cord, run, measures, and its loads."""

from __future__ import annotations

from typing import Literal

from loomwright.quantities import (
    WireSize,
    read_length_m,
    read_mass_kg,
    read_resistance_ohm,
    read_voltage_v,
    read_wire_size,
)
from loomwright.reference.connectors import connector
from loomwright.reference.defaults import Default, Variant, default, default_for, defaults
from loomwright.rig.assemble_loads import (
    Yard,
    appliances_from,
    battery_from,
    brakes_from,
    breakaway_from,
    farthest_m,
    lamps_from,
)
from loomwright.rig.assemble_wires import NO_LEAD, LeadPlan, conductors
from loomwright.rig.fill import Fill, variant_of
from loomwright.rig.job_trailer import JobRun, JobTrailer
from loomwright.rig.model import Braking, PinWire, Returns, SignalSystem, Trailer, Vehicle

GROUND = "ground"


def trailer_from(fill: Fill, job: JobTrailer, vehicle: Vehicle, socket_connector: str) -> Trailer:
    """Return the trailer, complete; `socket_connector` is what it plugs into."""
    plug = job.plug or fill.derive("trailer.plug", socket_connector, "fits the towing socket")
    variant = variant_of(plug)
    nominal_v = _nominal_v(fill, job, vehicle)
    yard = Yard(fill, variant, nominal_v, farthest_m(job))
    cord = _cord(fill, job, plug, variant)
    breakaway = job.breakaway
    return Trailer(
        name=job.name or "trailer",
        kind=fill.text("trailer.kind", job.kind, default("trailer.kind")).replace(" ", "_"),
        width_m=read_length_m(fill.text("trailer.width", job.width, default("trailer.width"))),
        length_m=_length_m(fill, job, yard.farthest_m),
        gross_mass_kg=read_mass_kg(
            fill.text("trailer.gross_mass", job.gross_mass, default("trailer.gross_mass"))
        ),
        axles=_axles(fill, job),
        braking=_braking(fill, job),
        nominal_v=nominal_v,
        signals=_signals(fill, job, plug, vehicle.signals),
        plug=plug,
        plug_convention=job.cord.colours if job.cord and job.cord.colours else plug,
        cord=cord,
        junction=fill.text("trailer.junction", job.junction, _usual("junction", variant)),
        returns=Returns(
            fill.text("trailer.returns", job.returns, _usual("trailer.returns", variant))
        ),
        run=_run(fill, job.run or JobRun(), cord, variant),
        frame_resistance_ohm_per_m=read_resistance_ohm(
            fill.text(
                "trailer.frame_per_metre",
                job.frame_per_metre,
                default("frame.resistance_ohm_per_m"),
            )
        ),
        lamps=tuple(lamps_from(yard, job)),
        brakes=tuple(brakes_from(yard, job)),
        battery=None if job.battery is None else battery_from(yard, job.battery),
        appliances=tuple(appliances_from(yard, job)),
        breakaway=None if breakaway is None else breakaway_from(yard, breakaway),
        hitch_path_ohm=None if job.hitch_path is None else read_resistance_ohm(job.hitch_path),
        joined_returns=job.joined_returns or (),
        built=_built(fill, job),
        condition=_condition(fill, job),
    )


def _usual(key: str, variant: Variant | None) -> Default:
    """Return the default of a plain key, the family's own if there is one."""
    own = f"{variant}.{key}"
    return default(own if any(row.key == own for row in defaults()) else key)


def _condition(fill: Fill, job: JobTrailer) -> Literal["new", "aged"]:
    said = fill.text("trailer.condition", job.condition, default("trailer.condition"))
    return "new" if said == "new" else "aged"


def _nominal_v(fill: Fill, job: JobTrailer, vehicle: Vehicle) -> float:
    if job.voltage is not None:
        return read_voltage_v(job.voltage)
    said = f"{vehicle.supply.nominal_v:g} V"
    return read_voltage_v(fill.derive("trailer.voltage", said, "as the vehicle"))


def _length_m(fill: Fill, job: JobTrailer, farthest: float) -> float:
    if job.length is not None or farthest <= 0:
        return read_length_m(fill.text("trailer.length", job.length, default("trailer.length")))
    said = f"{farthest:.3f} m"
    return read_length_m(fill.derive("trailer.length", said, "as far back as the farthest load"))


def _axles(fill: Fill, job: JobTrailer) -> int:
    if job.axles is not None:
        return job.axles
    numbers = [brake.axle or number for number, brake in enumerate(job.brakes, start=1)]
    if numbers:
        said = fill.derive("trailer.axles", str(max(numbers)), "as many as have brakes")
        return int(said)
    return int(fill.text("trailer.axles", None, default("trailer.axles")))


def _braking(fill: Fill, job: JobTrailer) -> Braking:
    if job.braking is not None:
        return Braking(job.braking)
    found = Braking.ELECTRIC if job.brakes else Braking.NONE
    says = "brakes are written down" if job.brakes else "no brakes are written down"
    return Braking(fill.derive("trailer.brakes", found.value, says))


def _signals(fill: Fill, job: JobTrailer, plug: str, vehicle: SignalSystem) -> SignalSystem:
    if job.signals is not None:
        return SignalSystem(job.signals)
    system = connector(plug).system
    if system == "none":
        return SignalSystem(fill.derive("trailer.signals", vehicle.value, "as the vehicle"))
    return SignalSystem(fill.derive("trailer.signals", system, f"as the {plug} connector"))


def _cord(fill: Fill, job: JobTrailer, plug: str, variant: Variant | None) -> tuple[PinWire, ...]:
    written = job.cord or NO_LEAD
    usual = default_for("cord", "other", "length", variant)
    length_m = read_length_m(fill.text("trailer.cord.length", written.length, usual))
    plan = LeadPlan("cord", "trailer.cord", connector(plug), variant, written, length_m)
    return conductors(fill, plan)


def _run(
    fill: Fill, job: JobRun, cord: tuple[PinWire, ...], variant: Variant | None
) -> dict[str, WireSize]:
    """Return the size of each function's conductor behind the junction, the ground's included."""
    functions = dict.fromkeys([*(wire.function for wire in cord), GROUND, *job.conductors])
    family = None if variant == "flat" else variant
    sizes: dict[str, WireSize] = {}
    for function in functions:
        written = job.conductors.get(function, job.size)
        usual = default_for("run", function, "size", family)
        sizes[function] = read_wire_size(fill.text(f"trailer.run.{function}", written, usual))
    return sizes


def _built(fill: Fill, job: JobTrailer) -> str:
    """Return the day it was built; the first one of a year or month written alone."""
    if job.built is None:
        return ""
    first = f"{job.built}-01-01"[:10]
    if first != job.built:
        fill.derive("trailer.built", first, "the first day of what was written")
    return first
