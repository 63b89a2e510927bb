"""What to ask next: the reading that tells most for the effort, ground first, safe always."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from loomwright.identify.alike import alike
from loomwright.identify.behaviour import function_rows
from loomwright.identify.belief import Belief
from loomwright.identify.commands import DROP, GROUND_TESTS, OHMS, Command, command
from loomwright.identify.information import information_bits
from loomwright.identify.reading import Reading
from loomwright.identify.safety import allowed, is_allowed
from loomwright.identify.seen import Seen, Tester
from loomwright.identify.sight import Probe, probes

PROBE_EFFORT = 1.0
TESTER_EFFORT = 1.0
COMMAND_EFFORT = {True: 2.0, False: 4.0}
"""Effort of a probe, of taking up another tester, of another command: a word to the helper, or
a walk to the cab. Common practice."""

LEAST_BITS = 0.02
MOST_TIMES = 3
"""A reading that tells less, or was taken so often, is not asked for."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Choice:
    """A probe of a wire; `bits` is what it tells on average, `wires` what to probe after it."""

    probe: Probe
    wire: str
    bits: float
    wires: tuple[str, ...] = ()
    for_ground: bool = False


def choose(belief: Belief, readings: tuple[Reading, ...]) -> Choice | None:
    """Return what to read next; None when sure of every wire, or no reading tells anything.

    Parameters
    ----------
    belief : Belief
        What is believed after the readings.
    readings : tuple of Reading
        The readings, in the order in which they were taken.
    """
    ground = _ground_choice(belief, readings)
    if ground is not None:
        return ground
    if is_settled(belief):
        return None
    return _most_telling(belief, readings)


def is_settled(belief: Belief) -> bool:
    """Return whether every wire is known as surely as was asked for."""
    return all(settled(belief))


def settled(belief: Belief) -> tuple[bool, ...]:
    """Return for each wire whether it is known, up to functions that read alike."""
    shares = group_shares(belief)
    return tuple(bool(row.max() >= belief.bundle.sure) for row in shares)


def group_shares(belief: Belief) -> Floats:
    """Return the probability of each group of `alike` on each wire, shape (wires, groups)."""
    by_wire = belief.by_wire
    places = {function: place for place, function in enumerate(belief.functions)}
    return np.stack(
        [by_wire[:, [places[f] for f in group]].sum(axis=1) for group in alike(belief.bundle)],
        axis=1,
    )


def switch_effort(bundle_has_helper: bool, last: Probe | None, probe: Probe) -> float:
    """Return the effort to get from one probe to another before the wire is touched."""
    if last is None:
        return COMMAND_EFFORT[bundle_has_helper]
    effort = (
        0.0 if _held(last.command) == _held(probe.command) else COMMAND_EFFORT[bundle_has_helper]
    )
    set_up = (last.tester, last.command in GROUND_TESTS) != (
        probe.tester,
        probe.command in GROUND_TESTS,
    )
    return effort + (TESTER_EFFORT if set_up else 0.0)


def _held(held: Command) -> str:
    return held.hold


def _most_telling(belief: Belief, readings: tuple[Reading, ...]) -> Choice | None:
    ways = probes(belief.bundle)
    bits = _bits(belief, ways)
    taken = Counter((each.command, each.wire, each.tester) for each in readings)
    unsafe = ~allowed(belief, readings, ways)
    for number, probe in enumerate(ways):
        for place, wire in enumerate(belief.bundle.wires):
            first = unsafe[number, place] and _opens_with_rest(readings, probe, wire.key)
            if first:
                bits[number, place] *= PROBE_EFFORT / (2.0 * PROBE_EFFORT)
            elif unsafe[number, place] or taken[_mark(probe, wire.key)] >= MOST_TIMES:
                bits[number, place] = 0.0
    bits[:, settled(belief)] = 0.0
    if bits.max() < LEAST_BITS:
        return None
    last = _last_probe(readings)
    worths = [
        _worth(row, switch_effort(belief.bundle.helper, last, probe), belief.entropy_bits)
        for row, probe in zip(bits, ways, strict=True)
    ]
    best = int(np.argmax(worths))
    return _rest_first(readings, _choice(belief, ways[best], bits[best]))


