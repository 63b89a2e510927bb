"""Writing is for our own pages: a request must come from one and carry its token.

Programs that use the JSON interface have no page. They say their name in `PROGRAM_HEADER`, which
no page of another site can send without asking, and nobody is ever told yes.
"""

from __future__ import annotations

import hmac
import secrets
from urllib.parse import urlsplit

from fastapi import Request
from starlette.exceptions import HTTPException

FIELD = "csrf"
HEADER = "x-csrf-token"
PROGRAM_HEADER = "x-requested-by"
READING = frozenset({"GET", "HEAD", "OPTIONS"})
FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


def token_of(request: Request) -> str:
    """Return the token of a visitor's session, made if there was none."""
    token = request.session.get(FIELD)
    if not isinstance(token, str):
        token = request.session[FIELD] = secrets.token_urlsafe(24)
    return token


async def check_origin(request: Request) -> None:
    """Refuse a writing request that no page of ours sent.

    Raises
    ------
    HTTPException
        403, if the page it comes from is another site's or the token is not the session's.
    """
    if request.method in READING:
        return
    origin = request.headers.get("origin")
    if origin is not None and urlsplit(origin).netloc != request.headers["host"]:
        raise HTTPException(403, "cross-origin")
    if request.url.path.startswith("/api/") and request.headers.get(PROGRAM_HEADER, "").strip():
        return
    sent, wanted = await _sent(request), request.session.get(FIELD)
    if not (sent and wanted and hmac.compare_digest(sent.encode(), str(wanted).encode())):
        raise HTTPException(403, "token")


async def _sent(request: Request) -> str:
    token = request.headers.get(HEADER)
    if token is None and request.headers.get("content-type", "").startswith(FORMS):
        token = str((await request.form()).get(FIELD, ""))  # kept parsed for the handler
    return token or ""
