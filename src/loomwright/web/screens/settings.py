"""Settings: your name on this device, the units you read in, the shop's name."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from loomwright.quantities import Units
from loomwright.web.pages import page
from loomwright.web.visitor import LONGEST_NAME, NAME, UNITS, AVisitor, say
from loomwright.web.workbench import workbench

routes = APIRouter()


@routes.get("/settings")
def show_settings(request: Request) -> HTMLResponse:
    """Show the settings."""
    bench = workbench(request)
    return page(request, "settings/settings.html", shop=bench.shop(), bench=bench)


@routes.post("/settings")
def keep_settings(
    request: Request,
    who: AVisitor,
    units: Annotated[Units, Form()],
    name: Annotated[str, Form(max_length=LONGEST_NAME)] = "",
    shop_name: Annotated[str, Form(max_length=LONGEST_NAME)] = "",
) -> RedirectResponse:
    """Keep the settings: the name on this device, the rest for the shop."""
    bench = workbench(request)
    request.session[NAME] = " ".join(name.split())
    request.session.pop(UNITS, None)
    wanted = replace(bench.shop(), units=units, shop_name=shop_name)
    if wanted != bench.shop():
        bench.store.settings.write(wanted, who.who)
    say(request, "Kept.")
    return RedirectResponse("/settings", 303)


@routes.post("/settings/units")
def choose_units(
    request: Request, units: Annotated[Units, Form()], back: Annotated[str, Form()] = "/rigs"
) -> RedirectResponse:
    """Choose the units of this device, from any page, and go on there."""
    request.session[UNITS] = units.value
    return RedirectResponse(own_path(back), 303)


def own_path(path: str) -> str:
    """Return a path of this workbench, or the list of rigs if it leads elsewhere."""
    is_ours = path.startswith("/") and not path.startswith(("//", "/\\"))
    return path if is_ours and path.isprintable() else "/rigs"
