"""Who asks: their name, their device, the units they read in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request

from loomwright.quantities import Units
from loomwright.web.csrf import PROGRAM_HEADER, token_of
from loomwright.web.workbench import workbench

NAME = "name"
UNITS = "units"
SAID = "said"
HOST_DEVICE = "shop computer"
LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Visitor:
    """One person at one device.

    Parameters
    ----------
    name : str
        What they call themselves; "" if they have not said.
    device : str
        What the device is called.
    is_host : bool
        Whether it is the machine that runs the workbench.
    csrf : str
        Token that their forms carry.
    units : Units
        What they read in: chosen on this device, else by the shop.
    """

    name: str
    device: str
    is_host: bool
    csrf: str
    units: Units

    @property
    def who(self) -> str:
        """How history calls them."""
        return f"{self.name}, {self.device}" if self.name else self.device


def visitor(request: Request) -> Visitor:
    """Return who sent a request."""
    device = getattr(request.state, "device", HOST_DEVICE)
    name = request.session.get(NAME, "") or request.headers.get(PROGRAM_HEADER, "")
    return Visitor(
        name=" ".join(str(name).split())[:LONGEST_NAME],
        device=device,
        is_host=getattr(request.state, "is_host", False),
        csrf=token_of(request),
        units=_units(request),
    )


def _units(request: Request) -> Units:
    chosen = request.session.get(UNITS)
    return Units(chosen) if chosen in set(Units) else workbench(request).shop().units


def say(request: Request, words: str, undo: str = "") -> None:
    """Keep words for the next page this visitor sees; `undo` is where to take it back."""
    request.session[SAID] = [words, undo]


AVisitor = Annotated[Visitor, Depends(visitor)]
