"""The record on the workbench: written question by question, signed once, corrected, proved."""

from __future__ import annotations

import io
import json
import re
from typing import Any

import pytest
from httpx2 import Response
from pypdf import PdfReader
from tests.store.pictures import JPEG, PNG, SECRETS, told_jpeg
from tests.web.asking import Asker, words

from loomwright.store.photos_stripping import MOST_BYTES
from loomwright.store.records_values import Record
from loomwright.store.store import Store
from loomwright.web.recording.questions import QUESTIONS

STROKES = json.dumps([[[10, 10], [300, 380], [600, 20], [900, 200]]])
SIGNED = {"name.Technician": "Kim Aas", "strokes.Technician": STROKES, "name.Customer": "Dana"}


def begun(host: Asker, rig: str, store: Store) -> Record:
    """Begin a record."""
    answer = host.post(f"/rigs/{rig}/record/begin")
    assert answer.headers["location"] == f"/rigs/{rig}/record/write?ask=found"
    draft = store.records.draft_of(rig)
    assert draft is not None
    return draft


def say(host: Asker, rig: str, key: str, **values: Any) -> Response:
    return host.post(f"/rigs/{rig}/record/write?ask={key}", **values)


def send(host: Asker, rig: str, *photos: tuple[str, bytes]) -> Response:
    """Send photos as a form of ours does."""
    files = [("photo", (name, data, "image/jpeg")) for name, data in photos]
    return host.client.post(f"/rigs/{rig}/record/photos", data={"csrf": host.token()}, files=files)


def seen(host: Asker, rig: str) -> str:
    found = re.search(r'name="seen" value="(\w+)"', host.get(f"/rigs/{rig}/record/sign").text)
    assert found
    return found[1]


def signed(host: Asker, rig: str, store: Store) -> Record:
    """A signed record with one photo."""
    draft = begun(host, rig, store)
    say(host, rig, "done", done=["photo"], done_notes="Two screws renewed.")
    send(host, rig, ("splices.jpg", told_jpeg()))
    answer = host.post(f"/rigs/{rig}/record/sign", seen=seen(host, rig), **SIGNED)
    assert answer.status_code == 303, words(answer)
    return store.records.record(draft.id)


def test_every_question_is_asked_in_turn_and_leads_to_the_look(
    host: Asker, rig_id: str, store: Store
) -> None:
    begun(host, rig_id, store)
    address = f"/rigs/{rig_id}/record/write?ask=found"

    for question in QUESTIONS:
        assert question.asks in words(host.get(address))
        answer = host.post(address)
        address = answer.headers["location"]

    assert address == f"/rigs/{rig_id}/record/look"
    assert "NOT tested" in words(host.get(address))


def test_each_answer_is_kept_by_itself(host: Asker, rig_id: str, store: Store) -> None:
    begun(host, rig_id, store)

    say(host, rig_id, "found", found="Lens cracked")
    say(host, rig_id, "done", done=["photo", "scan"], done_notes="Tap out")
    say(host, rig_id, "places", **{"place.fuse.brake": "under the dash"})
    say(host, rig_id, "fitted", parts="Socket", settings="Gain 5")
    say(host, rig_id, "tested", before="", after="", not_tested="Reversing lamp")
    say(host, rig_id, "owner", for_owner="Renew the lens")

    draft = store.records.draft_of(rig_id)
    assert draft is not None
    kept = draft.entries
    assert (kept.found, kept.done, kept.parts) == ("Lens cracked", ("photo", "scan"), "Socket")
    assert kept.places["fuse.brake"] == "under the dash"
    assert (kept.not_tested, kept.for_owner) == ("Reversing lamp", "Renew the lens")
    listed = words(host.get(f"/rigs/{rig_id}/record"))
    assert "Lens cracked" in listed
    assert "2 of" in listed


def test_what_is_too_long_is_told_and_stays_in_its_field(
    host: Asker, rig_id: str, store: Store
) -> None:
    begun(host, rig_id, store)

    answer = say(host, rig_id, "found", found="x" * 4001)

    assert answer.status_code == 422
    assert "shorten it to 4000 characters" in words(answer)
    assert "x" * 4001 in answer.text


