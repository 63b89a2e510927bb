"""DC networks: elements between nodes, solved with every return shared. Knows no vehicles."""

from loomwright.circuit.elements import (
    ConstantPower,
    Driver,
    Element,
    Fuse,
    Load,
    Resistor,
    Source,
    Switch,
    Transformed,
)
from loomwright.circuit.flashers import Beat, Flasher, beats
from loomwright.circuit.laws import Filament, Law, Ohmic, Pulsed
from loomwright.circuit.network import Case, Network
from loomwright.circuit.progress import Cancelled
from loomwright.circuit.solution import Solution
from loomwright.circuit.solver import settle_alike, settle_many, solve, solve_many
from loomwright.circuit.spice import spice_nodes, write_spice
from loomwright.circuit.thresholds import ChargingBattery, Diode, LedCurrent, LedString
from loomwright.circuit.unsettled import NoSettledState

__all__ = [
    "Beat",
    "Cancelled",
    "Case",
    "ChargingBattery",
    "ConstantPower",
    "Diode",
    "Driver",
    "Element",
    "Filament",
    "Flasher",
    "Fuse",
    "Law",
    "LedCurrent",
    "LedString",
    "Load",
    "Network",
    "NoSettledState",
    "Ohmic",
    "Pulsed",
    "Resistor",
    "Solution",
    "Source",
    "Switch",
    "Transformed",
    "beats",
    "settle_alike",
    "settle_many",
    "solve",
    "solve_many",
    "spice_nodes",
    "write_spice",
]
