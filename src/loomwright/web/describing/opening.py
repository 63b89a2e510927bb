"""A rig opened for describing: its values, its page, and keeping what was changed."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Annotated, Any

from fastapi import Depends, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from loomwright.invalid import InvalidInput, complaints_in
from loomwright.rig.model import Rig
from loomwright.rig.toml_text import read_toml, without_mark
from loomwright.store.rig_values import EditConflict, Version
from loomwright.web.describing.answers import Facts
from loomwright.web.describing.assumed import assumptions_at
from loomwright.web.describing.parts import BY_KEY, Place, called, place_of
from loomwright.web.describing.settling import differing, settled
from loomwright.web.opened import AKeptRig, Draft, KeptRig
from loomwright.web.pages import PACKAGE, page
from loomwright.web.visitor import AVisitor, Visitor
from loomwright.web.workbench import workbench

STYLE, SCRIPT = "describe.css", "describe.js"


@dataclass(frozen=True, slots=True)
class Described:
    """A rig whose text can be read as tables, whether it can be used or not."""

    kept: KeptRig
    data: Mapping[str, Any]
    who: Visitor

    @property
    def base(self) -> str:
        """Address of its description."""
        return f"/rigs/{self.kept.entry.id}/describe"

    @property
    def rig(self) -> Rig | None:
        """The rig, or None if it is a draft."""
        usable = not self.kept.problems()
        return self.kept.solver.rig(self.kept.text, self.kept.units) if usable else None

    def facts(self, place: Place | None = None) -> Facts:
        """Return what is known when the questions of a page are answered."""
        path = place.path if place else ""
        found = assumptions_at(self.kept.text, path)
        return Facts(self.data, found, self.kept.problems(), self.kept.units)

    def place(self, key: str, number: int = 0, function: str = "") -> Place:
        """Return the page an address names.

        Raises
        ------
        HTTPException
            404, if the rig has no such place.
        """
        if key not in BY_KEY or number < 0:
            raise HTTPException(404)
        place = Place(BY_KEY[key], number, function)
        if not place.exists(self.data):
            raise HTTPException(404)
        return place

    def place_of(self, path: str) -> Place:
        """Return the page that asks about a path.

        Raises
        ------
        HTTPException
            404, if none does.
        """
        try:
            place = place_of(path, self.data)
        except InvalidInput as nowhere:
            raise HTTPException(404) from nowhere
        if place is None:
            raise HTTPException(404)
        return place

    def address_of(self, path: str) -> str:
        """Return the address of the page that asks about a path; of the file's text if none."""
        place = place_of(path, self.data)
        return self.base + place.address if place else f"/rigs/{self.kept.entry.id}/text"


def described(kept: AKeptRig, who: AVisitor) -> Described:
    """Return the rig an address names, opened for describing.

    Raises
    ------
    Draft
        If its text is no TOML: only the text itself can be mended then.
    """
    return Described(kept, tables(kept, kept.text), who)


ADescribed = Annotated[Described, Depends(described)]


def tables(kept: KeptRig, text: str) -> dict[str, Any]:
    """Return the tables of a text.

    Raises
    ------
    Draft
        If it is no TOML.
    """
    problems: tuple[InvalidInput, ...] = ()
    try:
        return read_toml(without_mark(text))
    except* InvalidInput as broken:
        problems = complaints_in(broken)
    raise Draft(kept, problems)


async def sent(request: Request) -> Mapping[str, str]:
    """Return the fields of a form; what was ticked under one name comes with commas between."""
    form = await request.form()
    fields: dict[str, list[str]] = {}
    for key, value in form.multi_items():
        if isinstance(value, str):
            fields.setdefault(key, []).append(value)
    return {key: ", ".join(filter(None, said)) for key, said in fields.items()}


Sent = Annotated[Mapping[str, str], Depends(sent)]


def based_on(fields: Mapping[str, str]) -> int:
    """Return the number of the version a form was filled in from.

    Raises
    ------
    InvalidInput
        If the form does not say.
    """
    text = fields.get("based_on", "")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise InvalidInput("based_on", text, "open the page anew, and send its form")
    return int(text)


def base_of(request: Request, opened: Described, based_on: int) -> Version:
    """Return the version a form was filled in from.

    Raises
    ------
    HTTPException
        404, if there is none.
    """
    try:
        return workbench(request).store.rigs.version(opened.kept.entry.id, based_on)
    except InvalidInput as unknown:
        raise HTTPException(404) from unknown


def keep(request: Request, opened: Described, text: str, based_on: int) -> Version | Response:
    """Keep a changed text; return the version, or the page that shows two people's changes.

    What the same person changed on the same device since then goes together with it, as long as
    no value was changed twice: a page may send its next change before it has heard of its last.
    """
    rigs = workbench(request).store.rigs
    try:
        return rigs.save(opened.kept.entry.id, text, based_on, opened.who.who)
    except EditConflict as conflict:
        together = _own(request, opened, conflict)
        if together is None:
            return conflict_page(request, opened, conflict)
        return keep(request, opened, together, conflict.theirs.number)


def _own(request: Request, opened: Described, conflict: EditConflict) -> str | None:
    """Return both changes together if they are one person's and do not meet; else None."""
    rigs = workbench(request).store.rigs
    since = range(conflict.base.number + 1, conflict.theirs.number + 1)
    if any(rigs.version(opened.kept.entry.id, one).who != opened.who.who for one in since):
        return None
    base, theirs, yours = conflict.base.text, conflict.theirs.text, conflict.yours
    if any(one.is_both for one in differing(base, theirs, yours)):
        return None
    return settled(base, theirs, yours, {})


def conflict_page(request: Request, opened: Described, conflict: EditConflict) -> Response:
    """Return the page that shows what two people made of one rig, field by field."""
    headers = {}
    if "hx-request" in request.headers:
        headers = {"hx-retarget": "body", "hx-reswap": "innerHTML"}
    return page(
        request,
        "describe/conflict.html",
        status=409,
        headers=headers,
        entry=opened.kept.entry,
        style=style(),
        conflict=conflict,
        called=lambda path: called(path, opened.data),
        fields=differing(conflict.base.text, conflict.theirs.text, conflict.yours),
    )


def go(address: str) -> RedirectResponse:
    """Return an answer that sends the visitor on after a form."""
    return RedirectResponse(address, 303)


@cache
def asset(name: str) -> str:
    """Return the address of a style or script of these pages; it changes when the file does."""
    content = files(PACKAGE).joinpath("static", name).read_bytes()
    return f"/static/{name}?v={hashlib.sha256(content).hexdigest()[:12]}"


def style() -> str:
    """Return the address of the style of these pages."""
    return asset(STYLE)


def script() -> str:
    """Return the address of their script."""
    return asset(SCRIPT)
