"""A record is filled in, signed once, and never changed after; every tampering is found."""

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import exc, text
from tests.store.checking import PLAN
from tests.store.conftest import Clock
from tests.store.jobs import SMALL
from tests.store.pictures import JPEG, PNG, told_jpeg
from tests.store.recording import DRAWN, ENTRIES, TYPED, drafted, signed

from loomwright.invalid import InvalidInput
from loomwright.store.photos import MOST_TOGETHER
from loomwright.store.records_printing import Printer
from loomwright.store.records_signing import Signature, strokes_from_plain
from loomwright.store.records_values import Record
from loomwright.store.records_verifying import Verdict, audit, prove
from loomwright.store.store import Store

SHA = {"sha256": "0" * 64}


def rig_in(store: Store) -> str:
    return store.rigs.create(SMALL, "Kim").id


def write(store: Store, sql: str, **values: Any) -> int:
    """Write past the code, as a program of somebody else would."""
    with store.access.engine.begin() as connection:
        return connection.execute(text(sql), values).rowcount


def write_unguarded(store: Store, sql: str, **values: Any) -> None:
    """Write as somebody would who takes the guards away first and puts them back."""
    with store.access.engine.begin() as connection:
        if connection.dialect.name == "sqlite":
            guards = connection.exec_driver_sql(
                "select name, sql from sqlite_master where type = 'trigger'"
            ).all()
            for name, _ in guards:
                connection.exec_driver_sql(f"drop trigger {name}")
            assert connection.execute(text(sql), values).rowcount
            for _, guard in guards:
                connection.exec_driver_sql(guard)
        else:
            connection.exec_driver_sql("set local session_replication_role = replica")
            assert connection.execute(text(sql), values).rowcount


def test_a_record_says_what_was_done_read_and_left_out(store: Store) -> None:
    record = signed(store)
    said = record.document

    assert said["head"]["rig"] == "Marsh Hollow flatbed"
    assert said["done_notes"] == "Bracket straightened."
    assert said["for_owner"] == "The lens is cracked."
    assert [each["caption"] for each in said["photos"]] == ["The splices", ""]
    assert [each["name"] for each in said["signatures"]] == ["Kim Aas", "Søren Weiß"]
    assert [each["how"] for each in said["signatures"]] == ["drawn", "typed"]
    places = {each["key"]: each["place"] for each in said["places"]}
    assert places["fuse.tail"] == "box under the dash, third from left"
    rows = {row["key"]: row for row in said["readings"]}
    assert rows["left/lamp"]["before"]["word"] == "off"
    assert rows["left/lamp"]["before"]["standing"] == "wrong"
    assert rows["left/lamp"]["after"]["word"] == "flashing"
    assert (rows["park/pin"]["low"], rows["park/pin"]["high"]) == (11.5, 13.0)
    assert rows["park/pin"]["after"]["value"] == 12.3
    assert rows["park/pin"]["before"] is None
    assert said["not_tested"] == [
        "LEFT SIGNAL ON: right rear lamp",
        *PLAN.not_tested,
        "Charging on the road",
        "Reversing lamp",
    ]


def test_a_record_without_checks_says_so_first(store: Store) -> None:
    draft = store.records.begin(rig_in(store), "Kim")

    before, after, *_ = store.records.preview(draft.id)["not_tested"]

    assert "No light check was made before the work" in before
    assert "No light check was made after the work" in after


def test_the_checksum_is_the_sha256_of_the_document(store: Store) -> None:
    record = signed(store)

    assert record.checksum == hashlib.sha256(record.text.encode()).hexdigest()
    assert json.loads(record.text) == record.document


def test_one_draft_of_a_rig_is_open_at_a_time_and_keeps_its_other_entries(store: Store) -> None:
    rig = rig_in(store)
    first = store.records.begin(rig, "Kim")
    store.records.change(first.id, {"parts": "socket"}, "Kim")
    store.records.change(first.id, {"settings": "gain 5"}, "Ola")

    again = store.records.begin(rig, "Ola")

    assert again.id == first.id
    assert (again.entries.parts, again.entries.settings) == ("socket", "gain 5")
    assert (again.made_by, again.changed_by) == ("Kim", "Ola")


def test_every_entry_that_cannot_be_used_is_named_at_once(store: Store) -> None:
    draft = store.records.begin(rig_in(store), "Kim")
    wrong = {"done": 7, "found": "a\0b", "before": "none", "extra": 1, "photos": [{**SHA}] * 25}

    with pytest.raises(ExceptionGroup) as refused:
        store.records.change(draft.id, wrong, "Kim")

    fields = {each.field for each in refused.value.exceptions if isinstance(each, InvalidInput)}
    assert fields == {"done", "found", "before", "extra", "photos"}
    assert store.records.draft_of(draft.rig_id) == draft


