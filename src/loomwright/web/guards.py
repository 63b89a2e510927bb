"""Which requests are answered at all, and what every answer carries."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping

from starlette.datastructures import Headers, MutableHeaders
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
"""No script and no style but our files: what a job file says is never run."""

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=()",
}

Most = Callable[[str], int]
"""Most bytes that a request to an address may bring."""

Refuse = Callable[[Request], Response | Awaitable[Response]]


class HeaderGuard:
    """Adds the security headers to every answer, and keeps pages out of shared caches."""

    def __init__(self, app: ASGIApp, headers: Mapping[str, str] = HEADERS) -> None:
        self.app = app
        self.headers = headers

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in self.headers.items():
                    headers.setdefault(name, value)
                headers.setdefault("cache-control", "no-store")
            await send(message)

        await self.app(scope, receive, send_with_headers)


class HostGuard:
    """Refuses requests for a name that is not ours, so that no web page can borrow a browser.

    A page from elsewhere may point its own name at this machine (DNS rebinding); the browser
    then takes our answers for that page's. The name in the Host header gives it away.
    """

    def __init__(self, app: ASGIApp, hosts: frozenset[str], refuse: Refuse) -> None:
        self.app = app
        self.hosts = hosts
        self.refuse = refuse

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] in {"http", "websocket"} and not self._knows(scope):
            answer = self.refuse(Request(scope))
            response = answer if isinstance(answer, Response) else await answer
            await response(scope, receive, send)
            return
        await self.app(scope, receive, send)

    def _knows(self, scope: Scope) -> bool:
        named = Headers(scope=scope).getlist("host")
        return len(named) == 1 and host_name(named[0]) in self.hosts


class SizeGuard:
    """Refuses what says it is too large, with a page; what does not say so is cut off later."""

    def __init__(self, app: ASGIApp, most_bytes: Most, refuse: Refuse) -> None:
        self.app = app
        self.most_bytes = most_bytes
        self.refuse = refuse

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        said = Headers(scope=scope).get("content-length", "0") if scope["type"] == "http" else "0"
        if said.isdigit() and int(said) > self.most_bytes(scope["path"]):
            answer = self.refuse(Request(scope))
            response = answer if isinstance(answer, Response) else await answer
            await response(scope, receive, send)
            return
        await self.app(scope, receive, send)


class BodyGuard:
    """Cuts off what brings more than its address takes in, whatever it said before."""

    def __init__(self, app: ASGIApp, most_bytes: Most) -> None:
        self.app = app
        self.most_bytes = most_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        limited = RequestBodyLimitMiddleware(self.app, self.most_bytes(scope["path"]))
        await limited(scope, receive, send)


def host_name(host: str) -> str:
    """Return a host header's name without its port."""
    name, _, port = host.rpartition(":")
    return (name if name and port.isdigit() else host).casefold()
