"""The pairing of a rig as a report."""

from __future__ import annotations

from loomwright.hookup.model import Hookup
from loomwright.reports.plain import VERSION, Plain, plain
from loomwright.rig.model import Rig

HOOKUP_FORMAT = "loomwright/hookup"


def hookup_report(rig: Rig, hookup: Hookup) -> dict[str, Plain]:
    """Return the pairing: pairs by stage, converters needed, traps met."""
    return {
        "format": HOOKUP_FORMAT,
        "version": VERSION,
        "rig": rig.name,
        "pairs": plain(hookup.pairs),
        "needs": plain(hookup.needs),
        "traps": plain(hookup.traps),
    }
