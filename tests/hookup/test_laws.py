"""Laws of the pairing, on rigs made of any two connectors and any colours."""

from dataclasses import replace
from functools import cache

from hypothesis import given
from hypothesis import strategies as st
from tests.hookup.meetings import meeting
from tests.rigs import brake_rig, caravan_rig, simple_rig, step_down_rig, van_rig

from loomwright import examples
from loomwright.colours import Colour
from loomwright.colours.colour import colour_names
from loomwright.hookup import Hookup, Pair, Standing, pair
from loomwright.hookup.schemes import may_join
from loomwright.reference.connectors import connector_keys
from loomwright.reference.functions import function
from loomwright.reference.sources import cited, sources
from loomwright.rig.model import Join, PinWire, Rig, Wire
from loomwright.rig.read import read_rig

KEYS = st.sampled_from(connector_keys())
JOINS = st.sampled_from(list(Join))
COLOURS = st.none() | st.builds(
    Colour, st.sampled_from(colour_names()), st.none() | st.sampled_from(colour_names())
)
UNJOINED = {Standing.NO_FEED, Standing.NO_PARTNER, Standing.LOST_IN_ADAPTER}


@cache
def example(name: str) -> Rig:
    return read_rig(examples.text(name), name)


@st.composite
def rigs(draw: st.DrawFn) -> Rig:
    """Any plug at any socket, joined in any way; or a small rig; or an example as it stands."""
    if draw(st.integers(0, 4)) == 0:
        return example(draw(st.sampled_from(examples.names())))
    made = draw(
        st.builds(meeting, KEYS, KEYS)
        | st.builds(
            lambda make: make(),
            st.sampled_from([brake_rig, caravan_rig, simple_rig, step_down_rig, van_rig]),
        )
    )
    join = draw(JOINS)
    joint = "plug-in" if join is Join.TEE else draw(st.sampled_from(["sealed-butt", "wire-nut"]))
    sockets = tuple(replace(socket, join=join, joint=joint) for socket in made.sockets)
    return replace(made, sockets=sockets)


@given(rigs())
def test_pairs_join_only_ends_that_can_feed_one_another(rig: Rig) -> None:
    for each in pair(rig).pairs:
        left, right = each.vehicle_side, each.trailer_side
        if left is None or right is None or each.standing in UNJOINED:
            continue
        if left.of == "vehicle" and right.of == "converter":
            assert left.function == right.function
        elif each.standing in (Standing.TRAP, Standing.NEEDS_CONVERTER):
            is_forbidden = each.do.startswith(("Rewire", "Fit", "Do not"))
            assert may_join(left.function, right.function) or is_forbidden
        else:
            assert may_join(left.function, right.function)
            assert function(left.function).is_return == function(right.function).is_return


@given(rigs())
def test_every_conductor_of_lead_and_cord_stands_in_exactly_one_pair_of_its_stage(
    rig: Rig,
) -> None:
    found = pair(rig)
    for socket in rig.sockets:
        pins = [
            each.trailer_side.pin
            for each in found.at("splice")
            if each.socket == socket.name and each.trailer_side is not None
        ]
        expected = [] if socket.join is Join.FACTORY else [wire.pin for wire in socket.lead]
        assert sorted(map(str, pins)) == sorted(expected)
    met = [each for each in found.pairs if each.stage != "splice"]
    cord = [each.trailer_side.pin for each in met if each.trailer_side is not None]
    assert sorted(map(str, cord)) == sorted(wire.pin for wire in rig.trailer.cord)
    lead = {each.vehicle_side.pin for each in met if each.vehicle_side is not None}
    assert lead == {wire.pin for wire in rig.towing_socket.lead}


@given(rigs(), st.lists(COLOURS, min_size=3, max_size=12))
def test_colours_never_change_who_joins_whom(rig: Rig, palette: list[Colour | None]) -> None:
    painted = painted_anew(rig, palette)

    assert joints(pair(painted)) == joints(pair(rig))


@given(rigs())
def test_a_joint_is_a_trap_by_colour_only_with_both_meanings_named(rig: Rig) -> None:
    for each in pair(rig).pairs:
        assert bool(each.meanings) or each.standing is not Standing.TRAP
        for words in each.meanings:
            assert " and " in words


@given(rigs())
def test_every_pair_says_and_does_something_and_has_a_source(rig: Rig) -> None:
    known = {row.key for row in sources()}
    found = pair(rig)
    for each in (*found.pairs, *found.needs, *found.traps):
        assert {key for key, _ in cited(each.source)} <= known
        assert each.says.endswith(".")
        assert each.says[:1] == each.says[:1].upper()
    for joint in found.pairs:
        assert joint.do.endswith(".")
        assert "{" not in joint.do


def joints(found: Hookup) -> list[tuple[object, ...]]:
    """Who joins whom, leaving out everything that may follow the colours."""
    return [_joint(each) for each in found.pairs]


def _joint(each: Pair) -> tuple[object, ...]:
    ends = tuple(
        None if end is None else (end.of, end.function, end.pin, end.place)
        for end in (each.vehicle_side, each.trailer_side)
    )
    return (each.stage, each.socket, each.function, ends, each.splice)


def painted_anew(rig: Rig, palette: list[Colour | None]) -> Rig:
    """The same rig with other colours, taken from the palette in turn."""
    turn = iter(palette * 200)

    def paint(wire: Wire) -> Wire:
        return replace(wire, colour=next(turn))

    def repaint(wires: tuple[PinWire, ...]) -> tuple[PinWire, ...]:
        return tuple(replace(each, wire=paint(each.wire)) for each in wires)

    feeds = tuple(replace(each, wire=paint(each.wire)) for each in rig.vehicle.feeds)
    sockets = tuple(
        replace(each, lead=repaint(each.lead), ground=paint(each.ground)) for each in rig.sockets
    )
    trailer = replace(rig.trailer, cord=repaint(rig.trailer.cord))
    vehicle = replace(rig.vehicle, feeds=feeds, ground=paint(rig.vehicle.ground))
    return replace(rig, vehicle=vehicle, sockets=sockets, trailer=trailer)
