"""Questions that could be asked, each with the chance of its answers under each hypothesis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.asked import CAUTIONS, Answer, Asked, mixed
from loomwright.trace.asking_meter import metered_questions
from loomwright.trace.asking_told import patterns_in_words
from loomwright.trace.asking_watched import watched_questions
from loomwright.trace.circumstances import chance_elsewhere
from loomwright.trace.efforts import ELSEWHERE_MIN, FUSE_MIN, MESSAGE_MIN, look_minutes
from loomwright.trace.evidence import chance_of
from loomwright.trace.eye import BASIC
from loomwright.trace.form_words import spoken_name
from loomwright.trace.messages import MESSAGES, chance_of_message
from loomwright.trace.shortlist import Shortlist, words_shown
from loomwright.trace.simulate import Floats

STRAY: Final = 0.1
"""Share of answers to a look that fit nothing. From memory."""

MOST_ANSWERS: Final = 10

LIT: Final = tuple(BASIC.index(word) for word in (Word.DIM, Word.NORMAL, Word.BRIGHT))
"""Words in their order that the eye tells apart only side by side."""


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
    yield from watched_questions(shortlist, seen, tools)
    if "meter" in tools:
        yield from metered_questions(shortlist, seen)


def _looks(
    shortlist: Shortlist, seen: Sequence[Observation], tools: tuple[str, ...]
) -> Iterator[Asked]:
    """Hold a command, look at every lamp."""
    words, bench = words_shown(shortlist), shortlist.hypotheses.field.bench
    lamps = [
        n for n, load in enumerate(bench.wiring.loads) if load.kind in ("lamp", "vehicle lamp")
    ]
    done = set(_looked_at(seen, [bench.wiring.loads[n].name for n in lamps]))
    for number, command in enumerate(bench.commands):
        if command.key in ("still", "charge", "all") or command.key in done:
            continue
        rows = _as_eyes_see(words[:, number][:, lamps])
        found = _signatures(shortlist, rows)
        if found is None:
            continue
        outcomes, shown = found
        names = [bench.wiring.loads[n].name for n in lamps]
        answers: list[Answer] = [
            (told, _as_seen(command.key, row, names))
            for row, told in zip(
                shown, patterns_in_words(shown, rows[0], names, bench.rig), strict=True
            )
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


def _looked_at(seen: Sequence[Observation], names: Sequence[str]) -> Iterator[str]:
    """Yield the commands under which every lamp was told, by one word or by one each."""
    told: dict[str, set[str]] = {}
    for each in seen:
        if each.place.kind is PlaceKind.GROUP and "trailer" in each.place.name:
            yield each.command
        elif each.place.kind is PlaceKind.LOAD and each.quantity is Quantity.SEEN:
            told.setdefault(each.command, set()).add(each.place.name)
    yield from (command for command, places in told.items() if places >= set(names))


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
    there = mixed(shortlist, exact, healthy)
    overall = shortlist.share @ there
    return (1.0 - STRAY) * there + STRAY * overall, shown[kept]


def _as_seen(command: str, row: Sequence[int], names: Sequence[str]) -> tuple[Observation, ...]:
    """A word for each lamp."""
    return tuple(
        Observation(command, Place(PlaceKind.LOAD, name), Quantity.SEEN, word=BASIC[int(word)])
        for name, word in zip(names, row, strict=True)
    )


def _as_eyes_see(rows: np.ndarray) -> np.ndarray:
    """A lamp one step brighter than it should be passes for right; the first row is the right."""
    brighter = (rows == rows[0] + 1) & np.isin(rows[0], LIT[:-1])
    return np.where(brighter, rows[0], rows)


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
