"""Questions about sockets, their leads and routes, a converter, an adapter."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from loomwright.reference.connectors import connector, connector_keys
from loomwright.web.describing import choices
from loomwright.web.describing.joint_pictures import JUNCTIONS, WIRE_TO_WIRE, joint_options
from loomwright.web.describing.questions import Option, Question, Section, choose, flag, tick
from loomwright.web.describing.writing import entries_at, value_at

CONVERTER = "converter"
KINDS = choices.CONVERTERS


def socket_sections(data: Mapping[str, Any], number: int) -> tuple[Section, ...]:
    """Return the questions about one socket, counted from 1."""
    at = f"socket[{number}]"
    where = "under the bumper, left of the hitch"
    return (
        Section(
            "The socket",
            (
                Question(f"{at}.connector", "Which socket?", "connector"),
                Question(f"{at}.name", "What do you call it?"),
                Question(f"{at}.location", "Where does it sit?", hint=f"Such as: {where}."),
            ),
        ),
        Section("How it gets its wires", _joining(data, number)),
        Section(
            "Ground",
            (
                choose(f"{at}.ground", "Where does its ground wire end?", *choices.GROUNDS),
                *_wire(f"{at}.ground_wire", "Ground wire"),
            ),
        ),
        Section("The lead", _lead(f"{at}.lead", str(value_at(data, f"{at}.connector") or ""))),
        *_legs(data, at),
    )


def _joining(data: Mapping[str, Any], number: int) -> tuple[Question, ...]:
    at = f"socket[{number}]"
    before = entries_at(data, "socket")[: number - 1]
    names = [str(one.get("name") or one.get("connector") or "") for one in before]
    options = [Option(name, name, "a socket that was there before") for name in names if name]
    if value_at(data, CONVERTER) is not None:
        options.append(Option(CONVERTER, "The converter"))
    options.append(Option("vehicle", "The vehicle's wires", "the circuits themselves"))
    return (
        choose(f"{at}.join", "How is it joined?", *choices.JOINS),
        choose(f"{at}.joins", "Whose wires does it join?", *options),
        choose(f"{at}.joint", "Which joint?", *joint_options(WIRE_TO_WIRE)),
    )


def _lead(at: str, key: str) -> tuple[Question, ...]:
    colours = choices.convention_options(key) if key in connector_keys() else ()
    return (
        choose(f"{at}.colours", "Which colours do its wires wear?", *colours),
        Question(f"{at}.size", "Size of its wires", "size"),
        Question(f"{at}.length", "Its length", "length"),
        choose(f"{at}.insulation", "Which insulation?", *choices.insulation_options()),
        tick(f"{at}.without", "Which of its pins have no wire?", *_functions(key)),
    )


def _functions(key: str) -> tuple[Option, ...]:
    """Return the functions of a connector; none if it is not known."""
    pins = connector(key).pins if key in connector_keys() else ()
    wired = dict.fromkeys(pin.function for pin in pins if pin.colour_text is not None)
    return choices.function_options(list(wired))


def _legs(data: Mapping[str, Any], at: str) -> tuple[Section, ...]:
    legs = entries_at(data, f"{at}.leg")
    slack = Question(f"{at}.slack", "How much is kept in hand?", "length")
    says = "Leg by leg from the joint to the socket." if legs else "No leg is described yet."
    return (
        Section("The route", (slack,), says),
        *(_leg(f"{at}.leg[{n}]", n, len(legs), leg) for n, leg in enumerate(legs, start=1)),
    )


def _leg(at: str, number: int, count: int, leg: Mapping[str, Any]) -> Section:
    told = ", ".join(str(leg[key]) for key in ("name", "length") if leg.get(key))
    cautions = "One to a line: what is behind the panel, what gets hot."
    questions = (
        Question(f"{at}.name", "From where to where?"),
        Question(f"{at}.length", "How long?", "length"),
        Question(f"{at}.passes", "What does it pass through?"),
        Question(f"{at}.hole", "Which hole?", "diameter"),
        Question(f"{at}.cautions", "What to look out for", "lines", cautions),
    )
    title = f"Leg {number}: {told}"
    return Section(title, questions, is_folded=True, removes=at, number=number, count=count)


def conductor_sections(data: Mapping[str, Any], lead: str, function: str) -> tuple[Section, ...]:
    """Return the questions about one wire of a lead or cord; those of a cord go on as the run."""
    at = f"{lead}.{function}"
    says = "Left open, it is as the rest of the lead."
    sections = [Section("This wire", _wire(at, "Wire", is_coloured=True), says)]
    if lead == "trailer.cord":
        run = Question(f"trailer.run.{function}", "Size of its run behind the junction", "size")
        sections.append(Section("Behind the junction", (run,)))
    return tuple(sections)


def _wire(at: str, called: str, *, is_coloured: bool = False) -> tuple[Question, ...]:
    colour = (Question(f"{at}.colour", f"{called}: colour", "colour"),) if is_coloured else ()
    return (
        *colour,
        Question(f"{at}.size", f"{called}: size", "size"),
        Question(f"{at}.length", f"{called}: length", "length"),
    )


def converter_sections(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the questions about a converter; only whether there is one, where there is none."""
    at = CONVERTER
    kind = choose(f"{at}.kind", "What does it do?", *KINDS)
    if value_at(data, at) is None:
        none = Option("", "None", "the wires go straight through")
        asked = choose(f"{at}.kind", "Is there a box between vehicle and socket?", none, *KINDS)
        return (Section("The converter", (asked,)),)
    options = (Option("yes", "There is one"), Option("no", "There is none"))
    here = Question(at, "Is there a box between vehicle and socket?", "table", options=options)
    return (
        Section(
            "The converter",
            (
                here,
                kind,
                flag(
                    f"{at}.powered",
                    "Does it have a feed of its own?",
                    "Yes, it only senses the vehicle",
                    "No, the vehicle's wires feed it",
                ),
                choose(f"{at}.joint", "How does it join them?", *joint_options(WIRE_TO_WIRE)),
            ),
        ),
        Section("Its own feed", _own_feed(f"{at}.feed")),
        Section("Its ground", _wire(f"{at}.ground", "Ground wire")),
        Section("What it can give", _channels(data), is_folded=True),
    )


