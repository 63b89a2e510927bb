"""What to do about a conductor that has no partner: which feed to bring, or how to leave it."""

from __future__ import annotations

from loomwright.hookup.standing import title
from loomwright.quantities import Units, show_length
from loomwright.reference.functions import function
from loomwright.reference.limits import limit

MM_PER_IN = 25.4
NO_BREAK = "\u00a0"
BY_RELAY = "through a relay that closes with the engine running"

FEED_FROM = {
    "battery": "Run a wire from the battery, its fuse within {near} of the post.",
    "charge": f"Run a wire from the battery, its fuse within {{near}} of the post, {BY_RELAY}.",
    "ignition": f"Run a wire from the battery, its fuse within {{near}} of the post, {BY_RELAY}.",
    "brake": "Run a wire from the brake controller, sized for every magnet at full output.",
    "reverse": "Bring the reverse lamp circuit: find its wire at the lamp by test, and take it "
    "by a relay where the vehicle watches its lamps.",
    "fog": "Bring the rear fog lamp circuit: find its wire at the lamp by test.",
}
"""Where a feed is found; common practice but for the distance of the fuse."""


def feed_advice(key: str, units: Units) -> str:
    """Say how to bring a function to a conductor that nothing feeds."""
    if function(key).is_return:
        return "Run this return to a ring of its own on bare frame."
    usual = f"Find the wire for {title(key)} on the vehicle by test, and bring it to the socket."
    return FEED_FROM.get(key, usual).format(near=fuse_distance(units))


def fuse_distance(units: Units) -> str:
    """Longest wire between a source and its fuse, for people. Source: abyc-e11."""
    longest_mm = limit("fuse-distance").value
    if units is Units.US:
        return f"{longest_mm / MM_PER_IN:.0f}{NO_BREAK}in"
    return show_length(longest_mm / 1000, units)
