"""Small rigs built in Python, all invented, for every test that needs one.

Each maker of a part takes changes by field name, and each part is a frozen value, so
`dataclasses.replace` makes the next rig from one of these.
"""

from dataclasses import replace
from typing import Any

from loomwright.quantities import WireSize
from loomwright.rig.model import (
    Brake,
    BrakeController,
    Braking,
    Bulb,
    Converter,
    ConverterKind,
    Feed,
    FuseHolder,
    GroundMethod,
    HouseBattery,
    Join,
    Lamp,
    LampDrive,
    Light,
    Live,
    PinWire,
    Returns,
    Rig,
    Side,
    SignalSystem,
    Socket,
    SocketFeed,
    Supply,
    Trailer,
    Vehicle,
    Wire,
)

FOOT_M = 0.3048

MAJOR, MINOR = Bulb("1157", "major"), Bulb("1157", "minor")
MARKER = Bulb("194", "single")

PINS_4_FLAT = {"1": "ground", "2": "tail", "3": "left_stop_turn", "4": "right_stop_turn"}
PINS_7_BLADE = {
    "1": "ground",
    "2": "brake",
    "3": "tail",
    "4": "battery",
    "5": "left_stop_turn",
    "6": "right_stop_turn",
    "7": "reverse",
}
PINS_13 = {
    "1": "left_turn",
    "2": "fog",
    "3": "ground",
    "4": "right_turn",
    "5": "tail_right",
    "6": "stop",
    "7": "tail_left",
    "8": "reverse",
    "9": "battery",
    "10": "ignition",
    "11": "ground_ignition",
    "13": "ground_battery",
}


def awg(size: str, length_m: float) -> Wire:
    return Wire(WireSize("awg", size), length_m)


def mm2(size: str, length_m: float) -> Wire:
    return Wire(WireSize("mm2", size), length_m, insulation="thin-wall")


def pin_wires(pins: dict[str, str], wire: Wire, **heavier: Wire) -> tuple[PinWire, ...]:
    """One conductor per pin, all alike but for the functions named."""
    return tuple(PinWire(pin, f, heavier.get(f, wire)) for pin, f in pins.items())


def feed(function: str, *lights: Bulb, **changes: Any) -> Feed:
    """A steady feed of 16 AWG behind a 15 A blade fuse, with the vehicle's own lamps on it."""
    made = Feed(
        function,
        awg("16", 5.0),
        FuseHolder("medium", 15.0),
        Live.COMMAND,
        lights=tuple(Light(function, bulb) for bulb in lights),
    )
    return replace(made, **changes)


def supply(**changes: Any) -> Supply:
    """A 12 V supply without a managed alternator."""
    made = Supply(12.0, 12.6, 14.0, 13.3, 13.3, 14.8, 0.006, managed=False)
    return replace(made, **changes)


def simple_vehicle(**changes: Any) -> Vehicle:
    """A pick-up with one lamp for stop and turn; its own lamps share the trailer's wires."""
    made = Vehicle(
        name="Fennimore half-ton",
        vin="",
        supply=supply(),
        signals=SignalSystem.COMBINED,
        socket_feed=SocketFeed.SHARED,
        lamp_drive=LampDrive.STEADY,
        feeds=(
            feed("tail", MINOR, MINOR, MARKER),
            feed("left_stop_turn", MAJOR),
            feed("right_stop_turn", MAJOR),
        ),
        ground=awg("14", 0.5),
        chassis_resistance_ohm=0.003,
    )
    return replace(made, **changes)


def simple_socket(**changes: Any) -> Socket:
    """A four-way flat at the end of the factory wires."""
    made = Socket(
        name="rear 4-way",
        connector="4-flat",
        join=Join.FACTORY,
        joins_from="vehicle",
        joint="plug-in",
        lead=pin_wires(PINS_4_FLAT, awg("16", 0.6)),
        ground_method=GroundMethod.OWN_RING,
        ground=awg("16", 0.5),
        location="at the hitch",
    )
    return replace(made, **changes)


def lamp(name: str, side: Side, back_m: float, **changes: Any) -> Lamp:
    """A rear lamp with a two-filament bulb, unless other lights are given."""
    signal = "right_stop_turn" if side == "right" else "left_stop_turn"
    made = Lamp(
        name=name,
        side=side,
        back_m=back_m,
        lights=(Light("tail", MINOR), Light(signal, MAJOR)),
        counts_as=("tail_lamp", "stop_lamp", "turn_signal_rear"),
        branch=awg("16", 0.6),
        ground=awg("16", 0.6),
        joint="sealed-butt",
    )
    return replace(made, **changes)


def marker(name: str, side: Side, back_m: float, **changes: Any) -> Lamp:
    """A small lamp on the tail wire."""
    return lamp(
        name,
        side,
        back_m,
        lights=(Light("tail", MARKER),),
        counts_as=("side_marker_front",),
        colour="amber",
        **changes,
    )


