"""Who may enter: this machine's own screen, and devices of the shop that were paired."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from loomwright.store.devices import NotPaired
from loomwright.store.store import Store
from loomwright.web.guards import Refuse, host_name
from loomwright.web.settings import LOOPBACK
from loomwright.web.visitor import HOST_DEVICE

DEVICE_COOKIE = "loomwright_device"
SESSION_COOKIE = "loomwright_session"
DEVICE_LASTS_S = 30 * 24 * 3600
PAIR = "/pair"
AGAIN = "/pair/again"
OPEN = (PAIR, AGAIN, "/static/")


@dataclass(frozen=True, slots=True)
class Entrance:
    """What the door found out: whose screen it is, and whether it may go on."""

    device: str
    is_host: bool
    may_enter: bool


class DoorGuard:
    """Lets in this machine's own screen and paired devices; sends all others to the code.

    A request is this machine's own when it comes from a loopback address and asks for one.
    """

    def __init__(self, app: ASGIApp, store: Store, refuse: Refuse) -> None:
        self.app = app
        self.store = store
        self.refuse = refuse

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request = Request(scope)
        entrance = await self._entrance(request)
        request.state.device = entrance.device
        request.state.is_host = entrance.is_host
        if entrance.may_enter or _is_open(request.url.path):
            await self.app(scope, receive, send)
            return
        await (await self._turned_away(request))(scope, receive, send)

    async def _entrance(self, request: Request) -> Entrance:
        if is_own_screen(request):
            return Entrance(HOST_DEVICE, is_host=True, may_enter=True)
        token = request.cookies.get(SESSION_COOKIE)
        if token:
            try:
                session = await run_in_threadpool(self.store.sessions.session_for, token)
            except NotPaired:
                pass
            else:
                return Entrance(session.device.name, is_host=False, may_enter=True)
        return Entrance("", is_host=False, may_enter=False)

    async def _turned_away(self, request: Request) -> Response:
        reads_a_page = request.method == "GET" and not request.url.path.startswith("/api/")
        if reads_a_page and request.cookies.get(DEVICE_COOKIE):
            return RedirectResponse(AGAIN, 303)
        answer = self.refuse(request)
        return answer if isinstance(answer, Response) else await answer


def is_own_screen(request: Request) -> bool:
    """Return whether a request was made on the machine that runs the workbench."""
    host = host_name(Headers(scope=request.scope).get("host", ""))
    client = request.client.host if request.client else ""
    return client == "127.0.0.1" and host in LOOPBACK


def _is_open(path: str) -> bool:
    return path in OPEN or path.startswith(OPEN[-1])
