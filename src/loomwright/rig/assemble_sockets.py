"""Sockets with their leads, and a converter, from what was written."""

from __future__ import annotations

from dataclasses import replace

from loomwright.quantities import (
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_resistance_ohm,
    read_share,
    read_voltage_v,
)
from loomwright.reference.connectors import connector
from loomwright.reference.defaults import Default, Variant, default, default_for, defaults
from loomwright.rig.assemble_vehicle import FeedMaker, UsualFeed
from loomwright.rig.assemble_wires import NO_LEAD, LeadPlan, Usual, conductors, wire_from
from loomwright.rig.fill import Fill, variant_of
from loomwright.rig.job import Job
from loomwright.rig.job_part import JobWire
from loomwright.rig.job_socket import JobConverter, JobLeg, JobSocket
from loomwright.rig.job_vehicle import JobSupplyFeed
from loomwright.rig.model import (
    Converter,
    ConverterKind,
    Feed,
    GroundMethod,
    Join,
    Leg,
    PinWire,
    Socket,
)

VEHICLE, CONVERTER = "vehicle", "converter"


def socket_names(job: Job) -> tuple[str, ...]:
    """Return the name of each socket: as written, or its connector."""
    return tuple(socket.name or socket.connector for socket in job.sockets)


def socket_from(fill: Fill, job: Job, number: int) -> Socket:
    """Return a socket of the job, counted from 0."""
    written = job.sockets[number]
    path = f"socket[{number + 1}]"
    variant = variant_of(written.connector)
    join = _join(fill, path, written, number)
    slack_m = _slack_m(fill, path, written, variant)
    legs = tuple(_leg(leg) for leg in written.legs)
    route_m = sum(leg.length_m for leg in legs) + slack_m if legs else 0.0
    plan = LeadPlan(
        "lead",
        f"{path}.lead",
        connector(written.connector),
        variant,
        written.lead or NO_LEAD,
        _lead_length_m(fill, f"{path}.lead", written, route_m),
    )
    lead = conductors(fill, plan)
    return Socket(
        name=written.name or written.connector,
        connector=written.connector,
        join=join,
        joins_from=_joins_from(fill, path, job, number, join),
        joint=fill.text(f"{path}.joint", written.joint, default_for("socket", join.value, "joint")),
        lead=lead,
        ground_method=_ground_method(fill, path, written, join),
        ground=wire_from(
            fill, f"{path}.ground_wire", _ground(written, lead), _usual_ground(variant)
        ),
        location=written.location or "",
        legs=legs,
        slack_m=slack_m,
    )


def _ground_method(fill: Fill, path: str, written: JobSocket, join: Join) -> GroundMethod:
    row = default_for("socket", join.value, "ground_method")
    in_words = replace(row, value_text=row.value_text.replace("-", " "))
    said = fill.text(f"{path}.ground", written.ground, in_words)
    return GroundMethod(said.replace(" ", "-"))


def _usual_ground(variant: Variant | None) -> Usual:
    return Usual.of("vehicle", "ground", None if variant == "flat" else variant)


def _ground(written: JobSocket, lead: tuple[PinWire, ...]) -> JobWire | None:
    """Return the ground wire as written; its size left out, that of the lead's ground."""
    wire = written.ground_wire
    in_lead = next((each.wire for each in lead if each.function == "ground"), None)
    if in_lead is None or (wire is not None and wire.size is not None):
        return wire
    values = {} if wire is None else wire.model_dump(exclude_unset=True)
    return JobWire.model_validate(values | {"size": str(in_lead.size)})


def _join(fill: Fill, path: str, written: JobSocket, number: int) -> Join:
    if written.join is not None:
        return Join(written.join)
    if number == 0 and written.joins is None:
        says = "the first socket is the factory's"
        return Join(fill.derive(f"{path}.join", Join.FACTORY.value, says))
    says = "a socket that joins others is branched off them"
    return Join(fill.derive(f"{path}.join", Join.BRANCHED.value, says))


def _joins_from(fill: Fill, path: str, job: Job, number: int, join: Join) -> str:
    written = job.sockets[number].joins
    if written is not None:
        return written
    if join is Join.FACTORY:
        return VEHICLE
    names = socket_names(job)
    if job.converter is not None and number == len(names) - 1:
        return fill.derive(f"{path}.joins", CONVERTER, "the last socket takes the converter")
    if number > 0 and join is not Join.SCRATCH:
        return fill.derive(f"{path}.joins", names[number - 1], "the socket before it")
    return fill.derive(f"{path}.joins", VEHICLE, "the vehicle's own circuits")


