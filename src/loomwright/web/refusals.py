"""Pages for those who are not let in: a foreign name, a device that was not paired."""

from __future__ import annotations

from fastapi import Request
from fastapi.responses import HTMLResponse, JSONResponse
from starlette.responses import Response

from loomwright.store.photos_stripping import MOST_BYTES
from loomwright.web.pages import page
from loomwright.web.problems import Trouble, trouble_page
from loomwright.web.uploads import AT_ONCE, takes_photos
from loomwright.web.workbench import workbench

JOIN = "/join/"
AFTER_PAIRING = "after pairing"
"""Where a device that followed a short link goes on once it is let in."""

FOREIGN = """\
<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Not this workbench's name</title>
<meta name="viewport" content="width=device-width"></head><body>
<h1>This is not a name of this workbench</h1>
<p>Your browser asked this computer for a page under a name that is not its own. That is also how
other sites try to borrow a browser, so nothing is shown.</p>
<p>Use the address that the workbench's screen shows, in numbers.</p></body></html>
"""


LARGE_PHOTOS = Trouble(
    "These photos are too large together",
    f"A photo may have {MOST_BYTES // 1_000_000} MB, and {AT_ONCE} of that size go in one sending. "
    "Nothing of this sending was kept; what was kept before is as it was.",
    "Go back and send fewer at once, or take them in a smaller size.",
)


def foreign_host(_: Request) -> Response:
    """Return the page for a request under a name that is not ours: no style, no cookie, no data."""
    return HTMLResponse(FOREIGN, 400)


def too_large(request: Request) -> Response:
    """Return the page for a request that brings more than is taken in."""
    if takes_photos(request.url.path):
        return page(request, "trouble.html", status=413, trouble=LARGE_PHOTOS)
    return trouble_page(request, 413)


def ask_for_code(request: Request) -> Response:
    """Return the page that asks an unknown device for the code."""
    if request.url.path.startswith("/api/"):
        do = "pair this device: open the workbench's address in a browser on it"
        return JSONResponse({"detail": "not paired", "problems": [], "do": do}, 401)
    if not workbench(request).settings.is_open:
        trouble = Trouble(
            "This workbench is not offered to the network",
            "Only the screen of its own computer may use it.",
            "Start it with --lan to let in the shop's tablets.",
        )
        return page(request, "trouble.html", status=401, trouble=trouble)
    if request.url.path.startswith(JOIN):
        request.session[AFTER_PAIRING] = request.url.path
    return page(request, "pairing/code.html", status=401, problem=None, code="", name="")
