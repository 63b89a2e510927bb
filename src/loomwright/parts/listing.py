"""Parts and cuts of the work a rig describes: new leads and feeds, or a trailer wired anew."""

from __future__ import annotations

from loomwright.hookup.model import Hookup
from loomwright.parts.cuts import feed_cuts, lead_cuts, trailer_cuts
from loomwright.parts.joints import splice_items, trailer_joint_items
from loomwright.parts.model import PartsList
from loomwright.parts.route import route_items, run_items
from loomwright.parts.supplies import feed_items, fittings, trailer_fittings
from loomwright.rig.model import Join, Rig, Socket


def parts_list(rig: Rig, hookup: Hookup) -> PartsList:
    """List what to pull from the shelf and what to cut for this rig.

    Parameters
    ----------
    rig : Rig
        Complete rig. Sockets joined by the maker and feeds that exist are not listed; where
        nothing on the vehicle is new and the trailer's wires are, its wiring is listed instead.
    hookup : Hookup
        Its pairing, which says how many of which splice.

    Returns
    -------
    PartsList
        Leads are cut to reach their route with its slack; joints are counted, not spared.
    """
    if is_rewire(rig):
        items = (*trailer_fittings(rig), *trailer_joint_items(rig), *run_items(rig))
        return PartsList(items=items, cuts=tuple(trailer_cuts(rig)))
    added = added_sockets(rig)
    cuts = (*(cut for socket in added for cut in lead_cuts(socket, hookup)), *feed_cuts(rig))
    items = (
        *(item for socket in added for item in fittings(socket)),
        *feed_items(rig),
        *splice_items(hookup, added),
        *(item for socket in added for item in route_items(socket, rig.units)),
    )
    return PartsList(items=items, cuts=cuts)


def added_sockets(rig: Rig) -> tuple[Socket, ...]:
    """Sockets this job fits, in order."""
    return tuple(socket for socket in rig.sockets if socket.join is not Join.FACTORY)


def is_rewire(rig: Rig) -> bool:
    """Whether the job renews the trailer's wires: nothing new before the plug, new behind it."""
    new_feed = any(feed.new for feed in rig.vehicle.feeds) or rig.converter is not None
    return not added_sockets(rig) and not new_feed and rig.trailer.condition == "new"
