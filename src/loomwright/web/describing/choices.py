"""The large choices: every word a job file chooses from, with a title and words to judge it by."""

from __future__ import annotations

from collections.abc import Iterable

from loomwright.drawing.function_words import function_words
from loomwright.reference.batteries import chemistries
from loomwright.reference.brakes import magnets
from loomwright.reference.connectors import connector, connector_keys
from loomwright.reference.conventions import convention, convention_keys
from loomwright.reference.functions import functions
from loomwright.reference.insulation import insulations
from loomwright.reference.rules import jurisdictions
from loomwright.rig.known import CHEMISTRY_WORDS, UNKNOWN
from loomwright.rig.words import TRAILER_KINDS
from loomwright.web.describing.questions import Option

SIGNALS = (
    Option("combined", "One lamp stops and turns", "the same lamp brakes and blinks on each side"),
    Option("separate", "A lamp each", "stop lamps of their own, turn signals of their own"),
)
SOCKET_FEEDS = (
    Option("shared", "The lamp circuits", "the trailer hangs on the vehicle's own lamp wires"),
    Option("relay", "Relays", "each trailer circuit has a relay and a fuse of its own"),
    Option("module", "A module", "electronics feed the trailer, and may watch its lamps"),
)
LAMP_DRIVES = (
    Option("steady", "Steady", "full voltage while the lamp is on"),
    Option("pulsed", "Pulsed", "on and off many times a second; a meter shows less than 12 V"),
    Option("monitored", "Monitored", "the vehicle tests its lamps and reports a lost one"),
)
LIVE = (
    Option("command", "When the driver asks for it"),
    Option("always", "Always", "can empty the battery with the engine off"),
    Option("ignition", "With the ignition"),
    Option("engine", "With the engine running"),
)
JOINS = (
    Option("factory", "From the factory", "it came with the vehicle"),
    Option("cut", "Cut and joined", "the wires are cut, and joined end to end"),
    Option("branched", "Branched off", "the wires go on; the lead taps into them"),
    Option("tee", "Plug-in tee", "a harness between two plugs of the vehicle"),
    Option("scratch", "From scratch", "new wires from each circuit to the socket"),
)
GROUNDS = (
    Option("own ring", "Own ring on the frame", "a ring terminal on bright metal"),
    Option("old wire", "In the old ground wire", "joined to the ground that was there"),
)
RETURNS = (
    Option("wire", "Ground wires", "each load has a wire home to the plug"),
    Option("frame", "The frame", "loads are grounded to the steel; one wire goes home"),
)
CONDITIONS = (
    Option("new", "New", "clean joints and contacts"),
    Option("aged", "Aged", "weathered joints, worn contacts"),
)
CONVERTERS = (
    Option("combine", "Combine", "stop and turn wires become one on each side"),
    Option("split", "Split", "one wire on each side becomes stop and turn"),
    Option("isolate", "Isolate", "feeds the trailer from the battery; only senses the vehicle"),
    Option("step-down", "Step down", "24 V of the vehicle becomes 12 V for the trailer"),
)
BRAKINGS = (
    Option("none", "No brakes"),
    Option("electric", "Electric", "magnets in the drums, driven by a controller"),
    Option("electric-over-hydraulic", "Electric over hydraulic", "the brake wire runs a pump"),
    Option("surge", "Surge", "the coupler pushes them on; a reverse wire frees them"),
    Option("air", "Air"),
)
PLACINGS = (
    Option("left", "Left"),
    Option("right", "Right"),
    Option("centre", "Centre"),
    Option("pair", "A pair", "the same lamp left and right"),
)
LIGHT_COLOURS = (Option("red", "Red"), Option("amber", "Amber"), Option("white", "White"))
LAWS = (
    Option("resistance", "A heater", "takes more when the voltage is higher"),
    Option("constant-power", "Electronics", "keeps its power, and takes more amps at less volts"),
)
SHARES = tuple(
    Option(f"{share} %", f"{share}\u00a0%", words)
    for share, words in ((20, "nearly empty"), (50, ""), (60, ""), (80, ""), (100, "full"))
)
REGION_WORDS = {
    "US": "United States",
    "CA": "Canada",
    "GB": "Great Britain",
    "EU": "European Union",
    "AU": "Australia",
    "NZ": "New Zealand",
    "ZA": "South Africa",
    "world": "anywhere",
}
CHEMISTRY_TITLES = {key: word for word, key in CHEMISTRY_WORDS.items()}


def function_options(keys: Iterable[str]) -> tuple[Option, ...]:
    """Return functions to choose from, each with what it is for."""
    titles = {row.key: row.title for row in functions()}
    return tuple(
        Option(key, title_of(key), titles.get(key, "")) for key in dict.fromkeys(keys) if key
    )


def title_of(function: str) -> str:
    """Return a function as the title of a choice."""
    words = function_words(function)
    return words[:1].upper() + words[1:]


def jurisdiction_options() -> tuple[Option, ...]:
    """Return whose rules a trailer may be checked by."""
    return tuple(Option(row.key, row.title) for row in jurisdictions())


def trailer_options() -> tuple[Option, ...]:
    """Return the kinds of trailer."""
    return tuple(Option(word, word[:1].upper() + word[1:]) for word in TRAILER_KINDS)


def connector_options() -> tuple[Option, ...]:
    """Return the connectors, each with where it is usual."""
    rows = [connector(key).row for key in connector_keys()]
    return tuple(
        Option(row.key, row.title, ", ".join(REGION_WORDS.get(one, one) for one in row.regions))
        for row in rows
    )


def convention_options(connector_key: str) -> tuple[Option, ...]:
    """Return the colours a lead can wear: those of its connector, of looms, or none known.

    One body is sold in several colours: those of every connector of its family come second.
    """
    family = connector(connector_key).row.family
    body = [key for key in connector_keys() if connector(key).row.family == family]
    own = [convention(key).row for key in dict.fromkeys((connector_key, *body))]
    found = [convention(key).row for key in convention_keys()]
    fitting = [row for row in found if row.connector in body and row not in own]
    others = [row for row in found if row.connector is None]
    return (
        *(Option(row.key, row.title) for row in (*own, *fitting, *others)),
        Option(UNKNOWN, "None that anybody knows", "every wire must be proved with a meter"),
    )


def insulation_options() -> tuple[Option, ...]:
    """Return the kinds of insulation."""
    return tuple(Option(row.key, row.key, row.title) for row in insulations())


def chemistry_options() -> tuple[Option, ...]:
    """Return the kinds of battery, by the words people use where there are any."""
    return tuple(
        Option(CHEMISTRY_TITLES.get(row.key, row.key), f"{row.title[:1].upper()}{row.title[1:]}")
        for row in chemistries()
    )


def drum_options() -> tuple[Option, ...]:
    """Return the drum sizes of the magnet table."""
    return tuple(
        Option(f"{row.size_in:g} in", f"{row.size_in:g}\u00a0in", f"{row.manual_a:g}\u00a0A each")
        for row in magnets()
    )


def connector_title(key: str) -> str:
    """Return what a connector is called; the key itself, if the tables do not have it."""
    return connector(key).row.title if key in connector_keys() else key