def simple_trailer(**changes: Any) -> Trailer:
    """A utility trailer with two rear lamps, two markers and a ground wire all along."""
    made = Trailer(
        name="Brackenridge utility",
        kind="utility",
        width_m=1.6,
        length_m=3.6,
        gross_mass_kg=900.0,
        axles=1,
        braking=Braking.NONE,
        nominal_v=12.0,
        signals=SignalSystem.COMBINED,
        plug="4-flat",
        plug_convention="4-flat",
        cord=pin_wires(PINS_4_FLAT, awg("16", 1.2)),
        junction="sealed-butt",
        returns=Returns.WIRE,
        run=dict.fromkeys(
            ("ground", "tail", "left_stop_turn", "right_stop_turn"), WireSize("awg", "16")
        ),
        frame_resistance_ohm_per_m=0.0005,
        lamps=(
            lamp("left rear", "left", 3.5),
            lamp("right rear", "right", 3.5),
            marker("front marker left", "left", 0.8),
            marker("front marker right", "right", 0.8),
        ),
    )
    return replace(made, **changes)


def simple_rig(**changes: Any) -> Rig:
    """The utility trailer on the pick-up, by a four-way flat."""
    made = Rig(
        name="utility trailer on a pick-up",
        vehicle=simple_vehicle(),
        sockets=(simple_socket(),),
        towing="rear 4-way",
        trailer=simple_trailer(),
    )
    return replace(made, **changes)


def brake(name: str, axle: int, side: Side, back_m: float, **changes: Any) -> Brake:
    """One 12-inch magnet."""
    made = Brake(
        name=name,
        axle=axle,
        side=side,
        back_m=back_m,
        size_in=12.0,
        branch=awg("14", 1.0),
        ground=awg("14", 1.0),
        joint="sealed-butt",
    )
    return replace(made, **changes)


def brake_rig(**changes: Any) -> Rig:
    """A tandem trailer with electric brakes and a house battery, on a seven-way blade socket."""
    pick_up = simple_vehicle()
    vehicle = replace(
        pick_up,
        feeds=(
            *pick_up.feeds,
            feed("reverse", Bulb("1156", "single")),
            feed("brake", wire=awg("12", 7.0), fuse=FuseHolder("medium", 30.0)),
            feed("battery", wire=awg("10", 7.0), fuse=FuseHolder("medium", 30.0), live=Live.ENGINE),
        ),
        brake_controller=BrakeController(1.0, 25.0, lever_lights_stop_lamps=True),
    )
    lead, cord = awg("14", 0.6), awg("14", 2.0)
    socket = simple_socket(
        name="rear 7-way",
        connector="7-blade",
        lead=pin_wires(PINS_7_BLADE, lead, brake=awg("12", 0.6), battery=awg("10", 0.6)),
        ground=awg("10", 0.6),
    )
    run = {f: WireSize("awg", "14") for f in PINS_7_BLADE.values()}
    trailer = simple_trailer(
        name="Larkhill tandem",
        kind="cargo",
        length_m=6.0,
        axles=2,
        gross_mass_kg=3200.0,
        braking=Braking.ELECTRIC,
        plug="7-blade",
        plug_convention="7-blade",
        cord=pin_wires(
            PINS_7_BLADE, cord, brake=awg("12", 2.0), battery=awg("10", 2.0), ground=awg("10", 2.0)
        ),
        run=run | {"brake": WireSize("awg", "12"), "ground": WireSize("awg", "10")},
        lamps=(lamp("left rear", "left", 6.0), lamp("right rear", "right", 6.0)),
        brakes=tuple(
            brake(f"axle {axle} {side}", axle, side, back_m)
            for axle, back_m in ((1, 3.2), (2, 4.1))
            for side in ("left", "right")
        ),
        battery=HouseBattery(
            name="house battery",
            function="battery",
            chemistry="flooded",
            capacity_ah=100.0,
            charge_share=0.6,
            back_m=1.0,
            branch=awg("12", 1.0),
            ground=awg("12", 1.0),
            joint="sealed-butt",
        ),
    )
    made = Rig("tandem with brakes", vehicle, (socket,), "rear 7-way", trailer)
    return replace(made, **changes)


def van_rig(kind: ConverterKind = ConverterKind.COMBINE, **changes: Any) -> Rig:
    """A van with a wire each for stop and turn, a powered converter and the utility trailer."""
    single = Bulb("P21W", "single")
    park = Bulb("R5W", "single")
    van = simple_vehicle(
        name="Quillon van",
        signals=SignalSystem.SEPARATE,
        socket_feed=SocketFeed.MODULE,
        feeds=(
            feed("tail", park, park),
            feed("left_turn", single),
            feed("right_turn", single),
            feed("stop", single, single),
        ),
    )
    box = Converter(
        kind=kind,
        powered=True,
        channel_a={"left_stop_turn": 5.0, "right_stop_turn": 5.0, "tail": 6.0},
        on_resistance_ohm=0.03,
        trigger_a=0.01,
        joint="piercing-tap",
        ground=awg("16", 0.3),
        feed=feed("battery", wire=awg("14", 7.0), live=Live.ALWAYS),
    )
    socket = simple_socket(join=Join.SCRATCH, joins_from="converter", joint="sealed-butt")
    return simple_rig(vehicle=van, sockets=(socket,), converter=box, **changes)


