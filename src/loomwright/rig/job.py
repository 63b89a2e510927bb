"""The job file as a person writes it: an installer's notes, most of which may be left out.

Each value is the text that was written, already found readable (see `entries`). What a value
means in SI units, and what is taken where it was left out, is the matter of `assemble`.
"""

from __future__ import annotations

from pydantic import Field, StrictBool

from loomwright.rig import entries as entry
from loomwright.rig import words
from loomwright.rig.job_part import JobPart
from loomwright.rig.job_socket import JobConverter, JobSocket
from loomwright.rig.job_trailer import JobTrailer
from loomwright.rig.job_vehicle import JobVehicle


class JobAbout(JobPart):
    """What the job is and who does it."""

    name: entry.Name | None = Field(
        default=None,
        description="Name of the job. Left out: vehicle and trailer.",
        examples=["Quillon van and Marsh Hollow horse trailer"],
    )
    kind: entry.Name | None = Field(
        default=None,
        description="Kind of job, in your own words.",
        examples=["second socket in the bed"],
    )
    units: words.UnitsWord | None = Field(
        default=None, description="Units you want to read. You may write any."
    )
    jurisdiction: words.Jurisdiction | None = Field(
        default=None, description="Whose lamp and wiring rules to check the trailer by."
    )
    commercial: StrictBool | None = Field(
        default=None,
        description="Whether vehicle and trailer together count as a commercial vehicle.",
    )
    towing: entry.Name | None = Field(
        default=None,
        description="Name of the socket the trailer plugs into. Left out: the last one.",
        examples=["bed 7-way"],
    )
    shop: entry.Name | None = Field(
        default=None, description="Name of the shop, for the head of the sheet."
    )
    customer: entry.Name | None = Field(default=None, description="Name of the customer.")
    technician: entry.Name | None = Field(default=None, description="Who does the work.")
    date: entry.Date | None = Field(default=None, description="Day of the job, year-month-day.")
    notes: entry.Text | None = Field(
        default=None, description="What else the next person should know."
    )


class JobAdapter(JobPart):
    """An adapter between socket and plug."""

    socket: entry.Connector | None = Field(
        default=None,
        description="Connector it plugs into. Left out: the socket the trailer tows from.",
    )
    plug: entry.Connector | None = Field(
        default=None, description="Connector it takes. Left out: the trailer's plug."
    )


class Job(JobPart):
    """A job: the vehicle, its sockets, what stands between, and the trailer."""

    rig: JobAbout = Field(
        default=JobAbout(), description="The job itself, for the head of the sheet."
    )
    vehicle: JobVehicle = Field(
        default=JobVehicle(), description="The tow vehicle and its circuits."
    )
    converter: JobConverter | None = Field(
        default=None, description="A box between the vehicle's wires and a socket."
    )
    adapter: JobAdapter | None = Field(
        default=None, description="An adapter between socket and plug."
    )
    sockets: tuple[JobSocket, ...] = Field(
        alias="socket",
        min_length=1,
        description="The sockets on the vehicle, those of the factory first.",
    )
    trailer: JobTrailer = Field(description="The trailer, from its plug to its farthest lamp.")