def _own_feed(at: str) -> tuple[Question, ...]:
    return (
        *_wire(at, "Feed", is_coloured=True),
        Question(f"{at}.fuse", "Feed: fuse", "fuse"),
        choose(f"{at}.live", "When is it live?", *choices.LIVE),
        flag(f"{at}.new", "Is it run in this job?", "Yes, new", "No, it was there"),
    )


def _channels(data: Mapping[str, Any]) -> tuple[Question, ...]:
    at = CONVERTER
    sockets = entries_at(data, "socket")
    key = next((one.get("connector") for one in sockets if one.get("joins") == CONVERTER), None)
    pins = connector(key).pins if isinstance(key, str) and key in connector_keys() else ()
    lamps = [pin.function for pin in pins if not pin.is_return and pin.function != "spare"]
    written = value_at(data, f"{at}.channels")
    keys = dict.fromkeys([*(written if isinstance(written, dict) else ()), *lamps])
    outputs = tuple(
        Question(f"{at}.channels.{key}", f"{choices.title_of(key)}: most it gives", "current")
        for key in keys
    )
    stepping = value_at(data, f"{at}.kind") == "step-down"
    return (
        *outputs,
        Question(f"{at}.on_resistance", "Resistance of an output that is on", "resistance"),
        Question(f"{at}.trigger", "Current it takes from each wire it senses", "current"),
        *(_stepped(at) if stepping else ()),
    )


def _stepped(at: str) -> tuple[Question, ...]:
    return (
        Question(f"{at}.output", "Output voltage", "voltage"),
        Question(f"{at}.limit", "Most current it gives", "current"),
        Question(f"{at}.efficiency", "Output power over input power", "share"),
    )


def adapter_section(data: Mapping[str, Any]) -> Section:
    """Return the questions about an adapter between socket and plug."""
    options = (Option("yes", "There is one"), Option("no", "There is none"))
    here = Question("adapter", "Is there an adapter between?", "table", options=options)
    if value_at(data, "adapter") is None:
        return Section("Adapter", (here,))
    connectors = choices.connector_options()
    ends = (
        choose("adapter.socket", "Which socket does it plug into?", *connectors),
        choose("adapter.plug", "Which plug does it take?", *connectors),
    )
    return Section("Adapter", (here, *ends))


def cord_questions(data: Mapping[str, Any]) -> tuple[Question, ...]:
    """Return the questions about the cord of the trailer and its junction."""
    plug = value_at(data, "trailer.plug")
    key = plug if isinstance(plug, str) else _plugged_into(data)
    junction = joint_options(JUNCTIONS)
    return (
        *_lead("trailer.cord", key),
        choose("trailer.junction", "How does the cord join the run?", *junction),
        *_joined(data, key),
    )


def _joined(data: Mapping[str, Any], key: str) -> tuple[Question, ...]:
    """Return the question about returns tied together, where a plug has more than one."""
    pins = connector(key).pins if key in connector_keys() else ()
    returns = list(dict.fromkeys(pin.function for pin in pins if pin.is_return))
    written = value_at(data, "trailer.joined_returns")
    if len(returns) < 2 or (isinstance(written, list) and len(written) > 1):
        return ()
    label = "Which of its returns are tied together behind the plug?"
    hint = "Tick them all, or none: each then runs to its own pin."
    options = choices.function_options(returns)
    return (Question("trailer.joined_returns", label, "joined", hint, options),)


def _plugged_into(data: Mapping[str, Any]) -> str:
    sockets = entries_at(data, "socket")
    return str(sockets[-1].get("connector", "")) if sockets else ""
