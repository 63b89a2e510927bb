"""The whole pairing of a rig, stage by stage."""

from __future__ import annotations

from loomwright.hookup.converter_stage import converter_pairs
from loomwright.hookup.model import Hookup
from loomwright.hookup.needs import converter_needs
from loomwright.hookup.plug_stage import plug_pairs
from loomwright.hookup.splice_stage import splice_pairs
from loomwright.hookup.traps import traps_met
from loomwright.rig.model import Rig


def pair(rig: Rig) -> Hookup:
    """Pair every conductor of a rig by its function, and name what misleads.

    Parameters
    ----------
    rig : Rig
        Complete rig.

    Returns
    -------
    Hookup
        Splices from the vehicle backwards, then the plug; converters needed; traps met.
    """
    splices = [pair for socket in rig.sockets for pair in splice_pairs(rig, socket)]
    pairs = (*converter_pairs(rig), *splices, *plug_pairs(rig))
    return Hookup(pairs=pairs, needs=converter_needs(rig), traps=traps_met(rig, pairs))
