"""The trailer in a job file: cord, run, lamps, brakes and the rest."""

from __future__ import annotations

from pydantic import ConfigDict, Field, StrictInt

from loomwright.rig import entries as entry
from loomwright.rig import words
from loomwright.rig.job_part import JobBranch, JobPart
from loomwright.rig.job_socket import JobLead


class JobRun(JobPart):
    """Sizes of the run behind the junction: what all share, and one line for each that differs."""

    model_config = ConfigDict(extra="allow", frozen=True)
    __pydantic_extra__: dict[entry.Function, entry.Size] = Field(init=False)

    size: entry.Size | None = Field(default=None, description="Size of every conductor of the run.")

    @property
    def conductors(self) -> dict[str, str]:
        """Sizes with a line of their own, by function."""
        return dict(self.__pydantic_extra__ or {})


class JobLamp(JobBranch):
    """A lamp housing, or a pair of them with `sides`."""

    name: entry.Name | None = Field(
        default=None, description="What you call it.", examples=["left rear"]
    )
    side: words.SideWord | None = Field(
        default=None, description="Side it is on; centre if left out."
    )
    sides: tuple[words.SideWord, ...] | None = Field(
        default=None, min_length=1, description='Sides of a pair of equal lamps: ["left", "right"].'
    )
    height: entry.Extent | None = Field(
        default=None, description="Height of its centre above the ground."
    )
    lights: dict[entry.Function, entry.Lamp] = Field(
        min_length=1,
        description="Its light sources, by what lights them.",
        examples=[{"tail": "1157 minor", "left_stop_turn": "1157 major"}, {"tail": "LED 0.05 A"}],
    )
    colour: words.LightColour | None = Field(default=None, description="Colour of its light.")
    counts_as: tuple[entry.LampKind, ...] | None = Field(
        default=None, description="Lamps of the lamp rules that it stands for."
    )


class JobBrake(JobBranch):
    """Both brake magnets of an axle."""

    axle: StrictInt | None = Field(
        default=None, ge=1, le=9, description="Axle, counted from the front. Left out: in order."
    )
    size: entry.DrumSize | None = Field(default=None, description="Drum diameter.")


class JobAppliance(JobBranch):
    """Any other load of the trailer."""

    name: entry.Name | None = Field(default=None, description="What you call it.")
    function: entry.Function | None = Field(default=None, description="Circuit that feeds it.")
    power: entry.Power = Field(description="Power it takes.")
    at: entry.Voltage | None = Field(
        default=None, description="Voltage at which it takes that power."
    )
    law: words.LawWord | None = Field(
        default=None, description="A heater (resistance), or electronics that keep their power."
    )


class JobCharger(JobPart):
    """A DC-DC charger in front of the trailer battery."""

    power: entry.Power = Field(description="Output power.")
    limit: entry.Current | None = Field(default=None, description="Most current it draws.")


class JobBattery(JobBranch):
    """The trailer's own battery, charged from the vehicle."""

    name: entry.Name | None = Field(default=None, description="What you call it.")
    function: entry.Function | None = Field(default=None, description="Circuit that charges it.")
    chemistry: entry.Chemistry | None = Field(default=None, description="Kind of battery.")
    capacity: entry.Capacity | None = Field(default=None, description="Capacity.")
    charge: entry.Share | None = Field(default=None, description="How full it is.")
    charger: JobCharger | None = Field(
        default=None,
        description="DC-DC charger; leave it out if the wire goes straight to the battery.",
    )


class JobBreakaway(JobPart):
    """The battery that applies the brakes when the trailer comes off."""

    capacity: entry.Capacity | None = Field(default=None, description="Capacity.")
    charged_by: words.ChargedBy | None = Field(
        default=None, description='Function that charges it, or "nothing".'
    )
    back: entry.Length | None = Field(
        default=None, description="Distance behind the junction, along the run."
    )


class JobTrailer(JobPart):
    """The trailer, from its plug to its farthest lamp."""

    name: entry.Name | None = Field(default=None, description="What you call the trailer.")
    kind: words.TrailerWord | None = Field(default=None, description="Kind of trailer.")
    width: entry.Extent | None = Field(default=None, description="Overall width.")
    length: entry.Extent | None = Field(
        default=None, description="Overall length, with the drawbar."
    )
    gross_mass: entry.Mass | None = Field(
        default=None, description="Gross weight rating, as on the trailer's plate."
    )
    axles: StrictInt | None = Field(default=None, ge=1, le=9, description="Number of axles.")
    built: entry.Date | None = Field(
        default=None, description="When it was built: year, month, day."
    )
    condition: words.ConditionWord | None = Field(
        default=None, description="State of joints and contacts: new or aged."
    )
    braking: words.BrakingWord | None = Field(
        default=None, alias="brakes", description="How the trailer brakes."
    )
    voltage: entry.SystemVoltage | None = Field(
        default=None, description="Voltage of its lamps. Left out: the vehicle's."
    )
    signals: words.SignalsWord | None = Field(
        default=None,
        description="One lamp for stop and turn (combined), or a lamp each (separate).",
    )
    plug: entry.Connector | None = Field(
        default=None, description="Kind of plug. Left out: that of the socket it plugs into."
    )
    returns: words.ReturnsWord | None = Field(
        default=None, description="How current comes home: by ground wires, or through the frame."
    )
    junction: entry.Joint | None = Field(default=None, description="How the cord joins the run.")
    frame_per_metre: entry.Resistance | None = Field(
        default=None, description="Resistance of a metre of frame with its bolted joints."
    )
    hitch_path: entry.Resistance | None = Field(
        default=None,
        description="Resistance of ball and chains as a second way home, if to be counted.",
    )
    joined_returns: tuple[tuple[entry.Function, ...], ...] | None = Field(
        default=None, description="Returns of the plug that are tied together on the trailer."
    )
    cord: JobLead | None = Field(default=None, description="The cord from plug to junction.")
    run: JobRun | None = Field(default=None, description="Sizes of the run behind the junction.")
    lamps: tuple[JobLamp, ...] = Field(
        default=(), alias="lamp", description="Lamps, one table each."
    )
    brakes: tuple[JobBrake, ...] = Field(
        default=(), alias="brake", description="Electric brakes, one table for each axle."
    )
    appliances: tuple[JobAppliance, ...] = Field(
        default=(), alias="appliance", description="Other loads, one table each."
    )
    battery: JobBattery | None = Field(default=None, description="The trailer's own battery.")
    breakaway: JobBreakaway | None = Field(
        default=None, description="Breakaway battery and switch."
    )
