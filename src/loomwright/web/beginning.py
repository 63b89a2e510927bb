"""Beginning a rig: with the starter of a kind of job, or with a few answers."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup

from loomwright import examples
from loomwright.reference.connectors import connector
from loomwright.rig.edit import write_value
from loomwright.trace.typical import ASKS, CONNECTORS, Ask, usual_answers
from loomwright.trace.typical_text import job_text
from loomwright.web.describing.choosing import small_face

CONVERTER_WORDS = {"step-down": "to 12\u00a0V"}


@dataclass(frozen=True, slots=True)
class KindOfJob:
    """A kind of job to begin with: its title, and what it joins as a chain of words and faces."""

    key: str
    title: str
    chain: tuple[str | Markup, ...]


@cache
def kinds_of_job() -> tuple[KindOfJob, ...]:
    """Return the kinds of job, each with what stands between vehicle and trailer."""
    return tuple(
        KindOfJob(key, title, tuple(_chain(examples.starter(key))))
        for key, title in examples.kinds().items()
    )


def _chain(text: str) -> Iterator[str | Markup]:
    """Yield what a starter joins, from the vehicle to the trailer's plug."""
    job = tomllib.loads(text)
    yield job["vehicle"]["voltage"].replace(" ", "\u00a0")
    if "converter" in job:
        yield CONVERTER_WORDS.get(job["converter"].get("kind", ""), "converter")
    sockets = [socket["connector"] for socket in job["socket"]]
    for key in sockets:
        yield small_face(key)
    if job["trailer"]["plug"] not in sockets:
        yield small_face(job["trailer"]["plug"])


def begun_text(kind: str, name: str = "") -> str:
    """Return the job file a rig of one kind begins with.

    Raises
    ------
    InvalidInput
        If there is no such kind.
    """
    text, called = examples.starter(kind), " ".join(name.split())
    return write_value(text, "rig.name", called) if called else text


@dataclass(frozen=True, slots=True)
class Question:
    """A question about a rig that nobody described, and what may be tapped: key, words, more."""

    key: str
    says: str
    answers: tuple[tuple[str, str, str], ...]


def questions() -> tuple[Question, ...]:
    """Return what is asked of a rig that nobody described, the weightiest first."""
    return tuple(Question(ask.key, ask.says, tuple(_answers(ask))) for ask in ASKS)


def _answers(ask: Ask) -> Iterator[tuple[str, str, str]]:
    if ask.key == "connector":
        by_connector = {key: said for said, key in reversed(CONNECTORS.items())}
        for key, said in reversed(by_connector.items()):
            title = connector(key).title
            yield said, f"{title[:1].upper()}{title[1:]}", ""
        return
    for answer in ask.known:
        words = ask.words.get(answer, answer)
        yield answer, f"{words[:1].upper()}{words[1:]}", ""


def answered_text(answers: Mapping[str, str], name: str = "") -> str:
    """Return the job file of a rig of which only a few answers are known.

    Where nobody says, the usual is taken; the notes of the rig tell which.

    Parameters
    ----------
    answers : mapping of str to str
        By the key of the question; what is left out or empty is not known.
    name : str
        What the rig is called; else as its connector.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every answer that is not known.
    """
    taken = usual_answers(answers)
    said = [ask.key for ask in ASKS if answers.get(ask.key)]
    usual = [ask.key for ask in ASKS if ask.key not in said]
    parts = (("Said", said), ("Not known, so the usual was taken", usual))
    notes = [
        f"{head}: {', '.join(f'{key} {taken[key]}' for key in keys)}."
        for head, keys in parts
        if keys
    ]
    title = connector(taken["connector"]).title.partition(",")[0]
    called = " ".join(name.split()) or f"Rig with {title[:1].lower()}{title[1:]}"
    named = write_value(job_text(taken), "rig.name", called)
    return write_value(named, "rig.notes", " ".join(notes))
