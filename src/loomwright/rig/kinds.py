"""The kinds a rig is described with: signal systems, joins, returns, converters, brakes."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

Side = Literal["left", "right", "centre"]


class SignalSystem(StrEnum):
    """How stop and turn share wires: one lamp for both, or a wire each."""

    COMBINED = "combined"
    SEPARATE = "separate"


class SocketFeed(StrEnum):
    """What feeds the trailer wires: it decides how a lost ground shows.

    Shared wires offer a way home through the vehicle's own lamps; a relay or a module does not.
    """

    SHARED = "shared"
    RELAY = "relay"
    MODULE = "module"


class LampDrive(StrEnum):
    """How the vehicle drives its lamps."""

    STEADY = "steady"
    PULSED = "pulsed"
    MONITORED = "monitored"


class Live(StrEnum):
    """When a feed carries voltage."""

    COMMAND = "command"
    ALWAYS = "always"
    IGNITION = "ignition"
    ENGINE = "engine"


class Join(StrEnum):
    """How a socket gets its wires."""

    FACTORY = "factory"
    CUT = "cut"
    BRANCHED = "branched"
    TEE = "tee"
    SCRATCH = "scratch"


class GroundMethod(StrEnum):
    """Where a ground wire ends: in the old ground wire, or at its own ring on the frame."""

    OLD_WIRE = "old-wire"
    OWN_RING = "own-ring"


class Returns(StrEnum):
    """How current comes home from the trailer's loads."""

    WIRE = "wire"
    FRAME = "frame"


class ConverterKind(StrEnum):
    """What a converter does."""

    COMBINE = "combine"
    SPLIT = "split"
    ISOLATE = "isolate"
    STEP_DOWN = "step-down"


class Braking(StrEnum):
    """How the trailer brakes."""

    NONE = "none"
    ELECTRIC = "electric"
    ELECTRIC_OVER_HYDRAULIC = "electric-over-hydraulic"
    SURGE = "surge"
    AIR = "air"
