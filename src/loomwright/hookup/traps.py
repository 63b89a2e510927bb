"""Which traps of the trade a rig walks into, or passes close by.

The traps themselves, with their sources, are rows of the trap table; `trap_grave` and
`trap_near` hold only how each is recognised on a rig. A trap is grave where the rig as described
would hurt or damage.
"""

from __future__ import annotations

from collections.abc import Iterable

from loomwright.hookup.model import Pair, TrapFound
from loomwright.hookup.trap_grave import GRAVE
from loomwright.hookup.trap_looks import Detector
from loomwright.hookup.trap_near import NEAR
from loomwright.reference.traps import Trap, traps
from loomwright.rig.model import Rig

TOLD_WHILE_READING = frozenset({"letters-collide"})
"""Traps no rig can show: a colour with two readings is refused before there is a rig."""


def traps_met(rig: Rig, pairs: tuple[Pair, ...]) -> tuple[TrapFound, ...]:
    """Return the traps of this rig, grave ones first, in the order of the trap table."""
    found = [_found(row, rig, pairs) for row in traps()]
    met = [trap for trap in found if trap is not None]
    return tuple(sorted(met, key=lambda trap: not trap.grave))


def _found(row: Trap, rig: Rig, pairs: tuple[Pair, ...]) -> TrapFound | None:
    grave = _where(GRAVE.get(row.key, ()), rig, pairs)
    near = grave or _where(NEAR.get(row.key, ()), rig, pairs)
    if near is None:
        return None
    return TrapFound(
        row.key, row.title, near, row.says, row.do, grave=grave is not None, source=row.source
    )


def _where(detectors: Iterable[Detector], rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    return next((where for look in detectors if (where := look(rig, pairs)) is not None), None)
