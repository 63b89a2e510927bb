"""A record that a screen works on."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any

from fastapi import Depends, Request
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from loomwright.hookup import pair
from loomwright.invalid import InvalidInput
from loomwright.sheets.handover_facts import record_facts
from loomwright.sheets.typeset import Paper
from loomwright.store.access import Access
from loomwright.store.records import Records
from loomwright.store.records_document import canonical
from loomwright.store.records_printing import Printer
from loomwright.store.records_values import Record
from loomwright.web.describing.opening import asset
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.visitor import AVisitor, Visitor
from loomwright.web.workbench import workbench

STYLE, SCRIPT = "record.css", "record.js"


@dataclass(frozen=True, slots=True)
class OpenRecord:
    """A rig with its records; `draft` is the one that is filled in, if there is one."""

    opened: OpenRig
    records: Records
    who: Visitor
    draft: Record | None

    @property
    def base(self) -> str:
        """Address of the rig's records."""
        return f"/rigs/{self.opened.entry.id}/record"

    def facts(self) -> Mapping[str, Any]:
        """Return what the rig says for its record."""
        rig = self.opened.rig
        return record_facts(rig, pair(rig))

    def version(self, record_id: str, number: int) -> Record:
        """Return a signed version of a record of this rig.

        Raises
        ------
        HTTPException
            404, if there is none.
        """
        try:
            record = self.records.record(record_id, number)
        except InvalidInput as unknown:
            raise HTTPException(404, "version") from unknown
        if record.rig_id != self.opened.entry.id or not record.is_signed:
            raise HTTPException(404, "version")
        return record


def open_record(request: Request, opened: AnOpenRig, who: AVisitor) -> OpenRecord:
    """Return the records of the rig an address names."""
    records = workbench(request).store.records
    return OpenRecord(opened, records, who, records.draft_of(opened.entry.id))


ARecord = Annotated[OpenRecord, Depends(open_record)]


async def sent_form(request: Request) -> AsyncIterator[FormData]:
    """Give what a form sent; its files are let go afterwards."""
    form = await request.form()
    try:
        yield form
    finally:
        await form.close()


Sent = Annotated[FormData, Depends(sent_form)]


def go(address: str) -> RedirectResponse:
    """Go on to another page of ours."""
    return RedirectResponse(address, 303)


def assets() -> dict[str, str]:
    """Return the addresses of style and script of these pages."""
    return {"record_style": asset(STYLE), "record_script": asset(SCRIPT)}


def pictures(
    access: Access, document: Mapping[str, Any], checksum: str, paper: Paper
) -> tuple[bytes, ...]:
    """Return the pages of a record as pictures; the same document is set once."""
    return _pictures(_Printed(canonical(document), checksum, paper, access))


@dataclass(frozen=True, slots=True)
class _Printed:
    """What is printed; the document alone says which photos, so the store is not compared."""

    text: str
    checksum: str
    paper: Paper
    access: Access = field(compare=False)


@lru_cache(maxsize=6)
def _pictures(printed: _Printed) -> tuple[bytes, ...]:
    printer = Printer(printed.access, printed.paper)
    return printer.pages(json.loads(printed.text), printed.checksum)
