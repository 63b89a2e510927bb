"""Pages from templates: what every page knows, and how it is sent."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from loomwright.checks.collect import rule_for
from loomwright.colours import Colour
from loomwright.drawing.wires import wire_swatch
from loomwright.web.csrf import token_of
from loomwright.web.visitor import SAID, visitor
from loomwright.web.words import MARKS, counted, moment, standing, unbroken, verdict, when
from loomwright.web.workbench import workbench

PACKAGE = "loomwright.web"
ASSETS = (
    "workbench.css",
    "workbench.js",
    "run.css",
    "run.js",
    "light_check.css",
    "light_check.js",
    "light_check_outbox.js",
    "light_check_planning.js",
    "trace.css",
    "identify.css",
    "job_text.js",
    "vendor/htmx.min.js",
    "vendor/hx-sse.min.js",
)


class Pages:
    """The templates of the workbench, each escaped by default, an unknown name an error."""

    def __init__(self) -> None:
        self.environment = Environment(
            loader=PackageLoader(PACKAGE),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            extensions=["jinja2.ext.do"],
        )
        stamps = {name: _stamp(name) for name in ASSETS}
        self.environment.globals.update(
            asset=lambda name: f"/static/{name}?v={stamps[name]}",
            swatch=swatch,
            verdict=verdict,
            mark_of=lambda severity: MARKS[severity],
            rule_title=lambda code: rule_for(code).title,
        )
        self.environment.filters.update(
            counted=counted, moment=moment, standing=standing, unbroken=unbroken
        )

    def html(self, template: str, values: Mapping[str, Any]) -> str:
        """Return a template filled in."""
        return self.environment.get_template(template).render(values)


def page(
    request: Request,
    template: str,
    /,
    *,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
    values: Mapping[str, Any] | None = None,
    **more: Any,
) -> HTMLResponse:
    """Return a page, or a part of one.

    Parameters
    ----------
    request : Request
        What it answers.
    template : str
        Path below ``templates``, such as ``rigs/list.html``.
    status : int
        Status of the answer.
    headers : mapping, optional
        More headers.
    values, more : object
        What the template shows. `entry` (a `RigEntry`) brings the stations of that rig.

    Notes
    -----
    Every template also has `who` (the `Visitor`), `csrf`, `settings`, `places`, `path`,
    `said` (words kept by `say` for this page, or None) and `when` (a time, as people say it).
    """
    bench = workbench(request)
    now = bench.store.access.now()
    known = {
        "who": visitor(request),
        "csrf": token_of(request),
        "settings": bench.settings,
        "places": bench.places,
        "path": request.url.path,
        "said": None,
        "entry": None,
        "when": lambda at: when(at, now),
    }
    if "hx-request" not in request.headers:
        known["said"] = request.session.pop(SAID, None)
    html = bench.pages.html(template, {**known, **(values or {}), **more})
    return HTMLResponse(html, status, dict(headers or {}))


def swatch(colour: Colour | None, width_mm: float = 14.0, height_mm: float = 4.2) -> Markup:
    """Return the drawing of one conductor with its code."""
    return Markup(wire_swatch(colour, width_mm, height_mm))  # noqa: S704 the drawing escapes its text


def _stamp(name: str) -> str:
    """Return letters that change when a file does."""
    return hashlib.sha256(files(PACKAGE).joinpath("static", name).read_bytes()).hexdigest()[:12]
