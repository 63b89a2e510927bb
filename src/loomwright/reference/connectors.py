"""Sockets and plugs of trailers, pin by pin.

Numbers, functions and colours come from the standards; where the place of a contact could not be
confirmed the layout says so, and `Connector.face` gives the numbers in a plain row.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Literal

from loomwright.colours import Colour, read_colour
from loomwright.invalid import InvalidInput
from loomwright.reference.functions import parts_of
from loomwright.reference.nearest import nearest_known
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

Confidence = Literal["high", "medium", "low", "none"]
Severity = Literal["high", "medium", "low"]
Side = Literal["face", "rear"]
System = Literal["combined", "separate", "none"]

ORDINARY_FUNCTIONS = (
    "tail",
    "left_turn",
    "right_turn",
    "stop",
    "reverse",
    "brake",
    "battery",
    "ignition",
    "fog",
)
RETURNS = "returns"
POSITION_LAMPS = "position lamps"
ROW_HALF_WIDTH = 0.9


@dataclass(frozen=True, slots=True)
class OtherUse:
    """A function that the pin is also met with, and on what."""

    connector: str
    pin: str
    function: str
    met_on: str
    severity: Severity
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Note:
    """One thing to know about a connector."""

    connector: str
    note: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Pin:
    """One position in a connector; `number` is the moulded mark, which may be a letter.

    `colour_text` is the usual core colour and `alt_colours` are others met; x and y look into
    the face of the vehicle socket, x to the right, y up, the shell reaching from -1 to 1, and
    are None where nobody has confirmed the place.
    """

    connector: str
    number: str
    label: str
    function: str
    colour_text: str | None
    colour_standing: Standing | None
    alt_colours: tuple[str, ...]
    size: str | None
    size_standing: Standing | None
    max_current_a: float | None
    fuse_max_a: float | None
    x: float | None
    y: float | None
    returns_for: tuple[str, ...]
    apart: str | None
    manual_number: str | None
    note: str | None
    source: str
    standing: Standing

    @property
    def colour(self) -> Colour | None:
        """Usual core colour, None where no core is laid."""
        return None if self.colour_text is None else read_colour(self.colour_text)

    @property
    def is_return(self) -> bool:
        """Whether the pin brings back the current of others."""
        return bool(self.returns_for)

    @property
    def other_uses(self) -> tuple[OtherUse, ...]:
        """Functions this pin is also met with on other rigs."""
        uses = read_rows(PACKAGE, "other_uses", OtherUse)
        return tuple(u for u in uses if (u.connector, u.pin) == (self.connector, self.number))


@dataclass(frozen=True, slots=True)
class ConnectorRow:
    """The line of a connector in its table."""

    key: str
    title: str
    standard: str
    regions: tuple[str, ...]
    voltages_v: tuple[float, ...]
    family: str
    shape: Literal["round", "flat"]
    pin_count: int
    system: System
    key_mark: str
    view: str
    gender: str
    layout_standing: Standing
    layout_confidence: Confidence
    layout_source: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Connector:
    """A socket and the plug that fits it.

    `system` tells how its lamps are signalled: ``combined`` (stop and turn share a wire per
    side), ``separate``, or ``none`` (it carries no stop or turn signals). Connectors of one
    `family` fit each other by body, which does not mean that they may be mated.
    """

    row: ConnectorRow
    pins: tuple[Pin, ...]

    @property
    def key(self) -> str:
        """Short name, such as ``13-pin``."""
        return self.row.key

    @property
    def title(self) -> str:
        """Name for people."""
        return self.row.title

    @property
    def standard(self) -> str:
        """Standard that allocates the contacts."""
        return self.row.standard

    @property
    def system(self) -> System:
        """How stop and turn are signalled."""
        return self.row.system

    @property
    def is_layout_known(self) -> bool:
        """Whether the places of the contacts may be drawn."""
        return self.row.layout_confidence in ("high", "medium")

    @property
    def functions(self) -> tuple[str, ...]:
        """What the pins carry, each once, in the order of the pins."""
        return tuple(dict.fromkeys(pin.function for pin in self.pins))

    @property
    def lacks(self) -> tuple[str, ...]:
        """Ordinary functions that no pin serves, alone or combined."""
        served = {part for name in self.functions for part in parts_of(name)}
        return tuple(name for name in ORDINARY_FUNCTIONS if not parts_of(name) <= served)

    @property
    def returns_kept_apart(self) -> frozenset[str]:
        """Numbers of the returns that must not be joined on the trailer."""
        return frozenset(pin.number for pin in self.pins if pin.apart == RETURNS)

    @property
    def feeds_kept_apart(self) -> frozenset[str]:
        """Numbers of the left and right tail lamp feeds that must not be joined."""
        return frozenset(pin.number for pin in self.pins if pin.apart == POSITION_LAMPS)

    @property
    def notes(self) -> tuple[Note, ...]:
        """What to know before working on it."""
        rows = read_rows(PACKAGE, "connector_notes", Note)
        return tuple(row for row in rows if row.connector == self.key)

    def pin(self, number: str) -> Pin:
        """Return the pin with this moulded number or letter; raise `InvalidInput` if none."""
        return self._only(lambda pin: pin.number == number, "pin", number, self._numbers())

    def pin_for(self, function: str) -> Pin:
        """Return the first pin that carries `function`; raise `InvalidInput` if none."""
        return self._only(
            lambda pin: pin.function == function, "function", function, self.functions
        )

    def pins_for(self, function: str) -> tuple[Pin, ...]:
        """Every pin that carries `function`, which may be none."""
        return tuple(pin for pin in self.pins if pin.function == function)

    def return_for(self, pin: Pin | str) -> Pin | None:
        """Return the pin that brings back the current of `pin`.

        None for a return itself, and where the connector gives that circuit no return of its
        own (the reversing lamp of a 12S returns through the lamp socket beside it).
        """
        number = self.pin(pin).number if isinstance(pin, str) else pin.number
        return next((other for other in self.pins if number in other.returns_for), None)

    def face(self, side: Side = "face") -> tuple[tuple[Pin, float, float], ...]:
        """Places of the pins, x to the right and y up, the shell reaching from -1 to 1.

        Parameters
        ----------
        side : "face" or "rear"
            ``face`` looks into the vehicle socket, which is also how the plug looks from its
            cable. ``rear`` looks at the back of the socket, where the wires go: mirrored left
            to right.

        Returns
        -------
        tuple of (Pin, x, y)
            Where the places are not confirmed: one row in the order of the pins, the same from
            both sides, since a list has no mirror image.
        """
        if not self.is_layout_known:
            return self._in_a_row()
        sign = -1.0 if side == "rear" else 1.0
        return tuple(
            (pin, sign * pin.x + 0.0, pin.y)
            for pin in self.pins
            if pin.x is not None and pin.y is not None
        )

    def _in_a_row(self) -> tuple[tuple[Pin, float, float], ...]:
        step = 2 * ROW_HALF_WIDTH / (len(self.pins) - 1)
        return tuple((pin, -ROW_HALF_WIDTH + n * step, 0.0) for n, pin in enumerate(self.pins))

    def _numbers(self) -> tuple[str, ...]:
        return tuple(pin.number for pin in self.pins)

    def _only(
        self, wanted: Callable[[Pin], bool], field: str, value: str, known: tuple[str, ...]
    ) -> Pin:
        for pin in self.pins:
            if wanted(pin):
                return pin
        raise InvalidInput(field, value, f"the {self.key} connector has {', '.join(known)}")


def connector_keys() -> tuple[str, ...]:
    """Short names of every connector, in the order of the table."""
    return tuple(row.key for row in read_rows(PACKAGE, "connectors", ConnectorRow))


@cache
def connector(key: str, field: str = "connector") -> Connector:
    """Return the connector with this short name.

    Raises
    ------
    InvalidInput
        If there is none; names the nearest known.
    """
    for row in read_rows(PACKAGE, "connectors", ConnectorRow):
        if row.key == key:
            pins = read_rows(PACKAGE, "pins", Pin)
            return Connector(row, tuple(pin for pin in pins if pin.connector == key))
    raise InvalidInput(field, key, nearest_known(key, connector_keys()))
