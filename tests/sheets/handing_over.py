"""Documents of records for the tests: each example, with readings, photos and signatures."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from tests.store.pictures import JPEG, LOSSLESS, PNG, PROGRESSIVE, WEBP

from loomwright import examples, read_rig
from loomwright.hookup import pair
from loomwright.sheets.handover_facts import record_facts
from loomwright.store.photos import sum_of
from loomwright.store.photos_stripping import stripped
from loomwright.store.records_document import Checks, Origin, canonical, checksum, compose
from loomwright.store.records_entries import Entries, PhotoEntry

PHOTOS = (JPEG, PROGRESSIVE, WEBP, LOSSLESS, PNG)
WIGGLE = [[[10, 10], [300, 390], [600, 20], [990, 200]], [[500, 200]]]
SIDE = {"tester": "meter", "who": "Kim", "at": "2026-11-24T09:30:00+00:00", "note": ""}
BEFORE = {**SIDE, "value": 9.6, "word": None, "standing": "wrong", "says": "a joint takes it"}
AFTER = {**SIDE, "value": 12.4, "word": None, "standing": "right", "says": ""}
SEEN = {**SIDE, "value": None, "word": "dim", "standing": "doubtful", "says": "look at the ground"}
ASKED = {"command": "park", "nominal": 12.3, "plugged": True}
ROWS = [
    {**ASKED, "key": "a", "hold": "Park lamps on", "title": "pin 3 of the socket",
     "quantity": "V", "words": [], "low": 11.8, "high": 13.4, "before": BEFORE, "after": AFTER},
    {**ASKED, "key": "b", "hold": "Park lamps on", "title": "left tail lamp",
     "quantity": "seen", "words": ["normal", "bright"], "low": None, "high": None,
     "before": None, "after": SEEN},
    {**ASKED, "key": "d", "hold": "Everything off", "title": "right tail lamp",
     "quantity": "seen", "words": ["off"], "low": None, "high": None,
     "before": {**SEEN, "word": "dim", "standing": "wrong", "says": "bridged wires"},
     "after": {**SEEN, "word": "off", "standing": "right", "says": ""}},
    {**ASKED, "key": "c", "hold": "Everything off", "title": "pin 4 of the socket",
     "quantity": "V", "words": [], "low": None, "high": 0.2, "plugged": False,
     "before": None, "after": {**AFTER, "value": 0.05}},
]  # fmt: skip
MADE = {
    "number": 3,
    "title": "After",
    "rig_version": 1,
    "tester": "meter",
    "people": 1,
    "who": ["Kim", "Søren"],
    "at": SIDE["at"],
    "answered": 3,
    "asked": 5,
}


@cache
def document(name: str = examples.DEMO, *, signed: bool = True) -> Mapping[str, Any]:
    """A record of an example, with something in every part of it."""
    rig = read_rig(examples.text(name))
    facts = record_facts(rig, pair(rig))
    photos = {
        sum_of(each): {"kind": made.kind, "width": 24, "height": 16, "turned": 1}
        for each in PHOTOS
        for made in [stripped(each)]
    }
    entries = Entries(
        done=tuple(step["key"] for step in facts["steps"][3:]),
        done_notes="Two screws renewed.\nTap taken out.",
        found="Lens cracked <b>, *not bold*, $x$, #1",
        parts="Socket with cap",
        settings="Gain 5.5",
        places={each["key"]: f"place {n}" for n, each in enumerate(facts["places"][:-1])},
        not_tested="Charging on the road",
        for_owner="Renew the lens.",
        photos=tuple(PhotoEntry(sum_of(each), f"Photo words {n}") for n, each in enumerate(PHOTOS)),
    )
    origin = Origin("3f9a22c1" * 4, 2, "a" * 32, 7, "b" * 64, "wrong fuse", "c" * 64)
    found = compose(origin, facts, entries, Checks(), photos)
    found |= {"readings": ROWS, "checks": {"before": None, "after": MADE}}
    if signed:
        one = {"role": "Technician", "name": "Kim Aas", "how": "drawn", "at": SIDE["at"]}
        two = {"role": "Customer", "name": "Søren Weiß", "how": "typed", "at": SIDE["at"]}
        found |= {
            "signatures": [{**one, "strokes": WIGGLE}, {**two, "strokes": []}],
            "signed_at": SIDE["at"],
            "signed_by": "Kim",
        }
    return found


def text_and_sum(name: str = examples.DEMO) -> tuple[str, str]:
    """The text of a signed document, and its checksum."""
    text = canonical(document(name))
    return text, checksum(text)
