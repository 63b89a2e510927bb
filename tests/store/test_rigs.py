"""Rigs: kept exactly as written, every change a version, found again by any word."""

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.store.conftest import Clock
from tests.store.jobs import BROKEN, DRAFT, SMALL

from loomwright.invalid import InvalidInput
from loomwright.store.rig_values import EditConflict
from loomwright.store.store import Store


def test_a_new_rig_says_what_its_job_file_says(store: Store, clock: Clock) -> None:
    entry = store.rigs.create(SMALL, "Kim")

    assert len(entry.id) == 32
    assert (entry.name, entry.kind) == ("Marsh Hollow flatbed", "second socket")
    assert (entry.vehicle, entry.trailer) == ("Quillon 150 pickup", "Tansy flatbed")
    assert (entry.version, entry.usable, entry.archived) == (1, True, False)
    assert entry.created_at == entry.updated_at == clock.time
    assert entry.created_at.tzinfo is not None
    assert entry.created_by == entry.updated_by == "Kim"
    assert store.rigs.entry(entry.id) == entry


def test_a_saved_change_is_a_new_version_and_the_old_one_stays(store: Store, clock: Clock) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    clock.wind(minutes=5)

    saved = store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")

    assert (saved.number, saved.who, saved.at) == (2, "Ola", clock.time)
    assert saved.change == 'vehicle.feed[2].colour from "YE" to "GN"'
    assert store.rigs.newest(rig.id) == saved
    assert store.rigs.version(rig.id, 1).text == SMALL
    assert [each.number for each in store.rigs.history(rig.id)] == [1, 2]
    entry = store.rigs.entry(rig.id)
    assert (entry.version, entry.updated_by, entry.updated_at) == (2, "Ola", clock.time)
    assert (entry.created_by, entry.created_at) == ("Kim", rig.created_at)


def test_the_same_text_again_is_no_new_version(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")

    assert store.rigs.save(rig.id, SMALL, 1, "Ola").number == 1
    assert len(store.rigs.history(rig.id)) == 1


@pytest.mark.parametrize("text", [DRAFT, BROKEN, "", "no job file at all"])
def test_what_cannot_be_used_is_kept_as_a_draft(store: Store, text: str) -> None:
    rig = store.rigs.create(SMALL, "Kim")

    draft = store.rigs.save(rig.id, text, 1, "Kim")

    assert (draft.text, draft.usable) == (text, False)
    assert not store.rigs.entry(rig.id).usable
    assert store.rigs.save(rig.id, SMALL, 2, "Kim").usable


def test_a_draft_that_is_no_toml_keeps_its_names_in_the_list(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, BROKEN, 1, "Kim")

    entry = store.rigs.entry(rig.id)

    assert (entry.name, entry.vehicle) == ("Marsh Hollow flatbed", "Quillon 150 pickup")
    assert store.rigs.search("marsh") == (entry,)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(st.characters(codec="utf-8", exclude_characters="\0")))
def test_any_text_comes_back_letter_for_letter(store: Store, text: str) -> None:
    rig = store.rigs.import_text(text, "Kim", "notes.toml")

    assert store.rigs.export_text(rig.id) == text


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_ends_of_lines_and_marks_stay_as_they_are(store: Store, ends: str) -> None:
    text = "\ufeff" + SMALL.replace("\n", ends) + "\t \n\n"
    rig = store.rigs.import_text(text, "Kim")
    store.rigs.save(rig.id, SMALL, 1, "Kim")

    assert store.rigs.export_text(rig.id, 1) == text
    assert store.rigs.export_text(rig.id) == SMALL


@pytest.mark.parametrize("text", ["a\0b", "a\ud800b", "x" * 1_000_001])
def test_a_text_no_database_can_hold_is_refused_with_its_mend(store: Store, text: str) -> None:
    with pytest.raises(InvalidInput, match=r"broken character|shorten it"):
        store.rigs.create(text, "Kim")

    assert store.rigs.search() == ()


