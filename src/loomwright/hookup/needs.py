"""System mismatches between vehicle and trailer, and the converter that mends each."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.hookup.demand import demand_a
from loomwright.hookup.model import ConverterNeed
from loomwright.hookup.plug_stage import mating
from loomwright.rig.model import ConverterKind, LampDrive, Rig, SignalSystem

RATING_MARGIN = 1.25
"""A converter channel is chosen with a quarter in hand (common practice)."""

STOP_TURN = ("left_stop_turn", "right_stop_turn", "left_turn", "right_turn", "stop")


def converter_needs(rig: Rig) -> tuple[ConverterNeed, ...]:
    """Return each mismatch that the rig as described does not yet mend."""
    return (*_signals(rig), *_voltage(rig), *_bodies(rig), *_monitoring(rig))


def _signals(rig: Rig) -> Iterator[ConverterNeed]:
    vehicle, trailer = rig.vehicle.signals, rig.trailer.signals
    if vehicle is trailer:
        return
    kind = ConverterKind.COMBINE if trailer is SignalSystem.COMBINED else ConverterKind.SPLIT
    if rig.converter is not None and rig.converter.kind is kind:
        return
    demand = demand_a(rig.trailer)
    channel = max((demand.get(name, 0.0) for name in STOP_TURN), default=0.0)
    yield ConverterNeed(
        kind=kind.value,
        says=f"The vehicle signals {vehicle.value} and the trailer {trailer.value}: a {kind.value} "
        "converter must stand between, or stop and turn feed back into each other.",
        rating_a=RATING_MARGIN * channel,
        source="trade",
    )


def _voltage(rig: Rig) -> Iterator[ConverterNeed]:
    vehicle_v, trailer_v = rig.vehicle.supply.nominal_v, rig.trailer.nominal_v
    converter = rig.converter
    if vehicle_v == trailer_v:
        return
    if converter is not None and converter.kind is ConverterKind.STEP_DOWN:
        return
    yield ConverterNeed(
        kind=ConverterKind.STEP_DOWN.value,
        says=f"The vehicle runs on {vehicle_v:.0f} V and the trailer on {trailer_v:.0f} V: "
        "a converter must change the voltage of every circuit that is joined.",
        rating_a=RATING_MARGIN * sum(demand_a(rig.trailer).values()),
        source="trade",
    )


def _bodies(rig: Rig) -> Iterator[ConverterNeed]:
    socket = rig.towing_socket
    if mating(socket.connector, rig.trailer.plug).fits:
        return
    yield ConverterNeed(
        kind="adapter",
        says=f"A {rig.trailer.plug} plug does not fit the {socket.connector} socket, and no "
        "adapter between the two is in the tables: fit the socket this trailer needs.",
        rating_a=None,
        source="trade",
    )


def _monitoring(rig: Rig) -> Iterator[ConverterNeed]:
    if rig.vehicle.lamp_drive is LampDrive.STEADY:
        return
    if rig.converter is not None and rig.converter.powered:
        return
    yield ConverterNeed(
        kind=ConverterKind.ISOLATE.value,
        says=f"The vehicle's lamps are {rig.vehicle.lamp_drive.value}: a powered converter that "
        "only senses them keeps trailer lamps from upsetting the vehicle.",
        rating_a=RATING_MARGIN * max(demand_a(rig.trailer).values(), default=0.0),
        source="trade",
    )