def caravan_rig(**changes: Any) -> Rig:
    """A caravan with separate returns on a thirteen-pin socket of a separate-turn estate car."""
    single, park = Bulb("P21W", "single"), Bulb("R5W", "single")
    heavy = mm2("2.5", 6.0)
    car = simple_vehicle(
        name="Aldermoor estate",
        signals=SignalSystem.SEPARATE,
        socket_feed=SocketFeed.MODULE,
        feeds=(
            feed("tail", park, park),
            feed("left_turn", single),
            feed("right_turn", single),
            feed("stop", single, single),
            feed("fog", single),
            feed("reverse", single),
            feed("battery", wire=heavy, fuse=FuseHolder("medium", 20.0), live=Live.ALWAYS),
            feed("ignition", wire=heavy, fuse=FuseHolder("medium", 20.0), live=Live.ENGINE),
        ),
    )
    heavies = ("ground", "battery", "ignition", "ground_ignition", "ground_battery")
    socket = simple_socket(
        name="tow bar",
        connector="13-pin",
        lead=pin_wires(PINS_13, mm2("1.5", 1.0), **{f: mm2("2.5", 1.0) for f in heavies}),
        ground=mm2("2.5", 0.6),
    )
    size = {f: WireSize("mm2", "2.5" if f in heavies else "1.5") for f in PINS_13.values()}
    rear = (("left", "left_turn", "tail_left"), ("right", "right_turn", "tail_right"))
    trailer = simple_trailer(
        name="Hartsmere caravan",
        kind="caravan",
        length_m=6.5,
        signals=SignalSystem.SEPARATE,
        plug="13-pin",
        plug_convention="13-pin",
        cord=pin_wires(PINS_13, mm2("1.5", 2.0), **{f: mm2("2.5", 2.0) for f in heavies}),
        run=size,
        lamps=tuple(
            lamp(
                f"{side} rear",
                side,
                6.4,
                lights=(
                    Light(tail, park),
                    Light("stop", single),
                    Light(turn, Bulb("PY21W", "single")),
                    *((Light("fog", single),) if side == "left" else ()),
                ),
                branch=mm2("1.5", 0.5),
                ground=mm2("1.5", 0.5),
            )
            for side, turn, tail in rear
        ),
        battery=HouseBattery(
            name="leisure battery",
            function="ignition",
            chemistry="agm",
            capacity_ah=80.0,
            charge_share=0.5,
            back_m=2.0,
            branch=mm2("2.5", 1.0),
            ground=mm2("2.5", 1.0),
            joint="sealed-butt",
        ),
    )
    made = Rig("caravan", car, (socket,), "tow bar", trailer, jurisdiction="UK")
    return replace(made, **changes)


def step_down_rig(**changes: Any) -> Rig:
    """A 24 V tractor that feeds a 12 V trailer over a step-down converter with its own feed."""
    single, park = Bulb("P21W", "single"), Bulb("R5W", "single")
    tractor = simple_vehicle(
        name="Corbie tractor",
        supply=Supply(24.0, 25.2, 28.0, 26.6, 26.6, 28.8, 0.010, managed=False),
        signals=SignalSystem.SEPARATE,
        feeds=(
            feed("tail", park, park),
            feed("left_turn", single),
            feed("right_turn", single),
            feed("stop", single, single),
        ),
    )
    box = Converter(
        kind=ConverterKind.STEP_DOWN,
        powered=True,
        channel_a={"tail": 5.0, "left_stop_turn": 5.0, "right_stop_turn": 5.0},
        on_resistance_ohm=0.03,
        trigger_a=0.01,
        joint="sealed-butt",
        ground=awg("12", 1.0),
        feed=feed("battery", wire=awg("12", 6.0), live=Live.ALWAYS),
        output_v=13.2,
        max_current_a=15.0,
    )
    socket = simple_socket(join=Join.SCRATCH, joins_from="converter", joint="sealed-butt")
    made = simple_rig(vehicle=tractor, sockets=(socket,), converter=box)
    return replace(made, **changes)


def small_rig(socket_feed: SocketFeed) -> Rig:
    """The rig of the table of bad grounds: two rear lamps of 2.1 and 0.59 A, four small markers."""
    vehicle = simple_vehicle(
        socket_feed=socket_feed,
        supply=supply(running_v=12.8),
        feeds=(
            feed("tail", MINOR, MINOR),
            feed("left_stop_turn", MAJOR),
            feed("right_stop_turn", MAJOR),
        ),
    )
    lamps = (
        lamp("left rear", "left", 3.5),
        lamp("right rear", "right", 3.5),
        *(marker(f"marker {n}", "left", 1.0) for n in range(1, 5)),
    )
    return simple_rig(vehicle=vehicle, trailer=simple_trailer(lamps=lamps))