@pytest.mark.parametrize("who", ["", "  ", "x" * 201, "a\0"])
def test_every_change_needs_a_name(store: Store, who: str) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    changes: list[Callable[[], object]] = [
        lambda: store.rigs.create(SMALL, who),
        lambda: store.rigs.save(rig.id, DRAFT, 1, who),
        lambda: store.rigs.undo(rig.id, who),
        lambda: store.rigs.archive(rig.id, who),
        lambda: store.rigs.copy(rig.id, who),
    ]

    for change in changes:
        with pytest.raises(InvalidInput, match="who is"):
            change()


def test_a_rig_or_version_that_is_not_there_is_named(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    asked: list[Callable[[], object]] = [
        lambda: store.rigs.entry("00" * 16),
        lambda: store.rigs.newest("00" * 16),
        lambda: store.rigs.history("00" * 16),
        lambda: store.rigs.save("00" * 16, SMALL, 1, "Kim"),
        lambda: store.rigs.undo("' or 1=1 --", "Kim"),
        lambda: store.rigs.entry("a\0b"),
        lambda: store.rigs.entry("a\ud800b"),
        lambda: store.rigs.version(rig.id, 2),
        lambda: store.rigs.version(rig.id, -1),
        lambda: store.rigs.version(rig.id, 10**30),
        lambda: store.rigs.save(rig.id, DRAFT, 7, "Kim"),
    ]

    for ask in asked:
        with pytest.raises(InvalidInput, match="choose a"):
            ask()


def test_who_saves_on_an_old_version_learns_what_the_other_did(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    theirs = store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")
    mine = SMALL.replace("bent", "straight")

    with pytest.raises(EditConflict, match="Ola saved version 2 meanwhile") as caught:
        store.rigs.save(rig.id, mine, 1, "Kim")

    conflict = caught.value
    assert (conflict.yours, conflict.theirs) == (mine, theirs)
    assert conflict.base.text == SMALL
    assert conflict.merged == mine.replace("YE", "GN")
    assert store.rigs.newest(rig.id) == theirs


def test_a_conflict_is_settled_by_a_text_that_somebody_looked_at(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")

    settled = store.rigs.resolve(rig.id, SMALL.replace("YE", "VT"), 2, "Kim")

    assert settled.number == 3
    assert settled.change == (
        'settled with version 2 of Ola: vehicle.feed[2].colour from "GN" to "VT"'
    )


def test_settling_meets_a_third_change_as_a_conflict_again(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")
    store.rigs.save(rig.id, SMALL.replace("YE", "RD"), 2, "Ola")

    with pytest.raises(EditConflict):
        store.rigs.resolve(rig.id, SMALL.replace("YE", "VT"), 2, "Kim")


def test_both_saving_the_same_text_is_no_conflict(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    theirs = store.rigs.save(rig.id, DRAFT, 1, "Ola")

    assert store.rigs.save(rig.id, DRAFT, 1, "Kim") == theirs


def test_undo_and_redo_append_and_walk_the_line_of_changes(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")

    undone = store.rigs.undo(rig.id, "Kim")
    redone = store.rigs.redo(rig.id, "Kim")

    assert (undone.number, undone.text) == (3, SMALL)
    assert undone.change == 'undid: vehicle.feed[2].colour from "YE" to "GN"'
    assert (redone.number, redone.text) == (4, SMALL.replace("YE", "GN"))
    assert redone.change == 'did again: vehicle.feed[2].colour from "YE" to "GN"'


def test_there_is_nothing_to_undo_before_the_first_version(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")

    with pytest.raises(InvalidInput, match="nothing before"):
        store.rigs.undo(rig.id, "Kim")
    with pytest.raises(InvalidInput, match="nothing was undone"):
        store.rigs.redo(rig.id, "Kim")


def test_undo_of_what_was_seen_leaves_a_newer_change_alone(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, DRAFT, 1, "Kim")
    theirs = store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 2, "Ola")

    with pytest.raises(EditConflict):
        store.rigs.undo(rig.id, "Kim", based_on=2)

    assert store.rigs.newest(rig.id) == theirs


def test_a_copy_stands_alone_under_its_own_name(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")

    copy = store.rigs.copy(rig.id, "Kim")
    named = store.rigs.copy(copy.id, "Kim", "Second flatbed")

    assert copy.id != rig.id
    assert copy.name == "Marsh Hollow flatbed (copy)"
    assert store.rigs.history(copy.id)[0].change == "copied from Marsh Hollow flatbed, version 2"
    assert 'colour = "GN"' in store.rigs.export_text(copy.id)
    assert "# The bracket is bent." in store.rigs.export_text(copy.id)
    assert named.name == "Second flatbed"
    assert store.rigs.entry(rig.id).version == 2


def test_a_draft_can_be_copied_too(store: Store) -> None:
    rig = store.rigs.import_text(BROKEN, "Kim", "flatbed.toml")

    copy = store.rigs.copy(rig.id, "Kim")

    assert (rig.name, copy.name) == ("flatbed", "flatbed (copy)")
    assert store.rigs.export_text(copy.id) == BROKEN
    assert store.rigs.search("flatbed copy") == (copy,)


def test_archived_rigs_are_out_of_the_way_and_come_back(store: Store) -> None:
    rig, other = store.rigs.create(SMALL, "Kim"), store.rigs.create(SMALL, "Kim")

    away = store.rigs.archive(rig.id, "Ola")

    assert away.archived
    assert store.rigs.archive(rig.id, "Ola") == away
    assert store.rigs.search() == (other,)
    assert store.rigs.search(archived=True) == (away,)
    assert len(store.rigs.search(archived=None)) == 2
    assert not store.rigs.unarchive(rig.id, "Ola").archived
    assert store.rigs.history(rig.id)[-1].number == 1


@pytest.mark.parametrize(
    "words",
    [
        *("marsh", "MARSH hollow", "tansy quillon", "  150 ", "1a9be20", "second"),
        *("WEISSGERBER", "weißgerber", "søn", "& SØN"),
    ],
)
def test_a_rig_is_found_by_its_words_in_any_case(store: Store, words: str) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.create(SMALL.partition("[rig]")[0], "Kim")

    assert store.rigs.search(words) == (rig,)


@pytest.mark.parametrize(
    "words", ["veldt", "marsh veldt", "%", "_", "mar_h", "\\", "'", "a\0b", "a\ud800b"]
)
def test_signs_of_the_database_are_only_letters(store: Store, words: str) -> None:
    store.rigs.create(SMALL, "Kim")

    assert store.rigs.search(words) == ()
    assert store.rigs.search(kind=words) == ()


def test_the_rig_changed_last_stands_first(store: Store, clock: Clock) -> None:
    first = store.rigs.create(SMALL, "Kim")
    clock.wind(seconds=1)
    second = store.rigs.create(SMALL, "Kim")
    assert [each.id for each in store.rigs.search()] == [second.id, first.id]

    clock.wind(seconds=1)
    store.rigs.save(first.id, DRAFT, 1, "Kim")

    assert [each.id for each in store.rigs.search()] == [first.id, second.id]


def test_rigs_are_listed_by_kind(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    other = store.rigs.create(SMALL.replace("second socket", "charge line"), "Kim")

    assert store.rigs.kinds() == ("charge line", "second socket")
    assert store.rigs.search(kind="second socket") == (rig,)
    assert store.rigs.search("marsh", kind="charge line") == (other,)


def test_every_change_of_a_rig_is_an_event(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    store.rigs.save(rig.id, SMALL.replace("YE", "GN"), 1, "Ola")
    store.rigs.archive(rig.id, "Kim")

    events = store.events.events_since(0, f"rig/{rig.id}")

    assert [(each.payload["what"], each.who) for each in events] == [
        ("saved", "Kim"),
        ("saved", "Ola"),
        ("archived", "Kim"),
    ]
    assert events[1].payload["version"] == 2
