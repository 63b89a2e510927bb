"""The workbench put together: guards, screens, the JSON interface, and pages for what fails."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib.resources import files

from fastapi import Depends, FastAPI, Request
from fastapi.responses import RedirectResponse
from starlette.middleware import Middleware
from starlette.middleware.sessions import SessionMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from loomwright import __version__
from loomwright.store.store import Store
from loomwright.web import api, screens
from loomwright.web.csrf import check_origin
from loomwright.web.door import DoorGuard
from loomwright.web.guards import BodyGuard, HeaderGuard, HostGuard, SizeGuard
from loomwright.web.pages import PACKAGE, Pages
from loomwright.web.places import in_order
from loomwright.web.problems import handle_problems
from loomwright.web.refusals import ask_for_code, foreign_host, too_large
from loomwright.web.settings import Settings
from loomwright.web.solver import Solver
from loomwright.web.uploads import most_bytes
from loomwright.web.workbench import Workbench

COOKIE = "loomwright_page"
KEPT_BY_BROWSER = "public, max-age=86400"


class Assets(StaticFiles):
    """Our style, scripts and fonts: kept by the browser for a day, changed names sooner."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """Answer with one file."""
        response = await super().get_response(path, scope)
        response.headers["cache-control"] = KEPT_BY_BROWSER
        return response


def make_app(store: Store, settings: Settings) -> FastAPI:
    """Return the workbench over an open store.

    Parameters
    ----------
    store : Store
        What it keeps; closed when the server stops.
    settings : Settings
        How it runs.
    """
    found = screens.collect()

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        with store:
            yield
            app.state.workbench.tracers.stop()

    app = FastAPI(
        title="Loomwright",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        telemetry={"tracing": False, "metrics": False, "logs": False},
        lifespan=lifespan,
        dependencies=[Depends(check_origin)],
        middleware=_guards(store, settings),
    )
    places = in_order(list(dict.fromkeys(place for screen in found for place in screen.places)))
    app.state.workbench = Workbench(store, settings, Solver(), Pages(), places)
    app.mount("/static", Assets(directory=str(files(PACKAGE).joinpath("static"))), name="static")
    app.add_api_route("/", _start, include_in_schema=False)
    for screen in found:
        app.include_router(screen.routes, include_in_schema=False)
    app.include_router(api.routes, prefix="/api")
    handle_problems(app)
    return app


def _guards(store: Store, settings: Settings) -> list[Middleware]:
    """Return what a request passes before it reaches a screen, outermost first."""
    most = most_bytes(settings.max_body_bytes)
    return [
        Middleware(HeaderGuard),
        Middleware(HostGuard, hosts=settings.hosts, refuse=foreign_host),
        Middleware(
            SessionMiddleware,
            secret_key=settings.secret,
            session_cookie=f"{COOKIE}_{settings.port}",
            same_site="strict",
        ),
        Middleware(SizeGuard, most_bytes=most, refuse=too_large),
        Middleware(BodyGuard, most_bytes=most),
        Middleware(DoorGuard, store=store, refuse=ask_for_code),
    ]


def _start(_: Request) -> RedirectResponse:
    return RedirectResponse("/rigs", 303)
