"""The document of a record: frozen when it is signed, with a sum that nothing else has."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.sheets.handover_owner import owner_words
from loomwright.store.records_entries import Entries, entries_to_plain, lines_of
from loomwright.store.records_readings import CheckMade, reading_rows, untested

Plain = dict[str, Any]

FORM = "loomwright-record"
FORM_VERSION = 1


@dataclass(frozen=True, slots=True)
class Origin:
    """Which version of which record it is, of which version of which rig; and what it corrects.

    `rig_sha256` is the sum of the rig's job file; `earlier_checksum` that of the version before.
    """

    record: str
    version: int
    rig_id: str
    rig_version: int
    rig_sha256: str
    why: str = ""
    earlier_checksum: str | None = None


@dataclass(frozen=True, slots=True)
class Checks:
    """The light checks on either side of the work."""

    before: CheckMade | None = None
    after: CheckMade | None = None


def compose(
    origin: Origin,
    facts: Mapping[str, Any],
    entries: Entries,
    checks: Checks,
    photos: Mapping[str, Mapping[str, Any]],
) -> Plain:
    """Return the document of a record that is not signed yet.

    Parameters
    ----------
    origin : Origin
        What it is a record of.
    facts : mapping
        What the rig says, as `record_facts` gives it.
    entries : Entries
        What was entered.
    checks : Checks
        The light checks.
    photos : mapping
        Kind, width and height of each photo, by its sum.
    """
    left = entries.not_tested
    return {
        "form": FORM,
        "form_version": FORM_VERSION,
        "record": origin.record,
        "version": origin.version,
        "why": origin.why,
        "earlier_checksum": origin.earlier_checksum,
        "rig_id": origin.rig_id,
        "rig_version": origin.rig_version,
        "rig_sha256": origin.rig_sha256,
        "head": {key: facts[key] for key in ("rig", "job", "facts", "noted")},
        "found": entries.found,
        "done": [_step(each) for each in facts["steps"] if each["key"] in entries.done],
        "left": [_step(each) for each in facts["steps"] if each["key"] not in entries.done],
        "done_notes": entries.done_notes,
        "parts": entries.parts,
        "settings": entries.settings,
        "maps": facts["maps"],
        "places": [
            {**each, "place": entries.places.get(each["key"], "")} for each in facts["places"]
        ],
        "checks": {
            "before": None if checks.before is None else checks.before.to_plain(),
            "after": None if checks.after is None else checks.after.to_plain(),
        },
        "readings": reading_rows(checks.before, checks.after),
        "not_tested": [*untested(checks.before, checks.after), *lines_of(left)],
        "cautions": owner_words(facts["has"]),
        "for_owner": entries.for_owner,
        "photos": [
            {"sha256": each.sha256, "caption": each.caption, **photos[each.sha256]}
            for each in entries.photos
        ],
        "signatures": [],
        "signed_at": None,
        "signed_by": None,
        "entries": entries_to_plain(entries),
    }


def canonical(document: Mapping[str, Any]) -> str:
    """Return a document as the one text that stands for it."""
    return json.dumps(
        document, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def checksum(text: str) -> str:
    """Return the sum of a document's text: SHA-256, 64 hexadecimal digits."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _step(step: Mapping[str, Any]) -> Plain:
    return {"phase": step["phase"], "says": step["says"]}