def test_a_photo_is_kept_without_what_it_told(host: Asker, rig_id: str, store: Store) -> None:
    begun(host, rig_id, store)

    answer = send(host, rig_id, ("a.jpg", told_jpeg(turned=6)), ("b.png", PNG))

    assert answer.headers["location"].endswith("ask=photos")
    draft = store.records.draft_of(rig_id)
    assert draft is not None
    first, second = draft.entries.photos
    shown = host.get(f"/rigs/{rig_id}/record/photos/{first.sha256}")
    assert shown.headers["content-type"] == "image/jpeg"
    assert [secret for secret in SECRETS if secret in shown.content] == []
    say(host, rig_id, "photos", **{f"caption.{second.sha256}": "The ground ring"})
    host.post(f"/rigs/{rig_id}/record/photos/{first.sha256}/out")
    draft = store.records.draft_of(rig_id)
    assert draft is not None
    assert [each.caption for each in draft.entries.photos] == ["The ground ring"]
    assert host.get(f"/rigs/{rig_id}/record/photos/{first.sha256}").status_code == 404


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"GIF89a" + bytes(99), "holiday: a GIF choose a photo in JPEG, PNG or WebP"),
        (b"hello", "no photo"),
        (JPEG[:300], "cut short or damaged"),
        (b"\0\0\0\x18ftypheic" + bytes(99), "HEIC"),
        (b"\xff\xd8\xff" + bytes(MOST_BYTES), "at most 10 MB a photo"),
    ],
)
def test_what_is_no_photo_is_refused_by_name_and_the_others_are_kept(
    host: Asker, rig_id: str, store: Store, data: bytes, says: str
) -> None:
    begun(host, rig_id, store)

    answer = send(host, rig_id, ("holiday", data), ("good.jpg", JPEG))

    assert answer.status_code == 422
    assert says in words(answer)
    draft = store.records.draft_of(rig_id)
    assert draft is not None
    assert len(draft.entries.photos) == 1


def test_a_form_without_a_photo_says_so(host: Asker, rig_id: str, store: Store) -> None:
    begun(host, rig_id, store)

    answer = host.post(f"/rigs/{rig_id}/record/photos")

    assert (answer.status_code, "take or choose a photo" in words(answer)) == (422, True)


def test_far_too_much_is_refused_before_it_is_read(host: Asker, rig_id: str) -> None:
    headers = {"content-length": str(70_000_000)}

    photos = host.client.post(f"/rigs/{rig_id}/record/photos", content=b"x", headers=headers)
    other = host.client.post(f"/rigs/{rig_id}/record/sign", content=b"x", headers=headers)

    assert (photos.status_code, other.status_code) == (413, 413)
    assert "These photos are too large together" in words(photos)


def test_a_record_is_signed_and_its_pdf_is_genuine(host: Asker, rig_id: str, store: Store) -> None:
    record = signed(host, rig_id, store)
    base = f"/rigs/{rig_id}/record/kept/{record.id}/{record.version}"

    shown = words(host.get(base))
    assert record.checksum
    assert "Kim Aas (technician)" in shown
    assert record.checksum[:8] in shown
    pdf = host.get(f"{base}/a4.pdf")
    assert pdf.headers["content-type"] == "application/pdf"
    assert len(PdfReader(io.BytesIO(pdf.content)).pages) > 3
    assert host.get(f"{base}/a4/1.png").content.startswith(b"\x89PNG")
    assert host.get(f"{base}/a4/99.png").status_code == 404
    proof = verify(host, pdf.content)
    assert "Genuine and unaltered" in words(proof)
    assert store.records.draft_of(rig_id) is None


def verify(host: Asker, pdf: bytes) -> Response:
    return host.client.post(
        "/verify", data={"csrf": host.token()}, files={"file": ("record.pdf", pdf)}
    )


