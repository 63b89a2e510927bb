"""`loomwright trace`: from what was seen to what is wrong, and what to look at next."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from loomwright.cli.bar import with_bar
from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.files import open_rig, read_text
from loomwright.invalid import InvalidInput, raise_all

if TYPE_CHECKING:
    from loomwright.observations.observation import Observation
    from loomwright.rig.model import Rig
    from loomwright.trace.engine import Trace


def trace(
    file: Path | None = None,
    /,
    *,
    seen: Annotated[list[str] | None, Parameter(consume_multiple=False)] = None,
    read: Annotated[list[str] | None, Parameter(consume_multiple=False)] = None,
    check: Path | None = None,
    tools: Annotated[list[str] | None, Parameter(consume_multiple=False)] = None,
    pairs: Annotated[bool, Parameter(show_default=False)] = False,
    typical: str | None = None,
    cases: Path | None = None,
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
) -> int:
    """Rank what may be wrong with the rig in FILE, say why, and what to look at next.

    Without --seen, --read and --check it asks and answers in turn. Exits with 1 when a cause is
    sure enough to repair, else with 0.

    Parameters
    ----------
    file
        Job file.
    seen
        What was seen: "park+left: left rear dark, right rear normal"; give it again for more.
    read
        What was measured: "park: pin 4 of rear socket 9.6 V", "pin 2 open".
    check
        Answers of a light check, as JSON.
    tools
        A tool at hand: eye, meter, helper, other vehicle, bench supply, load box.
    pairs
        Consider two faults at once as well; takes some seconds.
    typical
        Instead of FILE, what is known of a rig that is not described:
        connector=7-way,lamps=led,brakes=electric. What is left out stays open.
    cases
        Instead of FILE, a file of cases met in practice: score how high their causes rank.
    json_
        Print everything as JSON.
    """
    if cases is not None:
        from loomwright.cli.trace_cases import score_cases

        return score_cases(cases, as_json=json_)
    rigs = _rigs(file, typical)
    rig = max(rigs, key=lambda each: each[1])[0]
    observations = observations_of(rig, seen or (), read or (), check)
    made = with_bar(f"Solving the faults of {rig.name}", lambda _: _made(rigs))
    at_hand = _tools(tools)
    if not observations and not json_:
        from loomwright.cli.trace_talk import talk

        return talk(made, rig, at_hand)
    if pairs:
        with_bar("Solving two faults at once", lambda told: made.prepare_pairs(progress=told))
    return _answer(made, rig, observations, at_hand, as_json=json_)


def _rigs(file: Path | None, typical: str | None) -> Sequence[tuple[Rig, float]]:
    """Return the rig of a file, or those that stand for a few answers, with their shares."""
    if typical is not None:
        from loomwright.trace.typical import read_answers, rigs_for

        return [(each.rig, each.weight) for each in rigs_for(read_answers(typical))]
    if file is None:
        raise InvalidInput("file", "", "name a job file, or say --typical connector=7-way")
    return [(open_rig(file), 1.0)]


def _made(rigs: Sequence[tuple[Rig, float]]) -> Trace:
    from loomwright.trace.engine import Trace, trace_rig

    return trace_rig(rigs[0][0]) if len(rigs) == 1 else Trace(rigs)


def observations_of(
    rig: Rig, seen: Sequence[str], read: Sequence[str], check: Path | None
) -> tuple[Observation, ...]:
    """Return everything that was observed, every part that cannot be used told at once."""
    from loomwright.electrics.commands import commands_for
    from loomwright.electrics.wiring import wire_up
    from loomwright.trace.phrases import read_reading, read_seen

    wiring, commands = wire_up(rig), commands_for(rig)
    found: list[Observation] = []
    problems: list[InvalidInput] = []
    for texts, reader in ((seen, read_seen), (read, read_reading)):
        for text in texts:
            try:
                found += reader(text, wiring, commands)
            except ExceptionGroup as group:
                problems += [p for p in group.exceptions if isinstance(p, InvalidInput)]
    raise_all(problems, "what was observed")
    if check is not None:
        from loomwright.lightcheck.answers_file import read_noted

        noted = read_noted(read_text(check), str(check))
        found += [*noted.observations, *(_as_usual(each) for each in noted.usual)]
    return tuple(found)


def _as_usual(observation: Observation) -> Observation:
    """What was marked as normal for this vehicle speaks for just that."""
    from loomwright.observations.observation import Quantity
    from loomwright.observations.word import Word

    return replace(observation, quantity=Quantity.SEEN, word=Word.AS_USUAL, value=None)


def _tools(given: Sequence[str] | None) -> tuple[str, ...]:
    from loomwright.trace.efforts import AT_HAND, ELSEWHERE_MIN

    if not given:
        return AT_HAND
    known = {"eye", "meter", "helper", *ELSEWHERE_MIN}
    wrong = [each for each in given if each not in known]
    raise_all(
        [InvalidInput("tools", each, "use " + ", ".join(sorted(known))) for each in wrong], "tools"
    )
    return ("eye", *given)


def _answer(
    made: Trace,
    rig: Rig,
    observations: Sequence[Observation],
    tools: tuple[str, ...],
    *,
    as_json: bool,
) -> int:
    ranking = made.rank(observations)
    advice = made.advise(ranking, tools)
    if as_json:
        from loomwright.trace.report import trace_report

        print(json.dumps(trace_report(rig, ranking, advice)))
    else:
        from loomwright.cli.trace_view import show_trace

        show_trace(rig, ranking, advice)
    return TO_MEND if advice.repair is not None else DONE
