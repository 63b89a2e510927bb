"""Sockets, their leads and routes, and a converter, in a job file."""

from __future__ import annotations

from pydantic import ConfigDict, Field, StrictBool

from loomwright.rig import entries as entry
from loomwright.rig import words
from loomwright.rig.job_part import JobPart, JobWire
from loomwright.rig.job_vehicle import JobSupplyFeed


class JobLead(JobPart):
    """The conductors of a lead or cord: what all share, and a table for each that differs."""

    model_config = ConfigDict(extra="allow", frozen=True)
    __pydantic_extra__: dict[entry.Function, JobWire] = Field(init=False)

    colours: entry.Convention | None = Field(
        default=None,
        description='Colours by convention, or "unknown" where they follow none you know.',
    )
    length: entry.WireLength | None = Field(default=None, description="Length of every conductor.")
    size: entry.Size | None = Field(default=None, description="Size of every conductor.")
    insulation: entry.Insulation | None = Field(default=None, description="Kind of insulation.")
    without: tuple[entry.Function, ...] | None = Field(
        default=None, description="Functions of the connector that have no conductor here."
    )

    @property
    def conductors(self) -> dict[str, JobWire]:
        """Conductors with a table of their own, by function."""
        return dict(self.__pydantic_extra__ or {})


class JobLeg(JobPart):
    """One stretch of the route, one after the other from the joint to the socket."""

    name: entry.Name = Field(description="From where to where.")
    length: entry.WireLength = Field(description="Length of this stretch.")
    passes: entry.Text | None = Field(default=None, description="What it passes through.")
    hole: entry.Diameter | None = Field(
        default=None, description="Diameter of the hole to make or use."
    )
    cautions: tuple[entry.Text, ...] | None = Field(
        default=None, description="What to look out for, such as what is behind the panel."
    )


class JobSocket(JobPart):
    """A socket on the vehicle."""

    name: entry.Name | None = Field(
        default=None,
        description="What you call it. Left out: the connector.",
        examples=["bed 7-way"],
    )
    connector: entry.Connector = Field(description="Kind of socket.")
    join: words.JoinWord | None = Field(default=None, description="How it gets its wires.")
    joins: entry.Name | None = Field(
        default=None,
        description='Name of the socket whose wires it joins, or "vehicle" or "converter".',
    )
    joint: entry.Joint | None = Field(default=None, description="How the wires are joined.")
    location: entry.Text | None = Field(default=None, description="Where it sits.")
    ground: words.GroundWord | None = Field(
        default=None, description="Where the ground wire ends: in the old one, or on the frame."
    )
    ground_wire: JobWire | None = Field(
        default=None, description="Wire from the ground pin to where it ends."
    )
    slack: entry.Length | None = Field(
        default=None, description="Length kept in hand on the route."
    )
    lead: JobLead | None = Field(default=None, description="The conductors behind the socket.")
    legs: tuple[JobLeg, ...] = Field(
        default=(), alias="leg", description="The route from the joint to the socket, leg by leg."
    )


class JobConverter(JobPart):
    """A box between the vehicle's wires and a socket."""

    name: entry.Name | None = Field(default=None, description="What you call it.")
    kind: words.ConverterWord = Field(
        description="Makes one signal of two, or two of one; isolates; or steps 24 V down."
    )
    powered: StrictBool | None = Field(
        default=None,
        description="Whether it has a feed of its own and only senses the vehicle's wires.",
    )
    channels: dict[entry.Function, entry.Current] | None = Field(
        default=None, description="Rating of each output."
    )
    on_resistance: entry.Resistance | None = Field(
        default=None, description="Resistance of an output that is on."
    )
    trigger: entry.Current | None = Field(
        default=None, description="Current it takes from each vehicle wire it senses."
    )
    joint: entry.Joint | None = Field(default=None, description="How it joins the vehicle's wires.")
    feed: JobSupplyFeed | None = Field(default=None, description="Its own feed from the battery.")
    ground: JobWire | None = Field(default=None, description="Its ground wire.")
    output: entry.Voltage | None = Field(
        default=None, description="Output of a step-down converter."
    )
    limit: entry.Current | None = Field(default=None, description="Most current a step-down gives.")
    efficiency: entry.ShareAboveZero | None = Field(
        default=None, description="Output power over input power of a step-down converter."
    )
