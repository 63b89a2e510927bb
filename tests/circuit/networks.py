"""Networks for the tests: drawn at random, and one of the size of a large rig."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from loomwright.circuit import (
    ChargingBattery,
    ConstantPower,
    Diode,
    Element,
    Filament,
    Fuse,
    Law,
    LedCurrent,
    LedString,
    Load,
    Network,
    NoSettledState,
    Ohmic,
    Pulsed,
    Resistor,
    Solution,
    Source,
    Switch,
    Transformed,
    solve,
)

NEVER_A = 1e6
"""Rating of a fuse that is to stay whole."""

LAWS: tuple[Law, ...] = (
    Filament(12.8, 2.1),
    Filament(13.5, 0.37, k=10.0),
    Filament(14.0, 0.27, k=14.5),
    LedString(7.0, 19.3, 0.2),
    LedString(9.1, 12.3, 0.25),
    LedCurrent(7.0, 5.6, 0.25),
    ChargingBattery(12.6, 0.08),
    Diode(0.6, 0.05),
    Ohmic(3.2),
    Pulsed(Filament(13.5, 1.85), 0.22, "heats"),
    Pulsed(Ohmic(3.2), 0.6, "freewheels"),
    Pulsed(LedString(7.0, 19.3, 0.2), 0.2, "follows"),
)

resistances_ohm = st.floats(-3.0, 1.0).map(lambda power: 10.0**power)


@st.composite
def networks(draw: st.DrawFn, laws: tuple[Law, ...] = LAWS) -> Network:
    """Meshes with islands, open switches, loads either way round, floating batteries."""
    count = draw(st.integers(2, 14))
    nodes = ["0", *(f"n{n}" for n in range(1, count))]
    pair = st.lists(st.sampled_from(nodes), min_size=2, max_size=2, unique=True)
    elements: list[Element] = [
        Source("battery", nodes[1], "0", draw(st.floats(6.0, 28.0)), draw(resistances_ohm))
    ]
    for n, node in enumerate(nodes[2:]):
        far = draw(st.sampled_from(nodes[: n + 2]))
        if draw(st.integers(0, 9)):
            elements.append(Resistor(f"wire{n}", far, node, draw(resistances_ohm)))
        else:
            elements.append(Switch(f"switch{n}", far, node, 0.01, draw(st.booleans())))
    for n in range(draw(st.integers(0, 10))):
        a, b = draw(pair)
        elements.append(Load(f"load{n}", a, b, draw(st.sampled_from(laws))))
    for n in range(draw(st.integers(0, 3))):
        a, b = draw(pair)
        elements.append(Resistor(f"mesh{n}", a, b, draw(resistances_ohm)))
    for n in range(draw(st.integers(0, 2))):
        a, b = draw(pair)
        elements.append(Source(f"aux{n}", a, b, draw(st.floats(1.0, 14.0)), draw(resistances_ohm)))
    return Network(elements)


@st.composite
def stateful_networks(draw: st.DrawFn) -> Network:
    """The same with fuses that may open, loads of constant power and converters."""
    whole = draw(networks())
    nodes = ["0", *whole.nodes]
    pair = st.lists(st.sampled_from(nodes), min_size=2, max_size=2, unique=True)
    elements: list[Element] = []
    for element in whole.elements:
        if isinstance(element, Resistor) and draw(st.booleans()):
            rating_a = draw(st.sampled_from([3.0, 5.0, 10.0, 20.0]))
            fuse = Fuse(element.name, element.a, element.b, element.resistance_ohm, rating_a)
            elements.append(fuse)
        else:
            elements.append(element)
    for n in range(draw(st.integers(0, 4))):
        a, b = draw(pair)
        power_w = draw(st.floats(0.5, 200.0))
        on_above_v = draw(st.sampled_from([7.0, 8.0, 11.0, math.inf]))
        elements.append(ConstantPower(f"power{n}", a, b, power_w, 7.0, on_above_v))
    for n in range(draw(st.integers(0, 2))):
        a, b = draw(pair)
        out = draw(st.sampled_from([node for node in ("new", *nodes) if node != b]))
        limit_a = draw(st.floats(0.5, 30.0))
        elements.append(Transformed(f"converter{n}", a, b, out, b, 13.8, 0.05, 0.9, limit_a, 9.0))
    return Network(elements)


def large_rig(lamps: int = 40) -> Network:
    """Many lamps on fused, switched feeds with one shared ground, and open bridges between."""
    elements: list[Element] = [Source("battery", "post", "0", 12.8, 0.01)]
    for n in range(lamps):
        elements += [
            Fuse(f"fuse{n}", "post", f"fused{n}", 0.005, NEVER_A),
            Switch(f"switch{n}", f"fused{n}", f"switched{n}", 0.01, closed=n % 3 != 0),
            Resistor(f"feed{n}", f"switched{n}", f"lamp{n}", 0.2),
            Load(f"load{n}", f"lamp{n}", f"earth{n}", LAWS[n % len(LAWS)]),
            Resistor(f"return{n}", f"earth{n}", "frame", 0.05),
        ]
    elements.append(Resistor("ground", "frame", "0", 0.03))
    elements += [
        Switch(f"bridge{n}", f"lamp{n}", f"lamp{n + 1}", 0.001, closed=False)
        for n in range(0, lamps - 1, 5)
    ]
    return Network(elements)


def at_rest(network: Network) -> tuple[Solution, tuple[str, ...]]:
    """Solution, and the elements that cycle, which stand off in it."""
    try:
        return solve(network), ()
    except NoSettledState as unsettled:
        if unsettled.solution is None:
            raise
        return unsettled.solution, unsettled.names
