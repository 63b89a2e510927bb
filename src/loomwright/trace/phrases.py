"""Reads what a person types: "park+left: left rear dark, right rear normal".

A phrase names a command before a colon, then what was seen, place by place, parted by commas;
semicolons part commands. What needs no command stands by itself: "tail fuse blown", "works on
another vehicle", "worse in rain". Nothing is guessed: a part that is not understood is refused
with what could be said instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from loomwright.electrics.commands import Command, commands_for, find_command
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.invalid import InvalidInput, raise_all
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.trace.homes import circuit_of
from loomwright.trace.whereabouts import meant_by

WORDS: Final[tuple[tuple[str, Word], ...]] = (
    ("very dim", Word.GLOW),
    ("practically out", Word.GLOW),
    ("flashing dimly", Word.FLASHING_DIM),
    ("flashes dimly", Word.FLASHING_DIM),
    ("flashing dim", Word.FLASHING_DIM),
    ("flashes dim", Word.FLASHING_DIM),
    ("flashing faintly", Word.FLASHING_DIM),
    ("flashing fast", Word.FLASHING_FAST),
    ("flashes fast", Word.FLASHING_FAST),
    ("comes and goes", Word.COMES_AND_GOES),
    ("come and go", Word.COMES_AND_GOES),
    ("now and then", Word.COMES_AND_GOES),
    ("intermittent", Word.COMES_AND_GOES),
    ("normal for this vehicle", Word.AS_USUAL),
    ("no trailer", Word.NO_TRAILER),
    ("not connected", Word.NO_TRAILER),
    ("not seen", Word.NOT_SEEN),
    ("does not work", Word.FAILS),
    ("do not work", Word.FAILS),
    ("not working", Word.OFF),
    ("as it should be", Word.NORMAL),
    ("as they should be", Word.NORMAL),
    ("overload", Word.OVERLOAD),
    ("short circuit", Word.OVERLOAD),
    ("connected", Word.CONNECTED),
    ("flashing", Word.FLASHING),
    ("flashes", Word.FLASHING),
    ("flash", Word.FLASHING),
    ("blinking", Word.FLASHING),
    ("blinks", Word.FLASHING),
    ("flickers", Word.FLICKER),
    ("flicker", Word.FLICKER),
    ("flickering", Word.FLICKER),
    ("pulsed", Word.PULSED),
    ("pulsing", Word.PULSED),
    ("dark", Word.OFF),
    ("dead", Word.OFF),
    ("out", Word.OFF),
    ("off", Word.OFF),
    ("nothing", Word.OFF),
    ("glows", Word.GLOW),
    ("glow", Word.GLOW),
    ("glowing", Word.GLOW),
    ("faint", Word.GLOW),
    ("dim", Word.DIM),
    ("weak", Word.WEAK),
    ("normal", Word.NORMAL),
    ("good", Word.NORMAL),
    ("fine", Word.NORMAL),
    ("ok", Word.NORMAL),
    ("okay", Word.NORMAL),
    ("right word", Word.NORMAL),
    ("bright", Word.BRIGHT),
    ("on", Word.ON),
    ("lit", Word.ON),
    ("steady", Word.ON),
    ("wrong", Word.WRONG),
    ("locked", Word.LOCKED),
    ("lock", Word.LOCKED),
    ("drag", Word.LOCKED),
    ("grabby", Word.GRABBY),
    ("grab", Word.GRABBY),
    ("hot", Word.HOT),
    ("burnt", Word.BURNT),
    ("blown", Word.BLOWN),
    ("blows", Word.BLOWN),
    ("whole", Word.WHOLE),
    ("fault", Word.FAULT),
    ("error", Word.FAULT),
    ("works", Word.WORKS),
    ("work", Word.WORKS),
    ("fails", Word.FAILS),
)
"""What people say, longer sayings first; none means two things."""

PAST: Final = (
    ("rain", "rain"),
    ("wet", "rain"),
    ("bump", "bumps"),
    ("rough road", "bumps"),
    ("added lately", "added lately"),
    ("fitted lately", "added lately"),
    ("never worked", "never worked"),
    ("after a repair", "after a repair"),
    ("long unused", "long unused"),
    ("stood all winter", "long unused"),
    ("no trailer on", "no trailer"),
    ("without a trailer", "no trailer"),
)
"""Sayings of weather, movement and the past, and the history each tells of."""

ELSEWHERE: Final = (
    ("another vehicle", "other vehicle"),
    ("other vehicle", "other vehicle"),
    ("another truck", "other vehicle"),
    ("bench supply", "bench supply"),
    ("another trailer", "other trailer"),
    ("other trailer", "other trailer"),
    ("load box", "load box"),
)

READING: Final = re.compile(
    r"^(?P<place>.*?)\s*(?P<value>-?\d+(?:\.\d+)?|open|over range)\s*"
    r"(?P<unit>mV|V|volts?|mA|A|amps?|kohm|Mohm|ohms?|kΩ|MΩ|Ω)?$",
    re.IGNORECASE,
)

UNITS: Final = {
    "v": (Quantity.VOLTS, 1.0),
    "volt": (Quantity.VOLTS, 1.0),
    "volts": (Quantity.VOLTS, 1.0),
    "mv": (Quantity.VOLTS, 1e-3),
    "a": (Quantity.AMPS, 1.0),
    "amp": (Quantity.AMPS, 1.0),
    "amps": (Quantity.AMPS, 1.0),
    "ma": (Quantity.AMPS, 1e-3),
    "ohm": (Quantity.OHMS, 1.0),
    "ohms": (Quantity.OHMS, 1.0),
    "ω": (Quantity.OHMS, 1.0),
    "kohm": (Quantity.OHMS, 1e3),
    "kω": (Quantity.OHMS, 1e3),
    "mohm": (Quantity.OHMS, 1e6),
    "mω": (Quantity.OHMS, 1e6),
}

OPEN_OHM: Final = 1e6

SAY: Final = "say it as in: park+left: left rear dark, right rear normal"
READ: Final = "give it as in: park: pin 4 of the rear socket 9.6 V"


def read_phrase(text: str, rig: Rig) -> tuple[Observation, ...]:
    """Return what a person says was seen or measured; a number at the end makes it a reading.

    Parameters
    ----------
    text : str
        The phrase.
    rig : Rig
        The rig.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for every part that is not understood.
    """
    wiring, commands = wire_up(rig), commands_for(rig)
    last = text.rstrip(" .;,").casefold()
    is_reading = re.search(r"\d\s*(mv|v|volts?|ma|a|amps?|[km]?ohms?|[km]?ω)$|\bopen$", last)
    reader = read_reading if is_reading else read_seen
    return reader(text, wiring, commands)


def read_seen(text: str, wiring: Wiring, commands: Sequence[Command]) -> tuple[Observation, ...]:
    """Return what a person says was seen.

    Parameters
    ----------
    text : str
        The phrase.
    wiring : Wiring
        The rig.
    commands : sequence of Command
        Commands this rig has.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for every part that is not understood.
    """
    found: list[Observation] = []
    problems: list[InvalidInput] = []
    for command, said in _parts(text, commands, problems):
        try:
            found.append(_seen(said, command, wiring))
        except InvalidInput as problem:
            problems.append(problem)
    if not found and not problems:
        problems.append(InvalidInput("seen", text, SAY))
    raise_all(problems, "what was seen")
    return tuple(found)


def read_reading(text: str, wiring: Wiring, commands: Sequence[Command]) -> tuple[Observation, ...]:
    """Return what a person says was measured.

    Parameters
    ----------
    text, wiring, commands
        As for `read_seen`.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for every part that is not understood.
    """
    found: list[Observation] = []
    problems: list[InvalidInput] = []
    for command, said in _parts(text, commands, problems):
        try:
            found.append(_reading(said, command, wiring))
        except InvalidInput as problem:
            problems.append(problem)
    if not found and not problems:
        problems.append(InvalidInput("read", text, READ))
    raise_all(problems, "what was read")
    return tuple(found)


def _parts(
    text: str, commands: Sequence[Command], problems: list[InvalidInput]
) -> Iterator[tuple[str, str]]:
    """Yield command and saying; the command is empty where none is named."""
    for phrase in re.split(r"[;\n]", text):
        head, colon, rest = phrase.partition(":")
        command = ""
        if colon:
            try:
                command = find_command(head.strip(), commands).key
            except InvalidInput as problem:
                problems.append(problem)
                continue
        for said in re.split(r",(?!\s*axle)", rest if colon else head):
            if said.strip():
                yield command, said.strip()


def _seen(said: str, command: str, wiring: Wiring) -> Observation:  # noqa: PLR0911
    low = said.casefold()
    for saying, history in PAST:
        if saying in low and not command:
            return _word("", Place(PlaceKind.HISTORY, history), Word.ON)
    word, rest = _word_in(low)
    if word is None:
        known = "dark, glows, dim, normal, bright, flashing, comes and goes, blown, no trailer"
        raise InvalidInput("seen", said, f"end it with one of: {known}")
    for saying, elsewhere in ELSEWHERE:
        if saying in low:
            return _word(command, Place(PlaceKind.ELSEWHERE, elsewhere), word)
    if "fuse" in rest.split():
        name = " ".join(w for w in rest.split() if w not in ("fuse", "the", "is"))
        return _word(command, Place(PlaceKind.FUSE, _fuse(name, said, wiring)), word)
    if "controller" in rest or (
        not rest and word in (Word.NO_TRAILER, Word.OVERLOAD, Word.CONNECTED)
    ):
        return _word(command, Place(PlaceKind.CONTROLLER), word)
    if "dash" in rest.split():
        return _word(command, Place(PlaceKind.CONTROLLER, "dash"), word)
    pin = _pin(rest, wiring)
    if pin is not None:
        return _word(command, pin, word)
    name = _load_name(rest or "trailer lamps", said, wiring)
    is_brake = all(wiring.loads[n].kind == "brake" for n in meant_by(wiring, name).loads)
    if word is Word.WEAK and not is_brake:
        word = Word.DIM
    return _word(command, Place(PlaceKind.GROUP, name), word)


def _word(command: str, place: Place, word: Word) -> Observation:
    return Observation(command, place, Quantity.SEEN, word=word)


def _word_in(low: str) -> tuple[Word | None, str]:
    """The word at the end of a saying, or at its beginning, and the rest."""
    for saying, word in WORDS:
        match = re.search(rf"(?:^|\b){re.escape(saying)}$", low)
        if match:
            return word, _bare(low[: match.start()])
    for saying, word in WORDS:
        if low.startswith(saying + " "):
            return word, _bare(low[len(saying) :])
    return None, low


def _bare(text: str) -> str:
    words = text.strip().split()
    while words and words[-1] in ("is", "are", "stays", "stay", "goes", "reads", "at", "shows"):
        words.pop()
    while words and words[0] in ("the", "on", "at", "all", "both"):
        words.pop(0)
    return " ".join(words)


def _fuse(name: str, said: str, wiring: Wiring) -> str:
    fuses = {n: part.function for n, part in wiring.parts.items() if part.kind == "fuse"}
    words = set(name.replace("_", " ").split())
    asked = {"any", "all", "trailer"} & words
    known = {circuit_of(f) for f in fuses.values()} | {
        w for f in fuses.values() for w in f.split("_")
    }
    if name in fuses or asked or words & known:
        return name or "any"
    offered = ", ".join(sorted({circuit_of(f) for f in fuses.values()}))
    raise InvalidInput("seen", said, f"name the fuse of one of: {offered}")


def _load_name(name: str, said: str, wiring: Wiring) -> str:
    if meant_by(wiring, name):
        return name
    names = ", ".join(dict.fromkeys(load.name for load in wiring.loads))
    raise InvalidInput(
        "seen", said, f"name a lamp or a group (left rear, markers, brakes) or {names}"
    )


def _pin(text: str, wiring: Wiring) -> Place | None:
    match = re.search(r"\b(?:pin|contact)\s+(\w+)(?:\s+of\s+(?:the\s+)?(.*))?", text)
    if match is None:
        return None
    return Place(PlaceKind.PIN, _socket(match[2] or "", wiring), match[1])


def _socket(said: str, wiring: Wiring) -> str:
    asked = said.replace("socket", "").strip()
    for socket in wiring.rig.sockets:
        if asked and asked in socket.name.casefold():
            return socket.name
    return wiring.rig.towing


def _reading(said: str, command: str, wiring: Wiring) -> Observation:
    plugged = "unplugged" not in said and "plug out" not in said
    bare = said.replace("unplugged", "").replace("plug out", "").strip()
    match = READING.match(bare)
    if match is None:
        raise InvalidInput("read", said, READ)
    value_said, unit_said = match["value"].casefold(), (match["unit"] or "").casefold()
    is_open = value_said in ("open", "over range")
    quantity, scale = UNITS.get(unit_said, (Quantity.VOLTS, 1.0))
    if is_open:
        quantity, value = Quantity.OHMS, OPEN_OHM
    elif not unit_said:
        raise InvalidInput("read", said, "give the unit as well: V, A or ohm")
    else:
        value = float(value_said) * scale
    place = _place(_bare(match["place"].casefold()), said, wiring)
    key = "" if quantity is Quantity.OHMS else command
    return Observation(
        key, place, quantity, value=value, tester="meter", plugged=plugged and bool(key)
    )


def _place(text: str, said: str, wiring: Wiring) -> Place:
    pin = _pin(text, wiring)
    if pin is not None:
        return pin
    if text.startswith("ground"):
        socket = re.sub(r"^ground(\s+pin)?(\s+of)?(\s+the)?", "", text)
        return Place(PlaceKind.RETURN, _socket(socket.strip(), wiring))
    if " to " in text:
        one, other = (part.strip().replace(" ", "_") for part in text.split(" to ", 1))
        nodes = {*wiring.network.nodes, "battery_negative", "battery", "chassis"}
        if {one, other} <= nodes:
            names = {"battery_negative": "battery negative"}
            return Place(PlaceKind.POINTS, names.get(one, one), other=names.get(other, other))
        raise InvalidInput("read", said, "name two points as `loomwright netlist` names its nodes")
    if "controller" in text:
        return Place(PlaceKind.CONTROLLER)
    if text and meant_by(wiring, text):
        return Place(PlaceKind.GROUP, text)
    raise InvalidInput("read", said, READ)
