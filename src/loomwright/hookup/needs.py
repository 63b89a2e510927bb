"""System mismatches between vehicle and trailer, and the converter that mends each."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.hookup.demand import demand_a
from loomwright.hookup.model import ConverterNeed
from loomwright.hookup.plug_stage import mating
from loomwright.rig.model import ConverterKind, LampDrive, Rig, SignalSystem, SocketFeed

RATING_MARGIN = 1.25
"""A converter channel is chosen with a quarter in hand (common practice)."""

COMBINED = frozenset({"left_stop_turn", "right_stop_turn"})
SEPARATE = frozenset({"left_turn", "right_turn", "stop"})


def converter_needs(rig: Rig) -> tuple[ConverterNeed, ...]:
    """Return each mismatch that the rig as described does not yet mend."""
    return (*_signals(rig), *_voltage(rig), *_bodies(rig), *_monitoring(rig))


def signals_are_mended(rig: Rig) -> bool:
    """Whether vehicle and trailer signal alike, or a converter makes the trailer's."""
    if rig.vehicle.signals is rig.trailer.signals:
        return True
    wanted = COMBINED if rig.trailer.signals is SignalSystem.COMBINED else SEPARATE
    return rig.converter is not None and bool(wanted & set(rig.converter.channel_a))


def lamps_are_watched(rig: Rig) -> bool:
    """Whether the trailer would hang on lamp circuits the vehicle watches or pulses."""
    steady = rig.vehicle.lamp_drive is LampDrive.STEADY
    powered = rig.converter is not None and rig.converter.powered
    return not steady and rig.vehicle.socket_feed is SocketFeed.SHARED and not powered


def voltage_is_mended(rig: Rig) -> bool:
    """Whether vehicle and trailer run on one voltage, or a step-down stands between."""
    if rig.vehicle.supply.nominal_v == rig.trailer.nominal_v:
        return True
    return rig.converter is not None and rig.converter.kind is ConverterKind.STEP_DOWN


def _wanted(rig: Rig) -> ConverterKind:
    is_combined = rig.trailer.signals is SignalSystem.COMBINED
    return ConverterKind.COMBINE if is_combined else ConverterKind.SPLIT


def _signals(rig: Rig) -> Iterator[ConverterNeed]:
    if signals_are_mended(rig):
        return
    kind = _wanted(rig)
    demand = demand_a(rig.trailer)
    yield ConverterNeed(
        kind=kind.value,
        says=f"The vehicle's stop and turn signals are {rig.vehicle.signals.value} and the "
        f"trailer's {rig.trailer.signals.value}: a {kind.value} converter must stand between, "
        "or stop and turn feed back into each other.",
        rating_a=RATING_MARGIN * max(demand.get(name, 0.0) for name in COMBINED | SEPARATE),
        source="trade-converters",
    )


def _voltage(rig: Rig) -> Iterator[ConverterNeed]:
    if voltage_is_mended(rig):
        return
    vehicle_v, trailer_v = rig.vehicle.supply.nominal_v, rig.trailer.nominal_v
    direction = ConverterKind.STEP_DOWN.value if vehicle_v > trailer_v else "step-up"
    yield ConverterNeed(
        kind=direction,
        says=f"The vehicle runs on {vehicle_v:.0f} V and the trailer on {trailer_v:.0f} V: "
        "a converter must change the voltage of every circuit that is joined.",
        rating_a=RATING_MARGIN * sum(demand_a(rig.trailer).values()),
        source="trade",
        rating_of="whole",
    )


def _bodies(rig: Rig) -> Iterator[ConverterNeed]:
    if mating(rig).fits:
        return
    yield ConverterNeed(
        kind="adapter",
        says=f"A {rig.trailer.plug} plug does not fit the {rig.towing_socket.connector} socket, "
        "and no adapter between the two is in the tables: fit the socket this trailer needs.",
        rating_a=None,
        source="trade",
    )


def _monitoring(rig: Rig) -> Iterator[ConverterNeed]:
    if not lamps_are_watched(rig):
        return
    yield ConverterNeed(
        kind=ConverterKind.ISOLATE.value,
        says=f"The vehicle's lamps are {rig.vehicle.lamp_drive.value}: a powered converter that "
        "only senses them keeps trailer lamps from upsetting the vehicle.",
        rating_a=RATING_MARGIN * max(demand_a(rig.trailer).values(), default=0.0),
        source="trade-7-blade",
    )
