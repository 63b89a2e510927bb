"""What a person enters for a record; the rig and the light checks give the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from typing import Any

from loomwright.invalid import InvalidInput, raise_all
from loomwright.store.entry import checked_text

LONGEST_NOTE = 4_000
LONGEST_PLACE = 300
LONGEST_CAPTION = 200
MOST_PHOTOS = 24
HEX = frozenset("0123456789abcdef")


@dataclass(frozen=True, slots=True)
class PhotoEntry:
    """A photo of a record: the sum of its bytes, and what it shows."""

    sha256: str
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Entries:
    """What was entered for a record.

    Attributes
    ----------
    done : tuple of str
        Keys of the steps that were done.
    done_notes : str
        What else was done, or done otherwise.
    found : str
        What was found before anything was touched.
    places : mapping
        Where each splice, fuse, ground and hole is, by its key.
    parts : str
        What was fitted.
    settings : str
        What was set, coded or cleared: gain, module coding, fault codes.
    before, after : str
        Ids of the light checks on either side of the work; "" for none.
    not_tested : str
        What was not tested, a line each.
    for_owner : str
        What the owner must know.
    photos : tuple of PhotoEntry
        Photos, in order.
    """

    done: tuple[str, ...] = ()
    done_notes: str = ""
    found: str = ""
    places: Mapping[str, str] = field(default_factory=dict)
    parts: str = ""
    settings: str = ""
    before: str = ""
    after: str = ""
    not_tested: str = ""
    for_owner: str = ""
    photos: tuple[PhotoEntry, ...] = ()


TEXTS = ("done_notes", "found", "parts", "settings", "not_tested", "for_owner")


def entries_to_plain(entries: Entries) -> dict[str, Any]:
    """Return entries as plain values."""
    plain = asdict(entries)
    return {**plain, "done": [*plain["done"]], "photos": [*plain["photos"]]}


def entries_from_plain(given: Mapping[str, Any]) -> Entries:
    """Return the entries that plain values describe, tidied.

    Parameters
    ----------
    given : mapping
        As `entries_to_plain` makes it; what is left out is empty.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    problems: list[InvalidInput] = []
    known = {each.name for each in fields(Entries)}
    problems += [
        InvalidInput(key, given[key], "leave it out: there is no such entry")
        for key in given
        if key not in known
    ]
    texts = {name: _text(given.get(name, ""), name, LONGEST_NOTE, problems) for name in TEXTS}
    checks = {name: _hex(given.get(name, ""), name, 32, problems) for name in ("before", "after")}
    found = Entries(
        done=_keys(given.get("done", ()), problems),
        places=_places(given.get("places", {}), problems),
        photos=_photos(given.get("photos", ()), problems),
        **texts,
        **checks,
    )
    raise_all(problems, "record")
    return found


def lines_of(text: str) -> list[str]:
    """Return what a text says line by line, without empty lines."""
    return [line for line in (" ".join(each.split()) for each in text.splitlines()) if line]


def _text(given: object, name: str, longest: int, problems: list[InvalidInput]) -> str:
    if not isinstance(given, str):
        problems.append(InvalidInput(name, given, "give it as text"))
        return ""
    text = given.replace("\r\n", "\n").strip()
    try:
        return checked_text(text, name, longest)
    except InvalidInput as refused:
        problems.append(refused)
        return ""


def _hex(given: object, name: str, digits: int, problems: list[InvalidInput]) -> str:
    if isinstance(given, str) and (not given or (len(given) == digits and set(given) <= HEX)):
        return given
    problems.append(InvalidInput(name, given, "choose one from the list"))
    return ""


def _keys(given: object, problems: list[InvalidInput]) -> tuple[str, ...]:
    if not isinstance(given, list | tuple) or not all(isinstance(key, str) for key in given):
        problems.append(InvalidInput("done", given, "give the keys of steps"))
        return ()
    return tuple(dict.fromkeys(given))


def _places(given: object, problems: list[InvalidInput]) -> dict[str, str]:
    if not isinstance(given, Mapping):
        problems.append(InvalidInput("places", given, "give the place of each by its key"))
        return {}
    found = {
        str(key): " ".join(_text(text, f"places.{key}", LONGEST_PLACE, problems).split())
        for key, text in given.items()
    }
    return {key: text for key, text in found.items() if text}


def _photos(given: object, problems: list[InvalidInput]) -> tuple[PhotoEntry, ...]:
    if not isinstance(given, list | tuple) or not all(isinstance(one, Mapping) for one in given):
        problems.append(InvalidInput("photos", given, "give each photo with its sum and words"))
        return ()
    if len(given) > MOST_PHOTOS:
        problems.append(InvalidInput("photos", len(given), f"keep at most {MOST_PHOTOS} photos"))
    found: dict[str, PhotoEntry] = {}
    for number, one in enumerate(given, start=1):
        field_ = f"photos.{number}"
        sha = _hex(one.get("sha256", ""), f"{field_}.sha256", 64, problems)
        caption = _text(one.get("caption", ""), f"{field_}.caption", LONGEST_CAPTION, problems)
        found[sha] = PhotoEntry(sha, " ".join(caption.split()))
    return tuple(found.values())
