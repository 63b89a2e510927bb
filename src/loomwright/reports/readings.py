"""The readings of one command under one set of conditions."""

from __future__ import annotations

from loomwright.electrics.answers import (
    CommandAnswer,
    ConductorAnswer,
    FuseAnswer,
    JointAnswer,
    LoadAnswer,
    PinAnswer,
    Rung,
)
from loomwright.reports.plain import Plain, reading


def readings(answer: CommandAnswer) -> dict[str, Plain]:
    """Return every reading; what hangs in the air has none.

    Parameters
    ----------
    answer : CommandAnswer
        One command solved under one set of conditions.
    """
    return {
        "supply_v": reading(answer.supply_v),
        "supply_current_a": reading(answer.supply_current_a),
        "loads": [_load(load) for load in answer.loads],
        "conductors": [_conductor(row) for row in answer.conductors],
        "joints": [_joint(row) for row in answer.joints],
        "fuses": [_fuse(row) for row in answer.fuses],
        "pins": [_pin(row) for row in answer.pins],
        "nodes_v": {
            name: None if name in answer.floating else reading(volts)
            for name, volts in answer.nodes_v.items()
        },
        "opened": list(answer.opened),
        "cycling": list(answer.cycling),
        "kirchhoff_residual_a": reading(answer.kirchhoff_residual_a),
        "power_residual_w": reading(answer.power_residual_w),
    }


def _load(load: LoadAnswer) -> dict[str, Plain]:
    return {
        "name": load.name,
        "kind": load.kind,
        "function": load.function,
        "element": load.element,
        "commanded": load.commanded,
        "floating": load.floating,
        "voltage_v": None if load.floating else reading(load.voltage_v),
        "current_a": reading(load.current_a),
        "light_share": reading(load.light_share),
        "word": load.word,
        "supply_drop_v": reading(load.supply_drop_v),
        "return_drop_v": reading(load.return_drop_v),
        "ladder": [_rung(rung) for rung in load.ladder],
    }


def _rung(rung: Rung) -> dict[str, Plain]:
    return {
        "element": rung.part.element,
        "drop_v": reading(rung.drop_v),
        "current_a": reading(rung.current_a),
    }


def _conductor(row: ConductorAnswer) -> dict[str, Plain]:
    return {
        "element": row.part.element,
        "current_a": reading(row.current_a),
        "drop_v": reading(row.drop_v),
        "ampacity_a": reading(row.ampacity_a),
        "share": reading(row.share),
    }


def _joint(row: JointAnswer) -> dict[str, Plain]:
    return {
        "element": row.part.element,
        "resistance_ohm": reading(row.resistance_ohm),
        "current_a": reading(row.current_a),
        "drop_v": reading(row.drop_v),
        "heat_w": reading(row.heat_w),
    }


def _fuse(row: FuseAnswer) -> dict[str, Plain]:
    return {
        "element": row.element,
        "function": row.function,
        "place": row.place,
        "kind": row.kind,
        "rating_a": reading(row.rating_a),
        "current_a": reading(row.current_a),
        "share": reading(row.share),
        "opened": row.opened,
    }


def _pin(row: PinAnswer) -> dict[str, Plain]:
    return {
        "socket": row.socket,
        "pin": row.pin,
        "function": row.function,
        "floating": row.floating,
        "voltage_v": None if row.floating else reading(row.voltage_v),
        "to_return_v": None if row.floating else reading(row.to_return_v),
        "open_circuit_v": reading(row.open_circuit_v),
    }
