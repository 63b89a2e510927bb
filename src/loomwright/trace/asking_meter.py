"""Questions to a meter: pins, grounds, across a part, across a lamp."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Opened, Resisted
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.asked import CAUTIONS, Answer, Asked, mixed
from loomwright.trace.efforts import DROP_MIN, LAMP_MIN, PIN_MIN, minutes_at
from loomwright.trace.form_words import spoken_name
from loomwright.trace.shortlist import Shortlist
from loomwright.trace.simulate import Floats
from loomwright.trace.whereabouts import meant_by

VOLT_EDGES: Final = (0.06, 0.6, 0.92)
"""Shares of what a sound rig reads, between nothing, low, a little low, right."""

DROP_EDGES_V: Final = (0.25, 1.0, 3.0)
"""Between a good ground, a poor one, a bad one, none. [V] The first is common practice."""


def metered_questions(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    """Yield every question that a meter answers.

    Parameters
    ----------
    shortlist : Shortlist
        What may be the case.
    seen : sequence of Observation
        What is known already and need not be asked again.
    """
    yield from _pins(shortlist, seen)
    yield from _drops(shortlist, seen)
    yield from _across(shortlist)
    yield from _lamp_volts(shortlist, seen)


def _pins(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    solved = shortlist.hypotheses.field
    bench = solved.bench
    done = {(o.command, o.place.pin) for o in seen if o.place.kind is PlaceKind.PIN}
    for column, pin in enumerate(bench.wiring.pins):
        if pin.return_node is None or pin.socket != bench.rig.towing:
            continue
        for number, command in enumerate(bench.commands):
            right = float(abs(solved.pins[0, number, column]))
            if command.key in ("still", "all", "hazard") or right < 3.0:
                continue
            if (command.key, pin.pin) in done:
                continue
            volts = np.abs(solved.pins[shortlist.variant, number, column]).astype(float)
            edges = [share * right for share in VOLT_EDGES]
            outcomes = _banded(shortlist, volts, right, edges)
            place = Place(PlaceKind.PIN, pin.socket, pin.pin)
            levels = (0.0, 0.35 * right, 0.8 * right, right)
            answers = _volt_answers(command.key, place, levels, edges)
            says = (
                f"Hold: {command.title}. Trailer plugged in, read pin {pin.pin} "
                f"({spoken_name(pin.function.replace('_', ' '))}) of the {pin.socket} "
                "to its ground pin."
            )
            yield Asked(
                f"pin_{column}_{command.key}",
                says,
                command.key,
                PIN_MIN,
                ("meter",),
                outcomes,
                answers,
                CAUTIONS.get(command.key, ""),
            )


def _banded(shortlist: Shortlist, volts: Floats, right: float, edges: Sequence[float]) -> Floats:
    """Chance of each band for each hypothesis: the meter errs near its edges."""
    spread = 0.03 * right + 0.05
    above = [1.0 / (1.0 + np.exp(-np.clip((volts - e) / spread, -40, 40))) for e in edges]
    ones = np.ones_like(volts)
    up = [ones, *above, np.zeros_like(ones)]
    bands = np.stack([up[n] - up[n + 1] for n in range(len(edges) + 1)], axis=1)
    healthy = np.zeros(len(edges) + 1)
    healthy[int(np.searchsorted(edges, right))] = 1.0
    told = mixed(shortlist, bands, healthy)
    return np.asarray(0.95 * told + 0.05 / (len(edges) + 1))


def _volt_answers(
    command: str, place: Place, levels: Sequence[float], edges: Sequence[float]
) -> list[Answer]:
    said = (
        f"nothing, under {edges[0]:.1f} V",
        f"low, {edges[0]:.1f} to {edges[1]:.1f} V",
        f"a little low, {edges[1]:.1f} to {edges[2]:.1f} V",
        f"{edges[2]:.1f} V or more",
    )
    return [
        (words, (Observation(command, place, Quantity.VOLTS, value=level, tester="meter"),))
        for words, level in zip(said, levels, strict=True)
    ]


def _drops(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    solved = shortlist.hypotheses.field
    bench = solved.bench
    done = {o.command for o in seen if o.place.kind is PlaceKind.RETURN}
    for column, pin in enumerate(bench.wiring.pins):
        if pin.function != "ground" or pin.socket != bench.rig.towing:
            continue
        for key in ("park+brake_pedal", "park", "park+left", "brake_lever"):
            if not bench.has(key) or key in done:
                continue
            number = bench.number(key)
            volts = np.abs(solved.drops[shortlist.variant, number, column]).astype(float)
            outcomes = _banded(shortlist, volts, 0.05, DROP_EDGES_V)
            place = Place(PlaceKind.RETURN, pin.socket)
            says = (
                f"Hold: {bench.commands[number].title}. Read from the ground pin of the "
                f"{pin.socket} to battery negative."
            )
            answers = _volt_answers(key, place, (0.1, 0.6, 2.0, 6.0), DROP_EDGES_V)
            yield Asked(
                f"drop_{key}",
                says,
                key,
                DROP_MIN,
                ("meter",),
                outcomes,
                answers,
                CAUTIONS.get(key, ""),
            )


def _across(shortlist: Shortlist) -> Iterator[Asked]:
    """Across the very part that is suspected, while it should carry current."""
    bench, faults = shortlist.hypotheses.field.bench, shortlist.hypotheses.faults
    done: set[str] = set()
    for number in shortlist.number[:24].tolist():
        first = int(shortlist.hypotheses.first[number])
        if first < 0 or len(faults[first].changes) != 1:
            continue
        fault, change = faults[first], faults[first].changes[0]
        if not isinstance(change, Opened | Resisted) or change.element in done:
            continue
        part = bench.wiring.parts[change.element]
        command = _command_for(shortlist, number)
        if part.kind == "load" or command is None:
            continue
        done.add(change.element)
        is_it = np.array([_is_in(shortlist, n, change.element) for n in shortlist.number.tolist()])
        yes = np.where(is_it, np.where(shortlist.loose, 0.5, 0.94), 0.04)
        title = bench.commands[bench.number(command)].title
        one, other = ends(bench.wiring.network.element(change.element))[0]
        place = Place(PlaceKind.POINTS, one, other=other)
        yield Asked(
            f"across_{change.element}",
            f"Hold: {title}. Read across the {spoken_name(part.place)}, one probe on each side.",
            command,
            minutes_at(fault.place),
            ("meter",),
            np.stack([yes, 1.0 - yes], axis=1),
            (
                ("0.3 V or more", (_across_it(command, place, Word.WRONG),)),
                ("next to nothing", (_across_it(command, place, Word.NORMAL),)),
            ),
            CAUTIONS.get(command, ""),
        )


def _across_it(command: str, place: Place, word: Word) -> Observation:
    return Observation(command, place, Quantity.SEEN, word=word, tester="meter")


def _is_in(shortlist: Shortlist, number: int, element: str) -> bool:
    first = int(shortlist.hypotheses.first[number])
    changes = () if first < 0 else shortlist.hypotheses.faults[first].changes
    return any(isinstance(c, Opened | Resisted) and c.element == element for c in changes)


def _command_for(shortlist: Shortlist, number: int) -> str | None:
    """The command under which a hypothesis shows most."""
    solved = shortlist.hypotheses.field
    variant = int(shortlist.hypotheses.variant[number])
    change = np.abs(solved.light[variant] - solved.light[0]).sum(axis=1)
    for key in ("still", "all", "hazard", "rest"):
        if solved.bench.has(key):
            change[solved.bench.number(key)] = 0.0
    best = int(np.argmax(change))
    return solved.bench.commands[best].key if change[best] > 0.02 else None


def _lamp_volts(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    """Across a lamp that was seen dark: volts there mean the lamp, none mean the wiring."""
    solved = shortlist.hypotheses.field
    bench = solved.bench
    done: set[tuple[str, int]] = set()
    for observation in seen:
        if observation.quantity is not Quantity.SEEN or not bench.has(observation.command):
            continue
        number = bench.number(observation.command)
        for n in meant_by(bench.wiring, observation.place.name).loads[:4]:
            right = float(abs(solved.volts[0, number, n]))
            if right < 3.0 or (observation.command, n) in done:
                continue
            done.add((observation.command, n))
            volts = np.abs(solved.volts[shortlist.variant, number, n]).astype(float)
            edges = [share * right for share in VOLT_EDGES]
            place = Place(PlaceKind.LOAD, bench.wiring.loads[n].name)
            says = (
                f"Hold: {bench.commands[number].title}. Lens off, read across the contacts of "
                f"{spoken_name(bench.wiring.loads[n].name)}."
            )
            levels = (0.0, 0.35 * right, 0.8 * right, right)
            yield Asked(
                f"lamp_{n}_{observation.command}",
                says,
                observation.command,
                LAMP_MIN,
                ("meter",),
                _banded(shortlist, volts, right, edges),
                _volt_answers(observation.command, place, levels, edges),
                CAUTIONS.get(observation.command, ""),
            )
