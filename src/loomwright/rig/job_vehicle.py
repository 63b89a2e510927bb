"""The tow vehicle in a job file: supply, brake controller, and the circuits found."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, StrictBool

from loomwright.rig import entries as entry
from loomwright.rig import words
from loomwright.rig.job_part import JobPart, JobWire
from loomwright.rig.vin import check_vin

Vin = Annotated[entry.Text, AfterValidator(check_vin)]


class JobSupply(JobPart):
    """Battery and alternator, measured at the battery where they were measured."""

    resting: entry.Voltage | None = Field(
        default=None, description="Engine off, after an hour's rest."
    )
    running: entry.Voltage | None = Field(
        default=None, description="Engine running, normal charging."
    )
    idle: entry.Voltage | None = Field(default=None, description="Low idle with lamps on.")
    low: entry.Voltage | None = Field(
        default=None,
        description="Lowest the running engine gives: the low set-point of a managed alternator.",
    )
    high: entry.Voltage | None = Field(
        default=None, description="Highest the running engine gives."
    )
    resistance: entry.Resistance | None = Field(
        default=None, description="Resistance of the battery with its posts and cables."
    )
    managed: StrictBool | None = Field(
        default=None, description="Whether the vehicle varies its charging voltage as it drives."
    )


class JobBrakeController(JobPart):
    """The controller that drives the brake feed."""

    output: entry.ShareAboveZero | None = Field(
        default=None, description="Share of the supply voltage that full output reaches."
    )
    limit: entry.Current | None = Field(default=None, description="Most current it gives.")
    lever_lights_stop_lamps: StrictBool | None = Field(
        default=None, description="Whether the hand lever lights the stop lamps."
    )


class JobSupplyFeed(JobPart):
    """A fused wire from the battery."""

    size: entry.Size | None = Field(
        default=None,
        description="Conductor size with its system: AWG, SAE (vehicle primary wire) or mm2.",
    )
    length: entry.WireLength | None = Field(
        default=None, description="Length one way, from the supply to where trailer wiring joins."
    )
    colour: entry.VehicleColour | None = Field(
        default=None, description="Insulation colour, base first, as in the vehicle's manual."
    )
    insulation: entry.Insulation | None = Field(default=None, description="Kind of insulation.")
    fuse: entry.Fuse | None = Field(
        default=None,
        description='Fuse rating, with its kind if it is no blade: "15 A", "30 A maxi", "none".',
    )
    live: words.LiveWord | None = Field(default=None, description="When it carries voltage.")
    new: StrictBool | None = Field(
        default=None, description="Whether it is run in this job, and belongs in its parts."
    )
    found: entry.Text | None = Field(
        default=None,
        description="Where on the vehicle it was found, or how it was run.",
        examples=["rear harness plug behind the left lamp"],
    )


class JobFeed(JobSupplyFeed):
    """A circuit of the vehicle."""

    function: entry.Function = Field(description="What the circuit does.")
    duty: entry.ShareAboveZero | None = Field(
        default=None, description="Share of the time a pulsed feed is on under its command."
    )
    lamps: tuple[entry.Lamp, ...] | None = Field(
        default=None, description="The vehicle's own lamps on this wire, as written on their caps."
    )


class JobVehicle(JobPart):
    """The tow vehicle."""

    name: entry.Name | None = Field(default=None, description="What you call the vehicle.")
    vin: Vin | None = Field(
        default=None,
        description="Vehicle identification number: 17 characters, never I, O or Q.",
        examples=["1A9BE2024NM123456"],
    )
    voltage: entry.SystemVoltage | None = Field(default=None, description="Voltage of the system.")
    signals: words.SignalsWord | None = Field(
        default=None,
        description="One lamp for stop and turn (combined), or a lamp each (separate).",
    )
    socket_feed: words.SocketFeedWord | None = Field(
        default=None,
        description="What feeds the trailer wires: the lamp circuits, relays, or a module.",
    )
    lamp_drive: words.LampDriveWord | None = Field(
        default=None, description="How the vehicle drives its lamps."
    )
    legend: entry.Legend | None = Field(
        default=None, description="Colour legend of the manual the feeds' colours were copied from."
    )
    supply: JobSupply | None = Field(default=None, description="Battery and alternator.")
    brake_controller: JobBrakeController | None = Field(
        default=None, description="Brake controller; leave the table out if there is none."
    )
    ground: JobWire | None = Field(
        default=None, description="Cable from battery negative to the chassis."
    )
    chassis: entry.Resistance | None = Field(
        default=None,
        description="Resistance of the chassis from the battery's ground to the socket's.",
    )
    feeds: tuple[JobFeed, ...] = Field(
        default=(), alias="feed", description="The circuits found, one table each."
    )
    notes: entry.Text | None = Field(default=None, description="What else was seen on the vehicle.")
