"""The JSON interface under ``/api``: the same uses as the command line and the screens."""

from __future__ import annotations

from fastapi import APIRouter

from loomwright.web.api import changes, known, light_checks, reports, rigs, trace

routes = APIRouter()
routes.include_router(rigs.routes, tags=["rigs"])
routes.include_router(known.routes, tags=["rigs"])
routes.include_router(reports.routes, tags=["reports"])
routes.include_router(changes.routes, tags=["changes"])
routes.include_router(light_checks.routes, tags=["light checks"])
routes.include_router(trace.routes, tags=["trace"])
