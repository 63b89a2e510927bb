"""One module for each screen; every module here is collected.

A screen module has ``routes``, an `APIRouter`. If it is a place of a job it also has ``PLACE``, a
`Place` with a key from `loomwright.web.places.ORDER`; the station then shows in the header of
every rig. Its templates lie in ``templates/<module>/`` and begin with
``{% extends "base.html" %}`` and, for a place, ``{% set here = "<key of the place>" %}``.

A handler about one rig asks for ``opened: AnOpenRig`` (`loomwright.web.opened`): entry, text, rig,
and on demand work and findings; a draft never reaches it. It answers with
``page(request, "<module>/<name>.html", entry=opened.entry, ...)``. To change the rig it calls
``bench.store.rigs.save(rig_id, text, based_on, who.who)``; an `EditConflict` may be left to
raise: it becomes the page that shows both versions.

Every GET page whose address needs at most a ``rig_id`` is photographed and walked by the tests
in all widths and schemes, without being listed anywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from pkgutil import iter_modules

from fastapi import APIRouter
from fastapi.routing import APIRoute

from loomwright.web.places import Place


@dataclass(frozen=True, slots=True)
class Screen:
    """A screen: its routes, and its place on the run, if it is one."""

    name: str
    routes: APIRouter
    places: tuple[Place, ...]


def collect() -> tuple[Screen, ...]:
    """Return every screen, in order of the alphabet.

    Raises
    ------
    TypeError
        If a module here has no ``routes``.
    """
    return tuple(_screen(module.name) for module in iter_modules(__path__))


def _screen(name: str) -> Screen:
    module = import_module(f"{__name__}.{name}")
    routes, place = getattr(module, "routes", None), getattr(module, "PLACE", None)
    if not isinstance(routes, APIRouter):
        raise TypeError(f"screens/{name}.py has no routes")
    return Screen(name, routes, (place,) if isinstance(place, Place) else ())


def addresses(rig_id: str) -> tuple[str, ...]:
    """Return the address of every page that needs no more than a rig."""
    found: list[str] = []
    for screen in collect():
        for route in screen.routes.routes:
            if isinstance(route, APIRoute) and "GET" in (route.methods or ()):
                names = {field.name for field in route.dependant.path_params}
                if names <= {"rig_id"} and "{" not in route.path.replace("{rig_id}", ""):
                    found.append(route.path.replace("{rig_id}", rig_id))
    return tuple(dict.fromkeys(found))
