"""Every version of a rig: who, when, what changed; the difference between two; undo and redo."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException

from loomwright.invalid import InvalidInput
from loomwright.store.rig_values import Version
from loomwright.web.opened import AKeptRig
from loomwright.web.pages import page
from loomwright.web.workbench import workbench

routes = APIRouter()

AROUND = 3
"""Unchanged lines shown before and after a change."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a difference: `sign` is "−" taken out, "+" written, "" the same, "…" left out."""

    sign: str
    number: int | None
    text: str


@routes.get("/rigs/{rig_id}/history")
def show_history(request: Request, kept: AKeptRig) -> HTMLResponse:
    """Show every version, the newest first."""
    versions = workbench(request).store.rigs.history(kept.entry.id)
    return page(
        request, "history/history.html", entry=kept.entry, versions=tuple(reversed(versions))
    )


@routes.get("/rigs/{rig_id}/history/{number}")
def show_version(
    request: Request, kept: AKeptRig, number: int, against: int | None = None
) -> HTMLResponse:
    """Show what one version changed, or how it differs from another."""
    version = _version(request, kept, number)
    other = number - 1 if against is None else against
    before = _version(request, kept, other) if other else None
    return page(
        request,
        "history/version.html",
        entry=kept.entry,
        version=version,
        before=before,
        rows=tuple(difference(before.text if before else "", version.text)),
    )


def difference(before: str, after: str) -> Iterator[Row]:
    """Yield the lines that differ between two texts, with a few around them."""
    old, new = before.splitlines(), after.splitlines()
    groups = SequenceMatcher(a=old, b=new, autojunk=False).get_grouped_opcodes(AROUND)
    for place, group in enumerate(groups):
        if place:
            yield Row("…", None, "")
        for kind, first, last, start, end in group:
            if kind == "equal":
                yield from _rows("", new, start, end)
            else:
                yield from _rows("−", old, first, last)
                yield from _rows("+", new, start, end)


def _rows(sign: str, lines: Sequence[str], first: int, last: int) -> Iterator[Row]:
    for place in range(first, last):
        yield Row(sign, place + 1, lines[place])


def _version(request: Request, kept: AKeptRig, number: int) -> Version:
    try:
        return workbench(request).store.rigs.version(kept.entry.id, number)
    except InvalidInput as unknown:
        raise HTTPException(404, "rig") from unknown
