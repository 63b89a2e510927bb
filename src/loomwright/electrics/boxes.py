"""A converter as part of the network.

Three things decide how it is drawn. A powered one gives from its own supply and only listens to
the vehicle's wires; another one passes the vehicle's own current on. What it does not handle
passes it by. A step-down one has one 12 V rail behind its own supply wire, or, without such a
wire, one small step-down for each channel.
"""

from __future__ import annotations

from loomwright.circuit import Load, Ohmic, Transformed
from loomwright.electrics.carriers import inputs_of
from loomwright.electrics.harness import BATTERY_PLUS, CHASSIS, Ends, Harness, Spot, slug
from loomwright.electrics.places import LoadPlace
from loomwright.electrics.resistances import LEAST_OHM
from loomwright.electrics.stated import stated_ohm, stated_v
from loomwright.electrics.vehicle_side import add_fuse, feed_node
from loomwright.rig.model import Converter, ConverterKind, Rig

GROUND = "converter_ground"
SUPPLY_SWITCH = "converter_feed_switch"


def output_node(function: str) -> str:
    """Node of an output of the converter."""
    return slug("converter_out", function)


def channel_switch(output: str, source: str = "") -> str:
    """Name of the switch of an output, from the rail or from one of the vehicle's feeds."""
    return slug("converter_switch", output, source and f"from_{source}")


def add_converter(bench: Harness, rig: Rig, box: Converter) -> None:
    """Put the converter, its wires and its loads on the bench."""
    _add_ground(bench, box)
    fed = tuple(feed.function for feed in rig.vehicle.feeds)
    made_from = {out: inputs_of(out, fed) for out in box.channel_a}
    listened = tuple(dict.fromkeys(f for inputs in made_from.values() for f in inputs))
    for function in listened:
        _add_input(bench, rig, box, function)
    rail = _add_supply(bench, rig, box)
    for output, inputs in made_from.items():
        _add_channel(bench, rig, rail, output, inputs)


def _add_ground(bench: Harness, box: Converter) -> None:
    spot = Spot("return", "converter", "ground", "converter.ground")
    ring, place = "converter_ground_ring", "converter's ground wire"
    bench.wire("converter_ground_wire", (GROUND, ring), box.ground, place, spot)
    bench.joint("converter_ground_stud", (ring, CHASSIS), "ring-terminal", "ring of " + place, spot)


def _add_input(bench: Harness, rig: Rig, box: Converter, function: str) -> None:
    spot = Spot("supply", "converter", function, f"converter.input.{function}")
    node, said = _input_node(function), function.replace("_", " ")
    name = slug("converter_joint", function)
    place = f"converter's joint to the {said} feed"
    bench.joint(name, (feed_node(function), node), box.joint, place, spot)
    if not box.powered or box.trigger_a <= 0:
        return
    trigger = slug("converter_trigger", function)
    law = Ohmic(rig.vehicle.supply.nominal_v / box.trigger_a)
    bench.add(Load(trigger, node, GROUND, law), "load", f"converter's {said} input", spot)
    bench.loads.append(
        LoadPlace(f"converter {said} input", "trigger", function, trigger, node, GROUND, function)
    )


def _add_supply(bench: Harness, rig: Rig, box: Converter) -> str | None:
    """Return the node the outputs of a powered converter are switched from."""
    if not box.powered and box.feed is None:
        return None
    spot = Spot("supply", "feed", "battery", "converter.feed")
    supply, place = "converter_supply", "converter's own feed"
    if box.feed is None:
        _add_straight(bench, supply, spot, place)
    else:
        fused = add_fuse(bench, "converter_feed", box.feed, place, spot)
        live = "converter_feed_live"
        bench.switch(SUPPLY_SWITCH, (fused, live), LEAST_OHM, f"switch of the {place}", spot)
        bench.wire("converter_feed_wire", (live, supply), box.feed.wire, f"{place} wire", spot)
    if box.kind is not ConverterKind.STEP_DOWN:
        return supply
    rail = "converter_rail"
    _add_step_down(bench, box, rig.trailer.nominal_v, (supply, rail), "")
    return rail


def _add_straight(bench: Harness, supply: str, spot: Spot, place: str) -> None:
    """A powered converter without a wire of its own in the job: straight from the battery."""
    bench.switch(SUPPLY_SWITCH, (BATTERY_PLUS, supply), LEAST_OHM, place, spot)


def _add_step_down(bench: Harness, box: Converter, nominal_v: float, ends: Ends, only: str) -> None:
    """Put in a regulated output for all channels, or for `only` one."""
    output_v = box.output_v if box.output_v is not None else nominal_v
    channels_a = box.channel_a[only] if only else sum(box.channel_a.values())
    limit_a = box.max_current_a if box.max_current_a is not None else channels_a
    into, out = ends
    element = Transformed(
        slug("converter_step_down", only),
        into,
        GROUND,
        out,
        GROUND,
        emf_v=output_v,
        resistance_ohm=stated_ohm("converter.step_down.resistance_ohm"),
        efficiency=box.efficiency,
        max_current_a=limit_a,
        off_below_v=stated_v("converter.step_down.off_below_v") * output_v / 12.0,
    )
    spot = Spot("supply", "converter", only or "battery", "converter")
    bench.add(element, "converter", "step-down converter", spot)


def _add_channel(
    bench: Harness, rig: Rig, rail: str | None, output: str, inputs: tuple[str, ...]
) -> None:
    """Switch an output from the rail, or from each of its inputs."""
    box = rig.converter
    if box is None or not inputs:
        return
    spot = Spot("supply", "converter", output, f"converter.channel.{output}")
    place = f"converter's {output.replace('_', ' ')} output"
    bench.channels[output] = inputs
    end = output_node(output)
    if rail is not None:
        name = channel_switch(output)
        bench.switch(name, (rail, end), box.on_resistance_ohm, place, spot)
        return
    if box.kind is ConverterKind.STEP_DOWN:
        end = slug("converter_taken", output)
        nominal_v = rig.trailer.nominal_v
        _add_step_down(bench, box, nominal_v, (end, output_node(output)), output)
    for function in inputs:
        name = channel_switch(output, function)
        bench.switch(name, (_input_node(function), end), box.on_resistance_ohm, place, spot)


def _input_node(function: str) -> str:
    return slug("converter_in", function)
