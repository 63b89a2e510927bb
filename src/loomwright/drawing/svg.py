"""Write SVG as text: elements, numbers in millimetres, a document of a given size."""

from __future__ import annotations

from functools import cache, lru_cache

from markupsafe import Markup, escape

FONT = "Inter"
DECIMALS = 3
NEW_LINE = Markup("\n")
MOST_KEPT = 1024
"""Texts whose escaped form is kept: inks, families and classes stand in every element."""


def number(value: float) -> str:
    """Return a length in plain decimals, without idle zeros."""
    shown = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


def el(tag: str, *kids: object, **attributes: object) -> Markup:
    """Return one element; text is escaped, `Markup` passes, an attribute that is None is left out.

    A trailing underscore of a name is dropped and the others become hyphens (`class_`,
    `stroke_width`).
    """
    start = f"<{tag}" + "".join(
        [
            f' {_written(name)}="{_plain(value)}"'
            for name, value in attributes.items()
            if value is not None
        ]
    )
    if not kids:
        return Markup(start + "/>")  # noqa: S704 names are ours, values are escaped
    body = "".join([kid if isinstance(kid, Markup) else escape(kid) for kid in kids])
    return Markup(f"{start}>{body}</{tag}>")  # noqa: S704 the body is escaped


def group(*kids: object, **attributes: object) -> Markup:
    """Return a group of elements."""
    return el("g", NEW_LINE, *_on_lines(kids), **attributes)


def points(*places: tuple[float, float]) -> str:
    """Return path data that joins the places by straight lines."""
    return "M" + " L".join(f"{number(x)} {number(y)}" for x, y in places)


def document(
    width_mm: float,
    height_mm: float,
    *body: object,
    title: str,
    says: str,
    role: str = "img",
    top_mm: float = 0.0,
) -> str:
    """Return a whole drawing in millimetres; `title` and `says` are read aloud in its place.

    `role` is ``group`` for a drawing whose parts are links, to be gone through one by one;
    `top_mm` cuts off what is above.
    """
    return str(
        el(
            "svg",
            NEW_LINE,
            *_on_lines((el("title", title), el("desc", says), *body)),
            xmlns="http://www.w3.org/2000/svg",
            role=role,
            width=f"{number(width_mm)}mm",
            height=f"{number(height_mm - top_mm)}mm",
            viewBox=f"0 {number(top_mm)} {number(width_mm)} {number(height_mm - top_mm)}",
            font_family=FONT,
        )
    )


@cache
def _written(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def _plain(value: object) -> str:
    if isinstance(value, int | float):
        return number(value)
    return value if isinstance(value, Markup) else _escaped(str(value))


@lru_cache(maxsize=MOST_KEPT)
def _escaped(text: str) -> str:
    return str(escape(text))


def _on_lines(kids: tuple[object, ...]) -> tuple[object, ...]:
    return tuple(part for kid in kids for part in (kid, NEW_LINE))
