"""What is asked of a tester under a command: where, under what state of plug, as what."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from loomwright.electrics.commands import Command
from loomwright.electrics.harness import slug
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.lightcheck.bench import Bench, Held, probed_pins
from loomwright.lightcheck.drawn import Reading
from loomwright.lightcheck.model import Expectation, Where
from loomwright.lightcheck.spread import Spread
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.reference.testers import Tester

BAND = "band of nine in ten healthy rigs like this one"
DARK = "only what must be live is live"


@dataclass(frozen=True, slots=True)
class Ask:
    """One expectation to be made from what healthy rigs read; None if nothing is solved."""

    held: Held
    reading: Reading | None
    make: Callable[[Spread], Expectation]


@dataclass(frozen=True, slots=True)
class Asking:
    """Who asks: the rig, one command, one tester, and the pins that are live.

    `live` are those under the command, `always` those with everything off as well.
    """

    bench: Bench
    command: Command
    tester: Tester
    socket: str
    live: frozenset[tuple[str, str]]
    always: frozenset[tuple[str, str]] = frozenset()

    @property
    def pins(self) -> Iterator[PinPlace]:
        """Pins of the socket asked about, returns left out."""
        return (pin for pin in probed_pins(self.bench.wiring) if pin.socket == self.socket)

    def is_live(self, pin: PinPlace) -> bool:
        """Whether volts stand on a pin under the command, with the plug out."""
        return (pin.socket, pin.pin) in self.live

    def is_commanded(self, pin: PinPlace) -> bool:
        """Whether a pin is live by this command, not whatever the driver does."""
        return self.is_live(pin) and (
            self.command.key in ("rest", "charge") or (pin.socket, pin.pin) not in self.always
        )

    def expectation(
        self,
        place: Place,
        title: str,
        quantity: Quantity,
        at: Where,
        *,
        plugged: bool,
        command: str = "",
    ) -> Expectation:
        """Return an expectation with its key, still without words or band."""
        held = command or self.command.key
        parts = (held.replace("+", " and "), self.tester.key, place.kind, place.name, place.pin)
        plug = "in" if plugged else "out"
        return Expectation(
            key=slug(*parts, quantity, plug),
            place=place,
            title=title,
            quantity=quantity,
            plugged=plugged,
            command=held,
            tester=self.tester.key,
            at=at,
        )


def across(load: LoadPlace) -> Reading:
    """Volts across a load."""
    return Reading(load.a, load.b, fed_by=load.fed_by)


def at_pin(pin: PinPlace) -> Reading:
    """Volts from a pin to its return."""
    return Reading(pin.node, pin.return_node or pin.node, fed_by=pin.fed_by)


def place_of(pin: PinPlace) -> Place:
    """A pin as a place."""
    return Place(PlaceKind.PIN, pin.socket, pin.pin)
