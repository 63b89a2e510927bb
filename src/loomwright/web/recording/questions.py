"""What is asked for a record, one question at a time, and how each stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from starlette.datastructures import FormData

from loomwright.store.records_entries import Entries


@dataclass(frozen=True, slots=True)
class Question:
    """One page of a record.

    Parameters
    ----------
    key : str
        Its name in the address.
    word : str
        What it is called in the list.
    asks : str
        The question.
    hint : str
        What to say, in one sentence.
    taken : callable
        What a form says of it, as entries.
    stands : callable
        How it stands in few words; "" if nothing was entered.
    """

    key: str
    word: str
    asks: str
    hint: str
    taken: Callable[[FormData], dict[str, Any]]
    stands: Callable[[Entries, Mapping[str, Any]], str]


def _text(form: FormData, name: str) -> str:
    return str(form.get(name, ""))


def _first(text: str, longest: int = 60) -> str:
    line = next(iter(text.splitlines()), "")
    return line if len(line) <= longest else f"{line[:longest].rstrip()}…"


def _take_done(form: FormData) -> dict[str, Any]:
    done = [str(each) for each in form.getlist("done")]
    return {"done": done, "done_notes": _text(form, "done_notes")}


def _done_stands(entries: Entries, facts: Mapping[str, Any]) -> str:
    keys = {each["key"] for each in facts["steps"]}
    ticked = len(keys & set(entries.done))
    said = f"{ticked} of {len(keys)} steps ticked" if ticked else ""
    return "; ".join(part for part in (said, _first(entries.done_notes)) if part)


def _take_places(form: FormData) -> dict[str, Any]:
    given = {
        key.removeprefix("place."): str(value)
        for key, value in form.items()
        if key.startswith("place.")
    }
    return {"places": given}


def _places_stand(entries: Entries, facts: Mapping[str, Any]) -> str:
    keys = [each["key"] for each in facts["places"]]
    named = sum(bool(entries.places.get(key)) for key in keys)
    return f"{named} of {len(keys)} named" if named else ""


def _take_checks(form: FormData) -> dict[str, Any]:
    return {name: _text(form, name) for name in ("before", "after", "not_tested")}


def _checks_stand(entries: Entries, _: Mapping[str, Any]) -> str:
    sides = [name for name in ("before", "after") if getattr(entries, name)]
    return f"light check {' and '.join(sides)}" if sides else ""


def _take_nothing(_: FormData) -> dict[str, Any]:
    return {}


def _photos_stand(entries: Entries, _: Mapping[str, Any]) -> str:
    count = len(entries.photos)
    return f"{count} photo{'' if count == 1 else 's'}" if count else ""


def _take_texts(*names: str) -> Callable[[FormData], dict[str, Any]]:
    return lambda form: {name: _text(form, name) for name in names}


def _texts_stand(*names: str) -> Callable[[Entries, Mapping[str, Any]], str]:
    return lambda entries, _: "; ".join(
        said for said in (_first(getattr(entries, name)) for name in names) if said
    )


QUESTIONS = (
    Question(
        "found",
        "Found",
        "What was wrong before you touched anything?",
        "Messages on the dash, dead lamps, old damage, earlier splices. This settles arguments "
        "later.",
        _take_texts("found"),
        _texts_stand("found"),
    ),
    Question(
        "done",
        "Done",
        "What was done?",
        "Tick what you did. What stays open is printed as not done.",
        _take_done,
        _done_stands,
    ),
    Question(
        "places",
        "Places",
        "Where is it?",
        "Name each place from a landmark the next person finds: “left frame rail, 12 in ahead of "
        "the cross member”.",
        _take_places,
        _places_stand,
    ),
    Question(
        "fitted",
        "Fitted",
        "What was fitted, set or coded?",
        "Parts by size and kind; gain of the controller; coding done; fault codes cleared.",
        _take_texts("parts", "settings"),
        _texts_stand("parts", "settings"),
    ),
    Question(
        "tested",
        "Tested",
        "Which light checks belong to this record?",
        "Their readings stand side by side on the record. What they left out is listed by itself.",
        _take_checks,
        _checks_stand,
    ),
    Question(
        "photos",
        "Photos",
        "What should the next person see?",
        "Splices before the shrink, the hole, the ground ring, the fuse holder.",
        _take_nothing,
        _photos_stand,
    ),
    Question(
        "owner",
        "Owner",
        "What must the owner know?",
        "Besides the cautions below, which are printed on every record of such a rig.",
        _take_texts("for_owner"),
        _texts_stand("for_owner"),
    ),
)
BY_KEY = {each.key: each for each in QUESTIONS}


def after(question: Question) -> Question | None:
    """Return the question that follows, None after the last."""
    place = QUESTIONS.index(question) + 1
    return QUESTIONS[place] if place < len(QUESTIONS) else None


def before(question: Question) -> Question | None:
    """Return the question before, None before the first."""
    place = QUESTIONS.index(question)
    return QUESTIONS[place - 1] if place else None
