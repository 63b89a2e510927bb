"""What is not known of a rig and matters: kept open, not assumed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from loomwright.rig.model import Rig, SocketFeed

OTHER_FEED: Final = {
    SocketFeed.SHARED: SocketFeed.RELAY,
    SocketFeed.RELAY: SocketFeed.SHARED,
    SocketFeed.MODULE: SocketFeed.SHARED,
}

SHARE: Final = 0.6
"""Of what was assumed, against the other way."""


def rigs_it_may_be(rig: Rig) -> Sequence[tuple[Rig, float]]:
    """Return the rig, and as well the one it may be instead where its feed was only assumed.

    Parameters
    ----------
    rig : Rig
        The rig.
    """
    is_assumed = any(each.field.endswith("socket_feed") for each in rig.assumptions)
    if not is_assumed:
        return ((rig, 1.0),)
    other = OTHER_FEED[rig.vehicle.socket_feed]
    vehicle = replace(rig.vehicle, socket_feed=other)
    return ((rig, SHARE), (replace(rig, vehicle=vehicle), 1.0 - SHARE))
