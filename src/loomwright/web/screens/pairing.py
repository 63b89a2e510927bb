"""Devices: letting a tablet in by a code, seeing which are in, dropping one."""

from __future__ import annotations

from typing import Annotated

import segno
from fastapi import APIRouter, Depends, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.invalid import InvalidInput
from loomwright.store.devices import NotPaired, PairingCode
from loomwright.web.door import (
    AGAIN,
    DEVICE_COOKIE,
    DEVICE_LASTS_S,
    PAIR,
    SESSION_COOKIE,
    is_own_screen,
)
from loomwright.web.pages import page
from loomwright.web.refusals import AFTER_PAIRING
from loomwright.web.visitor import LONGEST_NAME, NAME, AVisitor, say
from loomwright.web.workbench import Workbench, workbench

routes = APIRouter()

LONGEST_CODE = 40
QR_MODULE_PX = 6


def host_only(request: Request) -> None:
    """Let only this machine's own screen see codes and devices.

    Raises
    ------
    HTTPException
        403, for every other.
    """
    if not is_own_screen(request):
        raise HTTPException(403, "host only")


HOST_ONLY = [Depends(host_only)]


@routes.get("/devices", dependencies=HOST_ONLY)
def show_devices(request: Request) -> HTMLResponse:
    """Show which devices are in."""
    return _devices(request)


@routes.post("/devices/code", dependencies=HOST_ONLY)
def make_code(request: Request, who: AVisitor) -> HTMLResponse:
    """Make a code for one new device, and show it."""
    bench = workbench(request)
    code = bench.store.devices.new_pairing_code(who.who)
    links = bench.settings.links
    link = f"{links[0]}{PAIR}?code={code.code}" if links else ""
    return _devices(request, code=code, links=links, picture=qr(link) if link else None)


@routes.post("/devices/{device_id}/drop", dependencies=HOST_ONLY)
def drop(request: Request, device_id: str, who: AVisitor) -> RedirectResponse:
    """Shut a device out at once."""
    device = workbench(request).store.devices.drop_device(device_id, who.who)
    say(request, f"{device.name} is out. To let it in again, pair it anew.")
    return RedirectResponse("/devices", 303)


@routes.get(PAIR)
def ask_code(
    request: Request, code: Annotated[str, Query(max_length=LONGEST_CODE)] = ""
) -> HTMLResponse:
    """Ask for the code, and for what the device shall be called; looking uses nothing up."""
    return page(request, "pairing/code.html", problem=None, code=code, name="")


@routes.post(PAIR)
def pair(
    request: Request,
    code: Annotated[str, Form(max_length=LONGEST_CODE)] = "",
    name: Annotated[str, Form(max_length=LONGEST_NAME)] = "",
) -> Response:
    """Let a device in that shows the code."""
    bench = workbench(request)
    try:
        paired = bench.store.devices.pair(code, name)
    except InvalidInput as refused:
        return page(request, "pairing/code.html", status=422, problem=refused, code=code, name=name)
    return _enter(bench, paired.token, request.session.pop(AFTER_PAIRING, "/rigs"))


@routes.get(AGAIN)
def ask_who(request: Request) -> HTMLResponse:
    """Ask who goes on working on a device whose session has run out."""
    return page(request, "pairing/again.html")


@routes.post(AGAIN)
def go_on(request: Request, name: Annotated[str, Form(max_length=LONGEST_NAME)] = "") -> Response:
    """Begin a new session on a paired device."""
    request.session[NAME] = " ".join(name.split())
    try:
        return _enter(workbench(request), request.cookies.get(DEVICE_COOKIE, ""))
    except NotPaired:
        response = RedirectResponse(PAIR, 303)
        response.delete_cookie(DEVICE_COOKIE)
        return response


def qr(link: str) -> Markup:
    """Return the code of a link as a drawing, dark on light in every scheme."""
    drawn = segno.make(link, error="m").svg_inline(
        scale=QR_MODULE_PX, border=3, dark="#000000", light="#ffffff", omitsize=True
    )
    return Markup(drawn)  # noqa: S704 drawn from a link we made


def _enter(bench: Workbench, device_token: str, to: str = "/rigs") -> Response:
    begun = bench.store.sessions.begin(device_token)
    response = RedirectResponse(to, 303)
    for name, token in ((DEVICE_COOKIE, device_token), (SESSION_COOKIE, begun.token)):
        response.set_cookie(name, token, max_age=DEVICE_LASTS_S, httponly=True, samesite="strict")
    return response


def _devices(
    request: Request,
    code: PairingCode | None = None,
    links: tuple[str, ...] = (),
    picture: Markup | None = None,
) -> HTMLResponse:
    return page(
        request,
        "pairing/devices.html",
        devices=workbench(request).store.devices.devices(),
        code=code,
        links=links,
        picture=picture,
    )