def test_a_photo_is_kept_stripped_and_once_and_let_go_with_its_draft(store: Store) -> None:
    draft = store.records.begin(rig_in(store), "Kim")
    store.records.add_photo(draft.id, told_jpeg(), "Kim", "a")
    record = store.records.add_photo(draft.id, told_jpeg(), "Kim", "b")
    (entry,) = record.entries.photos

    kept = store.records.photo(entry.sha256)
    assert entry.caption == "b"
    assert hashlib.sha256(kept.data).hexdigest() == entry.sha256
    assert b"PHONE-MAKER" not in kept.data

    store.records.drop(draft.id, "Kim")
    with pytest.raises(InvalidInput, match="choose a photo"):
        store.records.photo(entry.sha256)
    assert store.records.draft_of(draft.rig_id) is None


def test_a_photo_that_was_never_sent_cannot_be_named(store: Store) -> None:
    draft = store.records.begin(rig_in(store), "Kim")

    with pytest.raises(InvalidInput, match="add the photo again"):
        store.records.change(draft.id, {"photos": [SHA]}, "Kim")


@pytest.mark.slow
def test_photos_of_a_record_are_held_within_a_size_together(store: Store) -> None:
    draft = store.records.begin(rig_in(store), "Kim")
    data = bytes(MOST_TOGETHER // 2 + 1)
    for number in (1, 2):
        write(
            store,
            "insert into photos (sha256, kind, width, height, turned, data, kept_at, kept_by) "
            "values (:sha, 'png', 1, 1, 1, :data, :at, 'Kim')",
            sha=str(number) * 64,
            data=data,
            at=store.access.at().replace(tzinfo=None),
        )

    with pytest.raises(InvalidInput, match="within 60 MB"):
        store.records.change(
            draft.id, {"photos": [{"sha256": "1" * 64}, {"sha256": "2" * 64}]}, "Kim"
        )

    assert store.records.record(draft.id).entries.photos == ()


@pytest.mark.parametrize(
    ("signatures", "says"),
    [
        ((), "sign it"),
        ((TYPED,), "sign it"),
        ((Signature("Technician", " "),), "enter a name"),
        ((DRAWN, DRAWN), "one signature each"),
        ((Signature("Technician", "Kim", (((5, 5),),)),), "only a dot"),
        ((Signature("Technician", "Kim", (((5, 5), (1001, 5), (6, 6), (7, 7)),)),), "leaves"),
        ((Signature("Technician", "Kim", (((5, 5),) * 7000,)),), "too long"),
    ],
)
def test_a_signature_that_cannot_stand_is_refused(
    store: Store, signatures: tuple[Signature, ...], says: str
) -> None:
    draft = drafted(store, rig_in(store))

    with pytest.raises(ExceptionGroup) as refused:
        store.records.sign(draft.id, signatures, "Kim")

    assert says in str(refused.value.exceptions)
    assert not store.records.record(draft.id).is_signed


def test_strokes_are_whole_numbers_in_lists_and_nothing_else() -> None:
    assert strokes_from_plain([[[1.4, 2], [3, 4.6]], []]) == (((1, 2), (3, 5)),)
    for wrong in ("x", [["a"]], [[[1]]], [[[1, float("nan")]]], [[[1e9, 1]]], {}, None):
        with pytest.raises(InvalidInput, match="type the name"):
            strokes_from_plain(wrong)


def test_nothing_done_is_not_signed(store: Store) -> None:
    draft = store.records.begin(rig_in(store), "Kim")

    with pytest.raises(InvalidInput, match="tick what was done"):
        store.records.sign(draft.id, (DRAWN,), "Kim")


def test_what_changed_since_it_was_looked_at_is_not_signed(store: Store) -> None:
    draft = drafted(store, rig_in(store))
    seen = hashlib.sha256(b"something else").hexdigest()

    with pytest.raises(InvalidInput, match="look at the record again"):
        store.records.sign(draft.id, (DRAWN,), "Kim", seen=seen)


def test_a_signed_record_has_no_way_to_change(store: Store) -> None:
    record = signed(store)

    for act in (
        lambda: store.records.change(record.id, ENTRIES, "Kim"),
        lambda: store.records.add_photo(record.id, PNG, "Kim"),
        lambda: store.records.sign(record.id, (DRAWN,), "Kim"),
        lambda: store.records.drop(record.id, "Kim"),
    ):
        with pytest.raises(InvalidInput, match="correct it by a new version"):
            act()

    assert store.records.record(record.id) == record


GUARDED = (
    "update records set document = '{}'",
    "update records set state = 'draft'",
    "update records set checksum = null",
    "delete from records",
    "update record_photos set version = 2",
    "delete from record_photos",
    "update photos set data = data",
    "update photos set kind = 'webp'",
    "delete from photos",
    "update record_prints set paper = 'a4'",
    "delete from record_prints",
)


@pytest.mark.parametrize("sql", GUARDED)
def test_the_database_refuses_to_change_what_is_signed(store: Store, sql: str) -> None:
    record = signed(store)
    Printer(store.access, "letter").printed(record)

    with pytest.raises(exc.DatabaseError, match="a signed record stays as it is"):
        write(store, sql)

    assert store.records.record(record.id) == record


def test_the_database_refuses_to_replace_or_empty_what_is_signed(store: Store, kind: str) -> None:
    record = signed(store)
    tables = ("records", "record_photos", "photos", "record_prints")
    if kind == "sqlite":
        acts = ["insert or replace into records select * from records"]
        acts += ["insert or replace into photos select * from photos"]
    else:
        acts = [f"truncate {table} cascade" for table in tables]

    for sql in acts:
        with pytest.raises(exc.DatabaseError, match="a signed record stays as it is"):
            write(store, sql)

    assert store.records.record(record.id) == record


def test_drafts_beside_a_signed_record_can_still_be_dropped(store: Store) -> None:
    record = signed(store)
    draft = store.records.correct(record.id, "wrong fuse", "Kim")

    store.records.drop(draft.id, "Kim")

    assert store.records.history(record.id) == (record,)
    assert store.records.photo(record.entries.photos[0].sha256).data


def corrected(store: Store, record: Record) -> Record:
    draft = store.records.correct(record.id, "fuse of the tail lamps is 15 A", "Ola")
    store.records.change(draft.id, {"found": "lens cracked"}, "Ola")
    return store.records.sign(draft.id, (Signature("Technician", "Ola"),), "Ola")


def test_a_correction_is_a_new_version_chained_to_the_old(store: Store, clock: Clock) -> None:
    first = signed(store)
    clock.wind(days=1)
    second = corrected(store, first)

    assert (second.id, second.version) == (first.id, 2)
    assert second.document["earlier_checksum"] == first.checksum
    assert second.why == "fuse of the tail lamps is 15 A"
    assert second.document["done_notes"] == first.document["done_notes"]
    assert [each["sha256"] for each in second.document["photos"]] == [
        each["sha256"] for each in first.document["photos"]
    ]
    assert store.records.history(first.id) == (first, second)
    assert store.records.record(first.id, 1) == first


def test_a_correction_needs_a_reason_and_no_open_draft(store: Store) -> None:
    record = signed(store)

    with pytest.raises(InvalidInput, match="say what is corrected"):
        store.records.correct(record.id, "  ", "Kim")
    store.records.correct(record.id, "a", "Kim")
    with pytest.raises(InvalidInput, match="sign or drop the open draft"):
        store.records.correct(record.id, "b", "Kim")


def test_a_print_is_genuine_and_the_same_bytes_every_time(store: Store) -> None:
    record = signed(store)

    for paper in ("letter", "a4"):
        pdf = Printer(store.access, paper).printed(record)
        assert pdf == Printer(store.access, paper).printed(record)
        assert prove(store.access, pdf).verdict is Verdict.GENUINE
        assert prove(store.access, pdf).record == record


def test_a_print_that_nobody_noted_is_proved_by_printing_again(store: Store) -> None:
    record = signed(store)
    pdf = Printer(store.access, "a4").typeset(record)

    assert prove(store.access, pdf).verdict is Verdict.GENUINE


def test_a_print_of_an_earlier_program_is_known_by_its_note(store: Store) -> None:
    """Another version sets the page otherwise: the note of what was printed still proves it."""
    record = signed(store)
    other = Printer(store.access, "a4").typeset(record) + b"\n% set by an earlier version\n"
    assert prove(store.access, other).verdict is Verdict.ALTERED
    write(
        store,
        "insert into record_prints values (:sum, :id, 1, 'a4', :at)",
        sum=hashlib.sha256(other).hexdigest(),
        id=record.id,
        at=store.access.at().replace(tzinfo=None),
    )

    assert prove(store.access, other).verdict is Verdict.GENUINE


def test_a_replaced_version_is_told_with_the_one_that_replaces_it(store: Store) -> None:
    first = signed(store)
    pdf = Printer(store.access, "letter").printed(first)
    second = corrected(store, first)

    proof = prove(store.access, pdf)

    assert proof.verdict is Verdict.SUPERSEDED
    assert proof.newest == second
    assert proof.says == ("Version 2 replaces it: fuse of the tail lamps is 15 A",)
    assert (
        prove(store.access, Printer(store.access, "a4").printed(second)).verdict is Verdict.GENUINE
    )


def test_any_changed_byte_of_a_pdf_is_found(store: Store) -> None:
    record = signed(store)
    pdf = Printer(store.access, "letter").printed(record)

    for place in range(9, len(pdf), max(1, len(pdf) // 10)):
        spoilt = pdf[:place] + bytes((pdf[place] ^ 0x20,)) + pdf[place + 1 :]
        verdict = prove(store.access, spoilt).verdict
        assert verdict in {Verdict.ALTERED, Verdict.UNKNOWN}, place


def test_marks_of_another_record_in_a_pdf_are_found(store: Store) -> None:
    record, other = signed(store), signed(store)
    assert record.checksum
    assert other.checksum
    pdf = Printer(store.access, "letter").printed(record)

    mixed = pdf.replace(record.checksum.encode(), other.checksum.encode(), 1)
    exchanged = pdf.replace(record.checksum.encode(), other.checksum.encode())

    assert prove(store.access, mixed).verdict is Verdict.ALTERED
    assert prove(store.access, exchanged).verdict is Verdict.ALTERED


def test_what_is_no_record_of_ours_is_unknown(store: Store, tmp_path: Path) -> None:
    record = signed(store)
    pdf = Printer(store.access, "letter").printed(record)
    draft = store.records.correct(record.id, "a", "Kim")
    paper = Printer(store.access, "letter").draft(store.records.preview(draft.id))
    foreign = pdf.replace(record.id.encode(), b"f" * 32)

    assert prove(store.access, paper).verdict is Verdict.UNKNOWN
    assert prove(store.access, b"%PDF-1.7 of something else").verdict is Verdict.UNKNOWN
    assert "another shop" in prove(store.access, foreign).says[0]
    for wrong in (b"", b"hello", PNG, JPEG):
        with pytest.raises(InvalidInput, match="choose the PDF of a record"):
            prove(store.access, wrong)


TAMPERED = {
    "a word of the document": (
        "update records set document = replace(document, 'Bracket', 'Bumper')",
        "document of version 1",
    ),
    "a signature": (
        "update records set document = replace(document, 'Kim Aas', 'Kim Ass')",
        "document of version 1",
    ),
    "a stroke": (
        "update records set document = replace(document, '[200,300]', '[201,300]')",
        "document of version 1",
    ),
    "a photo": ("update photos set data = :noise", "Photo 1 of version 1 in the store was changed"),
    "a photo gone": ("delete from photos", "Photo 1 of version 1 is gone"),
}


@pytest.mark.parametrize("what", TAMPERED)
def test_tampering_with_the_store_is_found(store: Store, what: str) -> None:
    record = signed(store)
    pdf = Printer(store.access, "letter").printed(record)
    sql, says = TAMPERED[what]
    assert [*audit(store.access)] == []
    if "delete" in sql:
        write_unguarded(store, "delete from record_photos")

    write_unguarded(store, sql, **({"noise": PNG[:-1] + b"x"} if ":noise" in sql else {}))

    proof = prove(store.access, pdf)
    assert proof.verdict is Verdict.ALTERED
    assert says in proof.says[0]
    assert says in " ".join(said for _, said in audit(store.access))


def test_a_record_forged_whole_is_not_what_was_printed(store: Store) -> None:
    """Who changes document and sum alike still cannot change the paper in the owner's hand."""
    record = signed(store)
    pdf = Printer(store.access, "letter").printed(record)
    forged = record.text.replace("Bracket", "Bumper")
    total = hashlib.sha256(forged.encode()).hexdigest()

    write_unguarded(
        store, "update records set document = :text, checksum = :sum", text=forged, sum=total
    )

    assert prove(store.access, pdf).verdict is Verdict.ALTERED
    assert "was exchanged" in " ".join(said for _, said in audit(store.access))


def test_a_row_taken_out_is_found(store: Store) -> None:
    first = signed(store)
    pdf = Printer(store.access, "letter").printed(first)
    second = corrected(store, first)
    newest = Printer(store.access, "letter").printed(second)
    for sql in ("delete from record_prints", "delete from record_photos"):
        write_unguarded(store, sql)
    write_unguarded(store, "delete from records where version = 1")

    assert "somebody took it out of the store" in prove(store.access, pdf).says[0]
    assert prove(store.access, pdf).verdict is Verdict.ALTERED
    assert "Version 1, which it corrects, is gone" in prove(store.access, newest).says[0]
    assert [record for record, _ in audit(store.access)] == [first.id]
