"""Beginning a rig: the starter of a kind of job, under a name of its own."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup

from loomwright import examples
from loomwright.rig.edit import write_value
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
