"""The tow vehicle from what was written."""

from __future__ import annotations

from dataclasses import dataclass, replace

from loomwright.colours import read_colour
from loomwright.quantities import (
    read_current_a,
    read_length_m,
    read_resistance_ohm,
    read_share,
    read_voltage_v,
    read_wire_size,
)
from loomwright.reference.connectors import connector
from loomwright.reference.defaults import Default, Variant, default, default_for, defaults
from loomwright.rig.assemble_lights import light_from
from loomwright.rig.assemble_wires import Usual, fuse_from, wire_from
from loomwright.rig.fill import Fill, variant_of
from loomwright.rig.job_vehicle import JobFeed, JobSupply, JobSupplyFeed, JobVehicle
from loomwright.rig.model import (
    BrakeController,
    Feed,
    LampDrive,
    Light,
    Live,
    SignalSystem,
    SocketFeed,
    Supply,
    Vehicle,
    Wire,
)

COMBINED = frozenset({"left_stop_turn", "right_stop_turn"})
SEPARATE = frozenset({"left_turn", "right_turn", "stop"})
YES = "yes"
TWELVE_V = 12.0


@dataclass(frozen=True, slots=True)
class UsualFeed:
    """What is usual for a feed: its wire, its fuse, and whether it is new in the job."""

    wire: Usual
    fuse: Default
    new: bool


def vehicle_from(fill: Fill, job: JobVehicle, factory: str, towing: str) -> Vehicle:
    """Return the vehicle, complete; `factory` and `towing` are connectors of its sockets."""
    variant = variant_of(towing)
    nominal_v = read_voltage_v(
        fill.text("vehicle.voltage", job.voltage, default("supply.nominal_v"))
    )
    car = None if variant == "flat" else variant
    drive = LampDrive(
        fill.text("vehicle.lamp_drive", job.lamp_drive, default("vehicle.lamp_drive"))
    )
    socket_feed = SocketFeed(
        fill.text("vehicle.socket_feed", job.socket_feed, default("vehicle.socket_feed"))
    )
    feeds = FeedMaker(
        fill,
        car,
        job.legend,
        pulsed=drive is LampDrive.PULSED,
        shared=socket_feed is SocketFeed.SHARED and nominal_v == TWELVE_V,
    )
    return Vehicle(
        name=job.name or "vehicle",
        vin=(job.vin or "").strip().upper(),
        supply=_supply(fill, job.supply or JobSupply(), nominal_v),
        signals=_signals(fill, job, factory),
        socket_feed=socket_feed,
        lamp_drive=drive,
        feeds=tuple(
            feeds.circuit(f"vehicle.feed[{number}]", feed, nominal_v)
            for number, feed in enumerate(job.feeds, start=1)
        ),
        ground=wire_from(fill, "vehicle.ground", job.ground, Usual.of("vehicle", "ground", car)),
        chassis_resistance_ohm=read_resistance_ohm(
            fill.text("vehicle.chassis", job.chassis, default("vehicle.chassis_resistance_ohm"))
        ),
        brake_controller=_controller(fill, job),
        notes=job.notes or "",
    )


