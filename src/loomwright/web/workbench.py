"""What every request works with: the store, the settings, the pages, the solved rigs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from fastapi import Request

from loomwright.store.settings import ShopSettings
from loomwright.store.store import Store
from loomwright.web.light_checking_live.following import Following
from loomwright.web.light_checking_live.planning import Plans
from loomwright.web.places import Place
from loomwright.web.settings import Settings
from loomwright.web.solver import Solver
from loomwright.web.tracing.tracers import Tracers

if TYPE_CHECKING:
    from loomwright.web.pages import Pages


@dataclass(frozen=True, slots=True)
class Workbench:
    """One running workbench."""

    store: Store
    settings: Settings
    solver: Solver
    pages: Pages
    places: tuple[Place, ...]
    following: Following = field(default_factory=Following)
    plans: Plans = field(default_factory=Plans)
    tracers: Tracers = field(default_factory=Tracers)

    def shop(self) -> ShopSettings:
        """Return what holds for the whole shop."""
        return self.store.settings.read()


def workbench(request: Request) -> Workbench:
    """Return the workbench that answers a request."""
    found: Workbench = request.app.state.workbench
    return found
