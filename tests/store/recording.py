"""A record for the tests: a rig, checks on both sides of the work, photos, signatures."""

from tests.store.checking import LEFT, PIN, RIGHT, begun, read, seen
from tests.store.jobs import SMALL
from tests.store.pictures import PNG, told_jpeg

from loomwright.lightcheck.model import Answer, Standing
from loomwright.observations.word import Word
from loomwright.store.checks_values import Given, Stage
from loomwright.store.records_signing import Signature
from loomwright.store.records_values import Record
from loomwright.store.store import Store

DRAWN = Signature("Technician", "Kim Aas", (((10, 10), (200, 300), (400, 20)), ((500, 390),)))
TYPED = Signature("Customer", "Søren Weiß")
ENTRIES = {
    "done_notes": "Bracket straightened.",
    "places": {"fuse.tail": "box under the dash, third from left"},
    "not_tested": "Charging on the road\n\n  Reversing   lamp ",
    "for_owner": "The lens is cracked.",
}


def checked(store: Store, rig_id: str) -> None:
    """A check before the work that failed, and one after it that passed."""
    before = begun(store, rig_id, Stage.BEFORE)
    after = begun(store, rig_id, Stage.AFTER)
    store.checks.give(
        before.id,
        Given(
            f"before-{before.number}",
            (Answer(LEFT, seen(), Standing.WRONG, "no ground at the lamp"),),
        ),
        "Kim",
    )
    store.checks.give(
        after.id,
        Given(
            f"after-is-{after.number}",
            (
                Answer(LEFT, seen(Word.FLASHING), Standing.RIGHT),
                Answer(PIN, read(12.3), Standing.RIGHT),
                Answer(RIGHT, None, Standing.NOT_TESTED),
            ),
        ),
        "Søren",
    )


def drafted(store: Store, rig_id: str) -> Record:
    """A draft with everything in it."""
    checked(store, rig_id)
    draft = store.records.begin(rig_id, "Kim")
    store.records.change(draft.id, ENTRIES, "Kim")
    store.records.add_photo(draft.id, told_jpeg(turned=6), "Kim", "The splices")
    return store.records.add_photo(draft.id, PNG, "Kim")


def signed(store: Store, rig_id: str = "") -> Record:
    """A signed record; of a new rig if none is named."""
    draft = drafted(store, rig_id or store.rigs.create(SMALL, "Kim").id)
    return store.records.sign(draft.id, (DRAWN, TYPED), "Kim")
