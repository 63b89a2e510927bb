"""What every part of a job file shares: nothing unknown gets in, and nothing changes later."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from loomwright.rig import entries as entry


class JobPart(BaseModel):
    """A table of the job file."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class JobWire(JobPart):
    """A conductor: what is left out is taken from the lead it belongs to, or from the defaults."""

    model_config = ConfigDict(json_schema_extra={"examples": [{"size": "12 AWG"}]})

    size: entry.Size | None = Field(
        default=None,
        description="Conductor size with its system: AWG, SAE (vehicle primary wire) or mm2.",
    )
    length: entry.WireLength | None = Field(default=None, description="Length one way.")
    colour: entry.Colour | None = Field(
        default=None, description="Insulation colour, base first, as in any manual."
    )
    insulation: entry.Insulation | None = Field(default=None, description="Kind of insulation.")


class JobBranch(JobPart):
    """Where a load leaves the run: how far back, its own wires, and its joint."""

    back: entry.Length | None = Field(
        default=None, description="Distance behind the junction, along the run."
    )
    branch: JobWire | None = Field(default=None, description="Wire from the run to the load.")
    ground: JobWire | None = Field(
        default=None, description="Wire from the load to the ground run, or to the frame."
    )
    joint: entry.Joint | None = Field(
        default=None, description="How the branch joins the run.", examples=["sealed-butt"]
    )
