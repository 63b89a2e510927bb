"""The wires of a converter: what it listens to, its own supply, its ground."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.hookup.advice import feed_advice
from loomwright.hookup.ends import CONVERTER, FRAME, feed_end
from loomwright.hookup.model import End, Pair, SpliceChoice, Standing
from loomwright.hookup.schemes import converter_inputs
from loomwright.hookup.splices import ring_choice, splice_choice
from loomwright.hookup.standing import headline, title
from loomwright.rig.model import Converter, Rig

SOURCE = "trade-converters"


@dataclass(frozen=True, slots=True)
class Terminal:
    """One wire of the box and what it meets on the vehicle."""

    box: Converter
    function: str
    left: End | None

    def pair(self, says: str, do: str, splice: SpliceChoice | None = None) -> Pair:
        """Return the joint; the box's own colours are not known here."""
        standing = Standing.NO_FEED if self.left is None else Standing.UNKNOWN
        right = End(CONVERTER, self.function, None, None, None, self.box.name)
        return Pair(
            stage="splice",
            socket=self.box.name,
            function=self.function,
            vehicle_side=self.left,
            trailer_side=right,
            standing=standing,
            says=says,
            do=do,
            splice=splice,
            source=SOURCE,
        )


def converter_pairs(rig: Rig) -> tuple[Pair, ...]:
    """Pair the vehicle's wires with a converter's inputs, then its supply and its ground."""
    box = rig.converter
    if box is None:
        return ()
    fed = [feed.function for feed in rig.vehicle.feeds]
    inputs = converter_inputs(box.channel_a, fed)
    supply = (_supply(rig, box),) if box.powered else ()
    return (*(_input(rig, box, name) for name in inputs), *supply, _ground(box))


def _input(rig: Rig, box: Converter, name: str) -> Pair:
    feed = rig.vehicle.feed_for(name)
    if feed is None:
        return Terminal(box, name, None).pair(
            f"{headline(name)}: the converter listens for it, and the vehicle lists no such wire.",
            f"Find the wire for {title(name)} on the vehicle, or end that input as the leaflet "
            "of the box says.",
        )
    end = feed_end(feed)
    colour = end.colour.words if end.colour is not None else "the vehicle wire"
    return Terminal(box, name, end).pair(
        f"{headline(name)}: {colour} feeds the converter's input for it.",
        "Join to the input named for this function; measure first.",
        splice_choice(box.joint, feed.wire.size, None),
    )


def _supply(rig: Rig, box: Converter) -> Pair:
    if box.feed is None:
        return Terminal(box, "battery", None).pair(
            "The converter's own supply: none is described, and a powered converter needs one.",
            feed_advice("battery", rig.units),
        )
    end = feed_end(box.feed)
    colour = end.colour.words if end.colour is not None else "a wire"
    fuse = "no fuse" if box.feed.fuse is None else f"a {box.feed.fuse.rating_a:g} A fuse"
    return Terminal(box, "battery", end).pair(
        f"The converter's own supply: {colour} from the battery, behind {fuse}.",
        "Join this one last, with its fuse out.",
        splice_choice(box.joint, None, None),
    )


def _ground(box: Converter) -> Pair:
    colour = box.ground.colour
    end = End(FRAME, "ground", colour, box.ground.size, None, "own ring on bare frame")
    return Terminal(box, "ground", end).pair(
        "The converter's ground: to a ring of its own on bare frame.",
        "Crimp a ring, bolt it to bare frame, coat the finished joint.",
        ring_choice(box.ground.size),
    )
