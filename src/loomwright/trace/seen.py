"""How well each hypothesis explains a word for lamps or brakes under a command."""

from __future__ import annotations

from typing import Final

import numpy as np

from loomwright.observations.observation import Observation
from loomwright.observations.word import Word
from loomwright.rig.model import Bulb
from loomwright.trace.eye import BASIC, chance, spoken
from loomwright.trace.homes import circuit_of
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import RigFault, Sign
from loomwright.trace.simulate import Field, Floats
from loomwright.trace.whereabouts import Meant, meant_by

PASSING: Final = (Word.FLICKER, Word.COMES_AND_GOES, Word.GRABBY)
"""Words for what is there at one moment and gone at the next."""

SIGN: Final = 0.75
"""Chance of a word that a fault is known by. From memory."""

BLOWN: Final = 0.2
"""How far a short now and then flickers that blows its fuse: it is dark then. From memory."""

ANY: Final = ""

REMEMBERED: Final = 6000
"""Variants up to which the words of each lamp are kept in memory."""


def chance_of_word(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis explains what was seen of one load or several.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        A word at a load or a group, under a command or under any.
    """
    bench, said = hypotheses.field.bench, observation.word
    meant = meant_by(bench.wiring, observation.place.name)
    if said is None or not meant:
        return None
    if observation.command == ANY:
        commands = [c.key for c in bench.commands if c.key not in ("rest", "still", "charge")]
    elif bench.has(observation.command):
        commands = [observation.command]
    else:
        return _only_signs(hypotheses, observation, meant)
    each = [_under(hypotheses, meant, command, said) for command in commands]
    together = np.stack(each)
    usual = said in (Word.NORMAL, Word.WORKS, Word.AS_USUAL)
    found = together.min(axis=0) if usual else together.mean(axis=0)
    return _with_signs(hypotheses, found, observation, meant)


def _under(hypotheses: Hypotheses, meant: Meant, command: str, said: Word) -> Floats:
    """Chance of a word under one command, for each hypothesis."""
    solved = hypotheses.field
    number = solved.bench.number(command)
    parts = [_of_loads(solved, meant.loads, number, said)] if meant.loads else []
    parts += [_of_phantom(solved, circuit, number, said) for circuit in meant.phantom]
    by_variant = np.stack(parts).min(axis=0)
    there, healthy = by_variant[hypotheses.variant], by_variant[0]
    loose = hypotheses.loose
    if said not in PASSING:
        return np.asarray(np.where(loose, 0.5 * (there + healthy), there))
    moved = _moved(solved, meant.loads, number)[hypotheses.variant]
    contact = hypotheses.of_fault([_may_flicker(f) for f in hypotheses.faults], 0.0).max(axis=0)
    shaky = np.where(loose, np.where(hypotheses.stays, BLOWN, 1.0), contact)
    return np.asarray(0.03 + 0.67 * moved * shaky)


def _may_flicker(fault: RigFault) -> float:
    return {"high_resistance": 0.45, "leakage": 0.5, "low_resistance": 0.4}.get(fault.form, 0.1)


def _of_loads(solved: Field, loads: tuple[int, ...], command: int, said: Word) -> Floats:
    """Chance of a word for several loads together, for each variant.

    It is said of those that the command should light; of all, where something is to be wrong.
    """
    wiring = solved.bench.wiring
    if wiring.loads[loads[0]].kind == "brake":
        return _of_brakes(solved, loads, command, said)
    functions = solved.bench.commands[command].functions
    lit = tuple(n for n in loads if wiring.loads[n].function in functions)
    asked = loads if said is Word.WRONG else (lit or loads)
    each = np.stack([_of_lamp(solved, n, command, said) for n in asked])
    if said is Word.WRONG:
        return np.asarray(each.max(axis=0))
    return np.asarray(np.sqrt(each.min(axis=0) * np.exp(np.log(each).mean(axis=0))))


def _of_lamp(solved: Field, load: int, command: int, said: Word) -> Floats:
    words = words_for(solved, load, command)
    flashes = solved.bench.dark_half(command) is not None
    return chance(words, said, words[0], flashes=flashes)


def words_for(solved: Field, load: int, command: int) -> Floats:
    """Return the chance of each basic word for a lamp under a command, shape (variant, word).

    Parameters
    ----------
    solved : Field
        What the rig reads.
    load, command : int
        Their numbers.
    """
    key = ("words", load, command)
    known = solved.memory.get(key)
    if known is None:
        dark = solved.bench.dark_half(command)
        half = None if dark is None else solved.lit(dark, load).astype(float)
        lit = solved.lit(command, load).astype(float)
        filament = isinstance(solved.bench.wiring.loads[load].source, Bulb)
        known = spoken(lit, half, filament=filament)
        if len(known) <= REMEMBERED:
            solved.memory[key] = known
    return np.asarray(known)


def _moved(solved: Field, loads: tuple[int, ...], command: int) -> Floats:
    """How far the words of some loads are from those of the healthy rig, 0 to 1, by variant."""
    if not loads:
        return np.zeros(len(solved.changes))
    if solved.bench.wiring.loads[loads[0]].kind == "brake":
        share = _share(solved, loads, command)
        return np.asarray(np.clip(np.abs(share - share[0]), 0.0, 1.0))
    each = [words_for(solved, n, command) for n in loads]
    return np.asarray(np.max([0.5 * np.abs(w - w[0]).sum(axis=1) for w in each], axis=0))


def _of_brakes(solved: Field, loads: tuple[int, ...], command: int, said: Word) -> Floats:
    """Chance of a word for brakes, by their current as a share of a good brake's."""
    share = _share(solved, loads, command)
    asked = "brake" in solved.bench.commands[command].functions
    off = _below(share, 0.12, 0.03)
    weak = _below(share, 0.78, 0.06) - off
    good = 1.0 - off - weak
    if asked:
        chances = {
            Word.OFF: 0.92 * off + 0.1 * weak + 0.02,
            Word.WEAK: 0.75 * weak + 0.25 * off + 0.14 * good,
            Word.DIM: 0.75 * weak + 0.14 * good,
            Word.NORMAL: 0.82 * good + 0.2 * weak + 0.02,
            Word.ON: 0.95 * good + 0.7 * weak + 0.02,
            Word.LOCKED: 0.04 * good + 0.01,
        }
        chances[Word.WORKS] = chances[Word.NORMAL]
        chances[Word.FAILS] = 1.0 - chances[Word.NORMAL]
        chances[Word.HOT] = 0.1 * good + 0.05
    else:
        on = 1.0 - _below(share, 0.25, 0.05)
        chances = {
            Word.LOCKED: 0.85 * on + 0.01,
            Word.ON: 0.9 * on + 0.01,
            Word.HOT: 0.6 * on + 0.05,
            Word.WEAK: 0.1 * on + 0.02,
            Word.OFF: 0.97 - 0.9 * on,
            Word.NORMAL: 0.97 - 0.9 * on,
        }
    return np.asarray(chances.get(said, np.full(len(share), 0.1)))


def _share(solved: Field, loads: tuple[int, ...], command: int) -> Floats:
    """Current of some brakes on average, as a share of a good brake's, for each variant."""
    each = [solved.lit(command, load) for load in loads]
    return np.asarray(np.mean(each, axis=0), dtype=float)


def _below(share: Floats, edge: float, width: float) -> Floats:
    return np.asarray(1.0 / (1.0 + np.exp(np.clip((share - edge) / width, -40.0, 40.0))))


def _of_phantom(solved: Field, circuit: str, command: int, said: Word) -> Floats:
    """A lamp of the vehicle on a wire of its own: whatever the trailer has, it works."""
    functions = solved.bench.commands[command].functions
    lit = circuit in {circuit_of(f) for f in functions}
    flashes = solved.bench.dark_half(command) is not None and circuit in ("left", "right")
    light = np.full(1, 1.0 if lit else 0.0)
    words = spoken(light, 0.0 * light if flashes and lit else None, filament=True)
    found = chance(words, said, words[0], flashes=flashes)
    return np.full(len(solved.changes), found[0])


def _with_signs(
    hypotheses: Hypotheses, found: Floats, observation: Observation, meant: Meant
) -> Floats:
    """Let the signs a fault is known by overrule what its network shows."""
    if observation.word is None:
        return found
    circuits, own = _circuits(hypotheses, meant)
    changed = found.copy()
    for n, fault in enumerate(hypotheses.faults):
        for sign in fault.signs:
            shows = circuits | own if sign.own_too else circuits
            if shows and _fits(sign, observation.command, shows):
                of_fault = (hypotheses.first == n) | (hypotheses.second == n)
                shown = observation.word in sign.words
                changed[of_fault] = SIGN if shown else (1.0 - SIGN) * found[of_fault]
    return changed


def _only_signs(hypotheses: Hypotheses, observation: Observation, meant: Meant) -> Floats | None:
    """Under a command that no network shows, such as a pulled breakaway pin."""
    flat = np.full(len(hypotheses), 1.0 / len(BASIC))
    changed = _with_signs(hypotheses, flat, observation, meant)
    return None if (changed == flat).all() else changed


def _circuits(hypotheses: Hypotheses, meant: Meant) -> tuple[frozenset[str], frozenset[str]]:
    """Circuits of the trailer's loads that are meant, and of the vehicle's own lamps."""
    loads = [hypotheses.field.bench.wiring.loads[n] for n in meant.loads]
    own = {circuit_of(each.function) for each in loads if each.kind == "vehicle lamp"}
    trailer = {circuit_of(each.function) for each in loads if each.kind != "vehicle lamp"}
    return frozenset(trailer), frozenset(own | set(meant.phantom))


def _fits(sign: Sign, command: str, circuits: frozenset[str]) -> bool:
    if sign.kind != "load" or (sign.commands and command not in sign.commands):
        return False
    return not sign.function or sign.function in circuits
