"""The report of `tolerance`: bands of every reading, and what matters most."""

from __future__ import annotations

from typing import Final

from loomwright.electrics.sensitivity import Matter, matters_at, slopes_of
from loomwright.electrics.spreads import STATED
from loomwright.electrics.tolerance import CommandBands, Tolerance
from loomwright.electrics.varied import VariedRig
from loomwright.reports.plain import VERSION, Plain, plain, reading

TOLERANCE_FORMAT: Final = "loomwright/tolerance"

MATTERING: Final = 5
"""Things named for each load."""


def tolerance_report(found: Tolerance, varied: VariedRig, file: str = "") -> dict[str, Plain]:
    """Return the bands of a rig as plain values.

    Parameters
    ----------
    found : Tolerance
        The bands.
    varied : VariedRig
        The rig they are of.
    file : str
        Name of its file.
    """
    return {
        "format": TOLERANCE_FORMAT,
        "version": VERSION,
        "file": file,
        "rig": varied.wiring.rig.name,
        "samples": found.samples,
        "seed": found.seed,
        "joints": found.joints,
        "spreads": [plain(row) for row in STATED.values()],
        "commands": {
            bands.command: _command(bands, varied, base)
            for base, bands in enumerate(found.commands)
        },
    }


def _command(bands: CommandBands, varied: VariedRig, base: int) -> dict[str, Plain]:
    slopes = slopes_of(varied, base)
    return {
        "loads": [
            {
                **_object(plain(load)),
                "matters": [
                    _matter(each) for each in matters_at(varied, slopes, load.name)[:MATTERING]
                ],
            }
            for load in bands.loads
        ],
        "pins": [plain(pin) for pin in bands.pins],
        "opened": {fuse: reading(share) for fuse, share in bands.opened.items()},
    }


def _object(value: Plain) -> dict[str, Plain]:
    return value if isinstance(value, dict) else {}


def _matter(each: Matter) -> dict[str, Plain]:
    return {
        "element": each.name,
        "place": each.place,
        "per_share_v": reading(each.per_share_v),
        "swing_v": reading(each.swing_v),
    }
