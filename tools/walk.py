"""Every page of a workbench that runs: those that need no more than a rig, and what they link to.

The tests look at all of these, and `make shots` photographs them; a new screen is found by itself
once a page links to it, and `unreached` tells which is not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from html import unescape
from urllib.error import HTTPError
from urllib.request import urlopen

from fastapi.routing import APIRoute

from loomwright.web import screens

HREF = re.compile(r'href="(/[^"#]*)')
FIELD = re.compile(r"\{(\w+)\}")
FILE = re.compile(r"\.\w+$|/events$")
VARIANTS = ("/rigs?q=zeppelin", "/rigs?shelf=away", "/rigs/{rig}/describe/choose-lamp?q=115")
"""Addresses that show a page in another state."""


def templates() -> Mapping[str, re.Pattern[str]]:
    """Return the addresses that need more than a rig, each with what matches it."""
    found: dict[str, re.Pattern[str]] = {}
    for screen in screens.collect():
        for route in screen.routes.routes:
            if isinstance(route, APIRoute) and "GET" in (route.methods or ()):
                fields = set(FIELD.findall(route.path))
                if not fields <= {"rig_id"}:
                    found[route.path] = re.compile(FIELD.sub(r"([^/]+)", route.path))
    return found


def pages(url: str, rig: str) -> tuple[str, ...]:
    """Return the address of every page: whole pages only, no part of one and no file.

    Parameters
    ----------
    url : str
        Where the workbench runs.
    rig : str
        The rig whose pages are walked.
    """
    known = [*screens.addresses(rig), *(each.format(rig=rig) for each in VARIANTS)]
    html = {address: _html(url, address) for address in known}
    deeper = dict(reversed(list(_deeper(html.values()))))
    for more in _deeper([_html(url, address) for address in deeper.values()]):
        deeper.setdefault(*more)
    html |= {address: _html(url, address) for address in deeper.values()}
    return tuple(address for address, text in html.items() if "<html" in text)


def unreached(walked: Iterable[str]) -> tuple[str, ...]:
    """Return the addresses with more than a rig in them that no page leads to, files apart.

    Parameters
    ----------
    walked : iterable of str
        The address of every page, as `pages` finds them.
    """
    there = [address.partition("?")[0] for address in walked]
    return tuple(
        path
        for path, wanted in templates().items()
        if not FILE.search(path) and not any(wanted.fullmatch(address) for address in there)
    )


def _deeper(texts: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield linked addresses, each with what kind of page it is: its template, and its part."""
    known = templates()
    for text in texts:
        for found in HREF.findall(text):
            address = unescape(found)
            path = address.partition("?")[0]
            for template, wanted in known.items():
                if wanted.fullmatch(path):
                    part = path.rpartition("/describe/")[2].partition("/")[0]
                    yield f"{template} {part if 'describe' in template else ''}", address


def _html(url: str, address: str) -> str:
    """Return a page's text; "" for what is no page."""
    try:
        with urlopen(url + address, timeout=60) as answer:  # noqa: S310 our own server
            kind = answer.headers.get("content-type", "")
            return answer.read().decode("utf-8", "replace") if "html" in kind else ""
    except HTTPError as refused:
        return refused.read().decode("utf-8", "replace") if refused.code == 422 else ""