@dataclass(frozen=True, slots=True)
class FeedMaker:
    """Makes feeds in one style; `legend` is that of the vehicle's manual.

    With `shared` wires the vehicle's own lamps hang on the feeds, and where they were not written
    down the usual ones are taken.
    """

    fill: Fill
    variant: Variant | None
    legend: str | None = None
    pulsed: bool = False
    shared: bool = False

    def plain(self, path: str, job: JobSupplyFeed, function: str, usual: UsualFeed) -> Feed:
        """Return a fused wire from the battery, without lamps."""
        fill, wire = self.fill, usual.wire
        live = default_for("feed", function, "live")
        colour = None if job.colour is None else read_colour(job.colour, legend=self.legend)
        return Feed(
            function=function,
            wire=Wire(
                size=read_wire_size(fill.text(f"{path}.size", job.size, wire.size)),
                length_m=read_length_m(fill.text(f"{path}.length", job.length, wire.length)),
                colour=colour,
                insulation=fill.text(f"{path}.insulation", job.insulation, wire.insulation),
            ),
            fuse=fuse_from(fill, f"{path}.fuse", job.fuse, usual.fuse, self.variant),
            live=Live(fill.text(f"{path}.live", job.live, live)),
            found=job.found or "",
            new=usual.new if job.new is None else job.new,
        )

    def circuit(self, path: str, job: JobFeed, nominal_v: float) -> Feed:
        """Return a circuit of the vehicle, with its own lamps."""
        usual = UsualFeed(
            wire=Usual.of("feed", job.function, self.variant),
            fuse=default_for("feed", job.function, "fuse", self.variant),
            new=False,
        )
        bare = self.plain(path, job, job.function, usual)
        return replace(
            bare,
            duty=self._duty(path, job),
            lights=self._lights(path, job, nominal_v),
        )

    def _duty(self, path: str, job: JobFeed) -> float:
        what = "pulsed_duty" if self.pulsed and job.function == "tail" else "duty"
        row = default_for("feed", job.function, what, self.variant)
        return read_share(self.fill.text(f"{path}.duty", job.duty, row))

    def _lights(self, path: str, job: JobFeed, nominal_v: float) -> tuple[Light, ...]:
        texts = self._usual_lamps(path, job.function) if job.lamps is None else job.lamps
        return tuple(
            light_from(self.fill, f"{path}.lamps[{number}]", job.function, text, nominal_v)
            for number, text in enumerate(texts, start=1)
        )

    def _usual_lamps(self, path: str, function: str) -> tuple[str, ...]:
        """Return the lamps usual on a wire that the trailer shares, if that is known."""
        count = next((row for row in defaults() if row.key == f"vehicle.{function}.lamps"), None)
        if count is None or not self.shared:
            return ()
        bulb = default_for("bulb", function, "key", self.variant)
        filament = default_for("bulb", function, "filament", self.variant).value_text
        text = bulb.value_text if filament == "single" else f"{bulb.value_text} {filament}"
        number = int(count.value_text)
        said = f"{number} x {text}"
        self.fill.assume(f"{path}.lamps", said, count.says, count.source, count.standing)
        return (text,) * number


def _supply(fill: Fill, job: JobSupply, nominal_v: float) -> Supply:
    system = 24 if nominal_v > 18 else 12
    managed = bool(job.managed)
    lowest, highest = ("managed_low_v", "managed_high_v") if managed else ("low_v", "high_v")

    def taken(key: str, written: str | None, row: str) -> str:
        return fill.text(f"vehicle.supply.{key}", written, default(f"supply.{system}.{row}"))

    running_v = read_voltage_v(taken("running", job.running, "running_v"))
    low_v = read_voltage_v(taken("low", job.low, lowest))
    high_v = read_voltage_v(taken("high", job.high, highest))
    return Supply(
        nominal_v=nominal_v,
        resting_v=read_voltage_v(taken("resting", job.resting, "resting_v")),
        running_v=running_v,
        idle_v=read_voltage_v(taken("idle", job.idle, "idle_v")),
        low_v=min(low_v, running_v) if job.low is None else low_v,
        high_v=max(high_v, running_v) if job.high is None else high_v,
        resistance_ohm=read_resistance_ohm(taken("resistance", job.resistance, "resistance_ohm")),
        managed=managed,
    )


def _signals(fill: Fill, job: JobVehicle, factory: str) -> SignalSystem:
    if job.signals is not None:
        return SignalSystem(job.signals)
    functions = {feed.function for feed in job.feeds}
    says = "worked out from the functions of the feeds"
    if functions & COMBINED:
        return SignalSystem(fill.derive("vehicle.signals", "combined", says))
    if functions & SEPARATE:
        return SignalSystem(fill.derive("vehicle.signals", "separate", says))
    system = connector(factory).system
    found = "separate" if system == "separate" else "combined"
    return SignalSystem(fill.derive("vehicle.signals", found, f"as the {factory} connector"))


def _controller(fill: Fill, job: JobVehicle) -> BrakeController | None:
    written = job.brake_controller
    if written is None:
        return None
    path = "vehicle.brake_controller"
    lever = written.lever_lights_stop_lamps
    said = None if lever is None else (YES if lever else "no")
    row = default("controller.lever_lights_stop_lamps")
    share = fill.text(f"{path}.output", written.output, default("controller.output_share"))
    limit = fill.text(f"{path}.limit", written.limit, default("controller.max_current_a"))
    return BrakeController(
        output_share=read_share(share),
        max_current_a=read_current_a(limit),
        lever_lights_stop_lamps=fill.text(f"{path}.lever_lights_stop_lamps", said, row) == YES,
    )
