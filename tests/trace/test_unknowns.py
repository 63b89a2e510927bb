"""What a job file leaves out and matters is kept open, not assumed."""

import pytest

from loomwright import examples, read_rig
from loomwright.rig.model import SocketFeed
from loomwright.trace.unknowns import rigs_it_may_be

STATED = examples.text("utility-rewire")
LEFT_OUT = STATED.replace('socket_feed = "shared"\n', "")


def test_a_feed_that_was_only_assumed_is_kept_open_both_ways() -> None:
    """The same open ground glows on shared wires and is dead behind a relay."""
    rigs = rigs_it_may_be(read_rig(LEFT_OUT))

    assert {rig.vehicle.socket_feed for rig, _ in rigs} == {SocketFeed.SHARED, SocketFeed.RELAY}
    assert sum(share for _, share in rigs) == pytest.approx(1.0)


def test_a_feed_that_was_stated_is_believed() -> None:
    ((rig, share),) = rigs_it_may_be(read_rig(STATED))

    assert (rig.vehicle.socket_feed, share) == (SocketFeed.SHARED, 1.0)
