"""A record on the terminal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from loomwright.cli.paint import Page, listing
from loomwright.cli.record_finding import short_number

if TYPE_CHECKING:
    from loomwright.store.records_values import Record

TEXTS = (
    ("found", "Found before anything was touched"),
    ("done_notes", "Done besides, or done otherwise"),
    ("parts", "Parts fitted"),
    ("settings", "Set, coded and cleared"),
    ("for_owner", "For the owner"),
)


def show_list(records: tuple[Record, ...], names: Mapping[str, str]) -> None:
    """Print records, one a line."""
    rows = [
        (
            short_number(one),
            str(one.version),
            one.state.value,
            f"{one.signed_at or one.changed_at:%Y-%m-%d %H:%M}",
            names.get(one.rig_id, ""),
        )
        for one in records
    ]
    Page().show(listing(("record", "version", "state", "time (UTC)", "rig"), rows))


def show_record(record: Record, document: Mapping[str, Any], steps: Mapping[str, str]) -> None:
    """Print what a record says; a draft with the keys that its entries go by."""
    page = Page()
    state = "signed" if record.is_signed else "DRAFT, not signed"
    page.head(f"Record {short_number(record)}, version {record.version}: {state}", heavy=True)
    page.line(document["head"]["rig"], "place")
    page.line(document["head"]["job"])
    if document["why"]:
        page.line(f"Corrects the version before it: {document['why']}")
    for name, title in TEXTS:
        if document[name]:
            page.head(title)
            page.line(document[name])
    _steps(page, record, document, steps)
    _places(page, record, document)
    _readings(page, document)
    page.head("What was NOT tested")
    for said in document["not_tested"]:
        page.bullet("-", said)
    if document["photos"]:
        page.head("Photos")
        for number, each in enumerate(document["photos"], start=1):
            page.bullet(f"{number}", f"{each['caption'] or 'no words'} ({each['sha256'][:16]})")
    _signed(page, record, document)


def _steps(
    page: Page, record: Record, document: Mapping[str, Any], steps: Mapping[str, str]
) -> None:
    page.head("Done")
    for each in document["done"]:
        page.bullet("x", each["says"])
    if not document["done"]:
        page.line("No step is ticked.")
    if not record.is_signed:
        page.head("Not ticked: give --done KEY, or --done all")
        left = {each["says"] for each in document["left"]}
        for key, says in steps.items():
            if says in left:
                page.bullet(key, says)


def _places(page: Page, record: Record, document: Mapping[str, Any]) -> None:
    page.head("Where to find it")
    for each in document["places"]:
        key = "" if record.is_signed else f" [{each['key']}]"
        said = f"{each['kind']}: {each['title']}, {each['detail']}"
        page.bullet("-", f"{said}: {each['place'] or 'not recorded'}{key}")


def _readings(page: Page, document: Mapping[str, Any]) -> None:
    if not document["readings"]:
        return
    page.head("Readings")
    rows = [
        (row["hold"], row["title"], _said(row, "before"), _said(row, "after"))
        for row in document["readings"]
    ]
    page.show(listing(("held", "where", "before", "after"), rows))


def _said(row: Mapping[str, Any], side: str) -> str:
    given = row[side]
    if given is None:
        return "not tested"
    shown = given["word"] or f"{given['value']:g} {row['quantity']}"
    return f"{shown} ({given['standing']})"


def _signed(page: Page, record: Record, document: Mapping[str, Any]) -> None:
    if not record.is_signed:
        return
    page.head("Signed")
    for each in document["signatures"]:
        page.bullet("-", f"{each['role']}: {each['name']} ({each['how']})")
    page.line(f"{record.signed_at:%Y-%m-%d %H:%M} UTC, by {record.signed_by}")
    page.whole(f"checksum {record.checksum}")
