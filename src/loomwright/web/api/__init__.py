"""The JSON interface under ``/api``: the same uses as the command line and the screens."""

from __future__ import annotations

from fastapi import APIRouter

from loomwright.web.api import reports, rigs

routes = APIRouter()
routes.include_router(rigs.routes, tags=["rigs"])
routes.include_router(reports.routes, tags=["reports"])