def _slack_m(fill: Fill, path: str, written: JobSocket, variant: Variant | None) -> float:
    if written.slack is None and not written.legs:
        return 0.0
    usual = default("metric.socket.slack" if variant == "metric" else "socket.slack")
    return read_length_m(fill.text(f"{path}.slack", written.slack, usual))


def _lead_length_m(fill: Fill, path: str, written: JobSocket, route_m: float) -> float:
    """Return the length of the lead; `route_m` is its route with the slack, 0 if not given."""
    lead = written.lead or NO_LEAD
    if lead.length is None and route_m > 0:
        fill.derive(f"{path}.length", f"{route_m:.3f} m", "the route and its slack")
        return route_m
    usual = default_for("lead", "other", "length", variant_of(written.connector))
    return read_length_m(fill.text(f"{path}.length", lead.length, usual))


def _leg(written: JobLeg) -> Leg:
    return Leg(
        name=written.name,
        length_m=read_length_m(written.length),
        passes=written.passes or "",
        hole_mm=None if written.hole is None else read_diameter_mm(written.hole),
        cautions=written.cautions or (),
    )


def converter_from(
    fill: Fill, written: JobConverter, functions: tuple[str, ...], variant: Variant | None
) -> Converter:
    """Return the converter; `functions` are those of the socket behind it."""
    kind = ConverterKind(written.kind)
    powered = _is_powered(fill, written, kind)
    on_row = default(
        "converter.on_resistance_ohm" if powered else "converter.passive_resistance_ohm"
    )
    path = "converter"
    steps_down = kind is ConverterKind.STEP_DOWN
    return Converter(
        kind=kind,
        powered=powered,
        channel_a=_channels(fill, written, functions),
        on_resistance_ohm=read_resistance_ohm(
            fill.text(f"{path}.on_resistance", written.on_resistance, on_row)
        ),
        trigger_a=read_current_a(
            fill.text(f"{path}.trigger", written.trigger, default("converter.trigger_a"))
        ),
        joint=fill.text(f"{path}.joint", written.joint, default("converter.joint")),
        ground=wire_from(
            fill, f"{path}.ground", written.ground, Usual.of("converter", "ground", variant)
        ),
        feed=_converter_feed(fill, written, variant) if powered else None,
        output_v=_output_v(fill, written) if steps_down else None,
        max_current_a=_limit_a(fill, written) if steps_down else None,
        efficiency=_efficiency(fill, written) if steps_down else 1.0,
        name=written.name or CONVERTER,
    )


def _is_powered(fill: Fill, written: JobConverter, kind: ConverterKind) -> bool:
    if written.powered is not None:
        return written.powered
    powered = written.feed is not None or kind is ConverterKind.STEP_DOWN
    says = "it has a feed of its own" if powered else "no feed of its own was written down"
    fill.derive("converter.powered", str(powered).lower(), says)
    return powered


def _channels(fill: Fill, written: JobConverter, functions: tuple[str, ...]) -> dict[str, float]:
    if written.channels:
        return {name: read_current_a(text) for name, text in written.channels.items()}
    made = {
        ConverterKind.COMBINE: ("left_stop_turn", "right_stop_turn", "tail"),
        ConverterKind.SPLIT: ("left_turn", "right_turn", "stop", "tail"),
    }
    outputs = made.get(ConverterKind(written.kind), functions)
    return {
        name: read_current_a(fill.text(f"converter.channels.{name}", None, _usual_channel(name)))
        for name in outputs
    }


def _usual_channel(name: str) -> Default:
    own = f"converter.channel.{name}"
    return default(own if any(row.key == own for row in defaults()) else "converter.channel.other")


def _converter_feed(fill: Fill, written: JobConverter, variant: Variant | None) -> Feed:
    usual = UsualFeed(
        Usual.of("converter", "feed", variant), default("converter.feed.fuse"), new=True
    )
    job = written.feed or JobSupplyFeed()
    return FeedMaker(fill, variant).plain("converter.feed", job, "battery", usual)


def _output_v(fill: Fill, written: JobConverter) -> float:
    row = default("converter.step_down.output_v")
    return read_voltage_v(fill.text("converter.output", written.output, row))


def _limit_a(fill: Fill, written: JobConverter) -> float:
    row = default("converter.step_down.max_current_a")
    return read_current_a(fill.text("converter.limit", written.limit, row))


def _efficiency(fill: Fill, written: JobConverter) -> float:
    row = default("converter.step_down.efficiency")
    return read_share(fill.text("converter.efficiency", written.efficiency, row))