def test_a_changed_file_a_replaced_one_and_a_foreign_one_are_told_apart(
    host: Asker, rig_id: str, store: Store
) -> None:
    record = signed(host, rig_id, store)
    base = f"/rigs/{rig_id}/record"
    pdf = host.get(f"{base}/kept/{record.id}/1/letter.pdf").content

    changed = verify(host, pdf[:9000] + bytes((pdf[9000] ^ 1,)) + pdf[9001:])
    foreign = verify(host, b"%PDF-1.7 something else")
    no_pdf = verify(host, b"hello")
    host.post(f"{base}/kept/{record.id}/correct", why="wrong fuse")
    host.post(f"{base}/sign", **SIGNED)
    replaced = verify(host, pdf)

    assert "Altered" in words(changed)
    assert "Unknown here" in words(foreign)
    assert (no_pdf.status_code, "choose the PDF of a record" in words(no_pdf)) == (422, True)
    assert "replaced by a newer version" in words(replaced)
    assert "Version 2 replaces it: wrong fuse" in words(replaced)
    old = words(host.get(f"{base}/kept/{record.id}/1"))
    assert "replaced Version 2 stands in its place: wrong fuse" in old


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"name.Technician": ""}, "enter a name"),
        ({**SIGNED, "strokes.Technician": "scribble"}, "draw it again, or type the name"),
        ({**SIGNED, "strokes.Technician": "[[[1,1]]]"}, "only a dot"),
        ({**SIGNED, "seen": "0" * 64}, "look at the record again"),
    ],
)
def test_what_cannot_be_signed_is_told_and_nothing_is_signed(
    host: Asker, rig_id: str, store: Store, values: dict[str, str], says: str
) -> None:
    begun(host, rig_id, store)
    say(host, rig_id, "done", done_notes="All of it.")

    answer = host.post(f"/rigs/{rig_id}/record/sign", **values)

    assert answer.status_code == 422
    assert says in words(answer)
    assert store.records.draft_of(rig_id) is not None


def test_what_somebody_else_changed_meanwhile_is_not_signed_unseen(
    host: Asker, rig_id: str, store: Store
) -> None:
    begun(host, rig_id, store)
    say(host, rig_id, "done", done_notes="All of it.")
    looked_at = seen(host, rig_id)
    say(host, rig_id, "found", found="and this")

    answer = host.post(f"/rigs/{rig_id}/record/sign", seen=looked_at, **SIGNED)

    assert answer.status_code == 422


def test_without_a_draft_its_pages_show_the_list(host: Asker, rig_id: str) -> None:
    for page in ("write", "look", "sign"):
        shown = words(host.get(f"/rigs/{rig_id}/record/{page}"))
        assert "No record is being written: begin one here." in shown
        answer = host.post(f"/rigs/{rig_id}/record/{page}")
        assert answer.status_code in {303, 405}
    shown = words(host.get(f"/rigs/{rig_id}/record"))
    assert "No record is kept" in shown


def test_records_of_another_rig_and_drafts_are_not_shown(
    host: Asker, rig_id: str, store: Store
) -> None:
    record = signed(host, rig_id, store)
    other = store.rigs.copy(rig_id, "Ines").id
    draft = begun(host, other, store)

    assert host.get(f"/rigs/{other}/record/kept/{record.id}/1").status_code == 404
    assert host.get(f"/rigs/{other}/record/kept/{draft.id}/1").status_code == 404
    assert host.get(f"/rigs/{other}/record/write?ask=nothing").status_code == 404
    host.post(f"/rigs/{other}/record/drop")
    assert store.records.draft_of(other) is None


def test_words_of_people_are_never_run(host: Asker, rig_id: str, store: Store) -> None:
    begun(host, rig_id, store)
    evil = '<script>alert(1)</script>"'

    say(host, rig_id, "found", found=evil)
    say(host, rig_id, "places", **{"place.fuse.brake": evil})

    for page in ("", "/write?ask=found", "/write?ask=places"):
        assert "<script>alert" not in host.get(f"/rigs/{rig_id}/record{page}").text


def test_a_stranger_in_the_network_neither_reads_nor_writes(far: Asker, rig_id: str) -> None:
    for path in (f"/rigs/{rig_id}/record", "/verify"):
        assert far.get(path).status_code == 401
