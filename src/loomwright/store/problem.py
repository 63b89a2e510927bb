"""A store that cannot be used, told so that a person can mend it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import exc

from loomwright.invalid import InvalidInput

RESTORE = "restore the newest backup; what is there is kept beside it"
LOOK = "see that its place exists and that you may write there"
SAID = (
    (("locked", "lock timeout"), "is in use by another program", "wait a moment and try again"),
    (("disk is full", "no space left"), "finds the disk full", "make room and try again"),
    (("readonly", "read-only"), "may not be written", LOOK),
    (("unable to open",), "cannot be opened", LOOK),
    (("disk i/o",), "cannot be read or written", "see that the disk is sound and has room"),
    (("malformed", "not a database", "could not decode"), "is damaged", RESTORE),
    (
        ("connection", "could not connect", "starting up", "shutting down"),
        "does not answer",
        "see that PostgreSQL runs and that address, name and password are right",
    ),
)
"""What a database says when it fails, what that means, and what to do."""


class StoreProblem(InvalidInput):
    """A store, or a backup of one, that cannot be used.

    Parameters
    ----------
    where : str
        File or address, without a password.
    what : str
        What is wrong, as the rest of a sentence: "is damaged".
    fix : str
        What to do, as an instruction.
    """

    def __init__(self, where: str, what: str, fix: str) -> None:
        super().__init__("store", where, f"it {what}: {fix}")
        self.what = what
        self.mend = fix


@contextmanager
def told(where: str) -> Iterator[None]:
    """Turn what the database cannot do into a `StoreProblem`; a bug stays what it is."""
    try:
        yield
    except (exc.IntegrityError, exc.ProgrammingError, exc.DataError):
        raise
    except exc.DatabaseError as failed:
        raise problem_of(where, str(failed.orig)) from failed
    except exc.TimeoutError as failed:
        raise StoreProblem(where, "is busy", "wait a moment and try again") from failed


def problem_of(where: str, said: str) -> StoreProblem:
    """Return the problem a database means by what it says."""
    low = said.casefold()
    for signs, what, fix in SAID:
        if any(sign in low for sign in signs):
            return StoreProblem(where, what, fix)
    line = next(iter(said.splitlines()), "")
    return StoreProblem(where, f"fails ({line})", "see that disk and database are sound")