def _opens_with_rest(readings: tuple[Reading, ...], probe: Probe, wire: str) -> bool:
    """Return whether only a reading at rest is missing before ohms may be measured."""
    return probe.command == OHMS and not any(
        (each.command, each.wire) == ("rest", wire) for each in readings
    )


def _rest_first(readings: tuple[Reading, ...], choice: Choice) -> Choice:
    if not _opens_with_rest(readings, choice.probe, choice.wire):
        return choice
    return replace(choice, probe=Probe(command("rest"), Tester.METER), wires=())


def _bits(belief: Belief, ways: tuple[Probe, ...]) -> Floats:
    """Return what each probe of each wire tells, shape (probes, wires)."""
    volts = [probe for probe in ways if not probe.is_ground_test]
    tests = [probe for probe in ways if probe.is_ground_test]  # these come last
    parts = [information_bits(belief, some) for some in (volts, tests) if some]
    return np.concatenate(parts)


def _worth(bits: Floats, effort: float, most_bits: float) -> float:
    """Return the most bits for the effort, over how many wires are probed in a row."""
    if bits.max() < LEAST_BITS:
        return 0.0
    gained = np.minimum(np.cumsum(np.sort(bits)[::-1]), most_bits)
    return float((gained / (effort + PROBE_EFFORT * np.arange(1, len(bits) + 1))).max())


def _choice(belief: Belief, probe: Probe, bits: Floats) -> Choice:
    order = np.argsort(-bits, kind="stable")
    keys = [belief.bundle.wires[int(place)].key for place in order if bits[place] >= LEAST_BITS]
    return Choice(probe, keys[0], float(bits[order[0]]), tuple(keys[1:]))


def _ground_choice(belief: Belief, readings: tuple[Reading, ...]) -> Choice | None:
    """Return the next step towards a first proved ground; None when there is one, or none left."""
    bundle = belief.bundle
    if Tester.METER not in bundle.testers or not _may_hold_ground(belief):
        return None
    if any(each.seen is Seen.SMALL_DROP for each in readings if each.command == DROP.key):
        return None
    kinds = function_rows()
    shares = sum(
        belief.by_wire[:, place]
        for place, function in enumerate(belief.functions)
        if kinds[function].kind == "ground"
    )
    for place in np.argsort(-np.asarray(shares), kind="stable"):
        step = _ground_step(belief, readings, bundle.wires[int(place)].key)
        if step is not None:
            return step
    return None


def _may_hold_ground(belief: Belief) -> bool:
    kinds = function_rows()
    return any(kinds[function].kind == "ground" for function in belief.functions)


def _ground_step(belief: Belief, readings: tuple[Reading, ...], wire: str) -> Choice | None:
    steps = [Probe(command("rest"), Tester.METER), Probe(OHMS, Tester.METER)]
    if Tester.LAMP in belief.bundle.testers:
        steps.append(Probe(DROP, Tester.METER))
    for probe in steps:
        if any((each.command, each.wire) == (probe.command.key, wire) for each in readings):
            continue
        if not is_allowed(belief, readings, probe, wire):
            return None
        place = [each.key for each in belief.bundle.wires].index(wire)
        bits = float(information_bits(belief, [probe])[0, place])
        return Choice(probe, wire, bits, for_ground=True)
    return None


def _mark(probe: Probe, wire: str) -> tuple[str, str, Tester]:
    return probe.command.key, wire, probe.tester


def _last_probe(readings: tuple[Reading, ...]) -> Probe | None:
    if not readings:
        return None
    return Probe(command(readings[-1].command), readings[-1].tester)
