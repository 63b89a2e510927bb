"""What comes in from outside, checked before it is stored; and how words are made comparable."""

from __future__ import annotations

import re
import unicodedata

from loomwright.invalid import InvalidInput

LONGEST_TEXT = 1_000_000
LONGEST_NAME = 200
TOPIC = re.compile(r"[a-z0-9_-]+(/[a-z0-9_.-]+)*")
BROKEN = re.compile("[\0\ud800-\udfff]")
LARGEST_NUMBER = 2**31 - 1
KEY = re.compile(r"[\x21-\x7e]{8,64}")


def checked_text(text: str, field: str = "text", longest: int = LONGEST_TEXT) -> str:
    """Return a text exactly as it is, if every database can hold it.

    Raises
    ------
    InvalidInput
        If it is too long, or holds a character that is none.
    """
    if len(text) > longest:
        fix = f"shorten it to {longest} characters"
        raise InvalidInput(field, f"{text[:40]}… ({len(text)} characters)", fix)
    for number, line in enumerate(text.split("\n"), start=1):
        if BROKEN.search(line):
            shown = line[:80].encode("ascii", "backslashreplace").decode()
            raise InvalidInput(field, shown, "take out the broken character", line=number)
    return text


def checked_name(text: str, field: str) -> str:
    """Return a name without the space around it.

    Raises
    ------
    InvalidInput
        If nothing is left, it is too long, or has more than one line.
    """
    name = " ".join(checked_text(text, field).split())
    if not name:
        raise InvalidInput(field, text, "enter a name")
    return checked_text(name, field, LONGEST_NAME)


def checked_topic(topic: str) -> str:
    """Return a topic as it is.

    Raises
    ------
    InvalidInput
        If it is not words joined by slashes.
    """
    if len(topic) > LONGEST_NAME or not TOPIC.fullmatch(topic):
        raise InvalidInput("topic", topic, "give small words joined by slashes: rig/7f")
    return topic


def checked_key(key: str) -> str:
    """Return the mark of a sender as it is.

    Raises
    ------
    InvalidInput
        If it is not 8 to 64 letters, digits or signs.
    """
    if not KEY.fullmatch(key):
        raise InvalidInput("key", key, "give 8 to 64 letters, digits or signs, without space")
    return key


def findable(text: str) -> str:
    """Return a text to look for, where broken characters find nothing instead of failing."""
    return BROKEN.sub("\ufffd", text)


def within(number: int) -> int:
    """Return a number to look for, brought within what every database can compare."""
    return max(-1, min(number, LARGEST_NUMBER))


def folded(text: str) -> str:
    """Return a text as it is searched: without case, forms of letters, and kinds of space."""
    folds = unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold())
    return " ".join(folds.split())
