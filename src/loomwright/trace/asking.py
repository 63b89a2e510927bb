"""Questions that could be asked, each with the chance of its answers under each hypothesis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final, TypeAlias

import numpy as np

from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Opened, Resisted
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.circumstances import chance_elsewhere
from loomwright.trace.efforts import (
    DROP_MIN,
    ELSEWHERE_MIN,
    FUSE_MIN,
    LAMP_MIN,
    MESSAGE_MIN,
    PIN_MIN,
    look_minutes,
    minutes_at,
)
from loomwright.trace.evidence import chance_of
from loomwright.trace.eye import BASIC
from loomwright.trace.form_words import spoken_name
from loomwright.trace.messages import MESSAGES, chance_of_message
from loomwright.trace.shortlist import Shortlist, words_shown
from loomwright.trace.simulate import Floats

STRAY: Final = 0.1
"""Share of answers to a look that fit nothing. From memory."""

MOST_ANSWERS: Final = 10

VOLT_EDGES: Final = (0.06, 0.6, 0.92)
"""Shares of what a sound rig reads, between nothing, low, a little low, right."""

DROP_EDGES_V: Final = (0.25, 1.0, 3.0)
"""Between a good ground, a poor one, a bad one, none. [V] The first is common practice."""

CAUTIONS: Final = {
    "brake_lever": "Wheels chocked; the brakes of the trailer pull.",
    "brake_pedal": "Wheels chocked.",
    "reverse": "Engine off, parking brake on, wheels chocked.",
    "all": "Wheels chocked; this draws the most current of all.",
}


Answer: TypeAlias = tuple[str, tuple[Observation, ...]]
"""An answer in words, and as observations, where it says something of places."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question before it is weighed.

    `outcomes` are chances under each short-listed hypothesis, shape (short, outcome), `answers`
    what each is in words and as observations.
    """

    key: str
    says: str
    command: str
    minutes: float
    needs: tuple[str, ...]
    outcomes: Floats
    answers: Sequence[Answer]
    caution: str = ""
    splits: bool = field(default=False)


def questions_of(
    shortlist: Shortlist, seen: Sequence[Observation], tools: tuple[str, ...]
) -> Iterator[Asked]:
    """Yield every question worth weighing.

    Parameters
    ----------
    shortlist : Shortlist
        What may be the case.
    seen : sequence of Observation
        What is known already and need not be asked again.
    tools : tuple of str
        What is at hand.
    """
    yield from _looks(shortlist, seen, tools)
    yield from _elsewhere(shortlist, seen, tools)
    yield from _messages(shortlist, seen)
    yield from _fuses(shortlist, seen)
    if "meter" in tools:
        yield from _pins(shortlist, seen)
        yield from _drops(shortlist, seen)
        yield from _across(shortlist)
        yield from _lamp_volts(shortlist, seen)


def _mixed(shortlist: Shortlist, there: Floats, healthy: Floats) -> Floats:
    """What comes and goes is there half the time."""
    loose = shortlist.loose[:, None]
    return np.asarray(np.where(loose, 0.5 * (there + healthy), there))


def _looks(
    shortlist: Shortlist, seen: Sequence[Observation], tools: tuple[str, ...]
) -> Iterator[Asked]:
    """Hold a command, look at every lamp."""
    words, bench = words_shown(shortlist), shortlist.hypotheses.field.bench
    lamps = [
        n for n, load in enumerate(bench.wiring.loads) if load.kind in ("lamp", "vehicle lamp")
    ]
    done = {
        o.command for o in seen if o.place.kind is PlaceKind.GROUP and "trailer" in o.place.name
    }
    for number, command in enumerate(bench.commands):
        if command.key in ("still", "charge", "all", "rest") or command.key in done:
            continue
        rows = words[:, number][:, lamps]
        found = _signatures(shortlist, rows)
        if found is None:
            continue
        outcomes, shown = found
        names = [bench.wiring.loads[n].name for n in lamps]
        answers: list[Answer] = [
            (_told(row, rows[0], names), _as_seen(command.key, row, names)) for row in shown
        ]
        answers.append(("something else", ()))
        yield Asked(
            f"look_{command.key}",
            f"Hold: {command.title}. Walk round and look at every lamp.",
            command.key,
            look_minutes(tools),
            ("helper",) if "helper" in tools else (),
            outcomes,
            answers,
            CAUTIONS.get(command.key, ""),
        )


def _signatures(shortlist: Shortlist, rows: np.ndarray) -> tuple[Floats, np.ndarray] | None:
    """Chances of each pattern of lamps; None if all hypotheses show the same one."""
    shown, which = np.unique(rows, axis=0, return_inverse=True)
    which = which.reshape(-1)
    if len(shown) < 2:
        return None
    weight = np.bincount(which[1:], shortlist.share, len(shown))
    kept = np.argsort(-weight)[: MOST_ANSWERS - 1]
    place = np.full(len(shown), len(kept))
    place[kept] = np.arange(len(kept))
    width = len(kept) + 1
    exact = np.eye(width)[place[which[1:]]]
    healthy = np.eye(width)[place[which[0]]]
    mixed = _mixed(shortlist, exact, healthy)
    overall = shortlist.share @ mixed
    return (1.0 - STRAY) * mixed + STRAY * overall, shown[kept]


def _as_seen(command: str, row: Sequence[int], names: Sequence[str]) -> tuple[Observation, ...]:
    """A word for each lamp."""
    return tuple(
        Observation(command, Place(PlaceKind.LOAD, name), Quantity.SEEN, word=BASIC[int(word)])
        for name, word in zip(names, row, strict=True)
    )


def _told(row: Sequence[int], healthy: Sequence[int], names: Sequence[str]) -> str:
    """Name the lamps that are not as they should be."""
    wrong = [
        f"{spoken_name(name)} {BASIC[word]}"
        for name, word, right in zip(names, row, healthy, strict=True)
        if word != right
    ]
    if not wrong:
        return "every lamp as it should be"
    return ", ".join(wrong[:3]) + (f" and {len(wrong) - 3} more" if len(wrong) > 3 else "")


def _elsewhere(
    shortlist: Shortlist, seen: Sequence[Observation], tools: tuple[str, ...]
) -> Iterator[Asked]:
    says = {
        "other vehicle": "Plug the trailer into another vehicle: does everything work there?",
        "bench supply": "Feed the trailer from a fused bench supply, pin by pin: does all work?",
        "load box": "Plug a load box into the vehicle's socket: does every function arrive?",
        "other trailer": "Plug another trailer into this vehicle: does everything work?",
    }
    done = {o.place.name for o in seen if o.place.kind is PlaceKind.ELSEWHERE}
    for name, asks in says.items():
        if name in done or name not in tools:
            continue
        place = Place(PlaceKind.ELSEWHERE, name)
        works = Observation("", place, Quantity.SEEN, word=Word.WORKS)
        fails = Observation("", place, Quantity.SEEN, word=Word.FAILS)
        chance = chance_elsewhere(shortlist.hypotheses, works)
        if chance is None:
            continue
        yes = chance[shortlist.number]
        outcomes = np.stack([yes, 1.0 - yes], axis=1)
        answers = (("all works there", (works,)), ("the same trouble there", (fails,)))
        yield Asked(name, asks, "", ELSEWHERE_MIN[name], (name,), outcomes, answers, splits=True)


def _messages(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    done = any(o.place.kind is PlaceKind.CONTROLLER for o in seen)
    if done or not shortlist.hypotheses.field.bench.has("brake_lever"):
        return
    place = Place(PlaceKind.CONTROLLER)
    each = [Observation("brake_lever", place, Quantity.SEEN, word=w) for w in MESSAGES]
    chances = [chance_of_message(shortlist.hypotheses, o) for o in each]
    if any(c is None for c in chances):
        return
    outcomes = np.stack([c[shortlist.number] for c in chances if c is not None], axis=1)
    outcomes /= outcomes.sum(axis=1, keepdims=True)
    answers = [(f"it shows {o.word}", (o,)) for o in each]
    says = "Brake lever: what does the brake controller show?"
    yield Asked(
        "message", says, "brake_lever", MESSAGE_MIN, (), outcomes, answers, CAUTIONS["brake_lever"]
    )


def _fuses(shortlist: Shortlist, seen: Sequence[Observation]) -> Iterator[Asked]:
    wiring = shortlist.hypotheses.field.bench.wiring
    done = {o.place.name for o in seen if o.place.kind is PlaceKind.FUSE}
    for name in shortlist.hypotheses.field.fuses:
        part = wiring.parts[name]
        if part.kind != "fuse" or name in done or part.function in done:
            continue
        place = Place(PlaceKind.FUSE, name)
        blown = Observation("", place, Quantity.SEEN, word=Word.BLOWN)
        whole = Observation("", place, Quantity.SEEN, word=Word.WHOLE)
        chance = chance_of(shortlist.hypotheses, blown)
        if chance is None:
            continue
        yes = chance[shortlist.number]
        outcomes = np.stack([yes, 1.0 - yes], axis=1)
        says = f"Look at the {spoken_name(part.place)}, in every fuse box: is it blown?"
        answers = (("blown", (blown,)), ("whole", (whole,)))
        yield Asked(f"fuse_{name}", says, "", FUSE_MIN, (), outcomes, answers)


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
    mixed = _mixed(shortlist, bands, healthy)
    return np.asarray(0.95 * mixed + 0.05 / (len(edges) + 1))


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
    from loomwright.trace.whereabouts import meant_by

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
