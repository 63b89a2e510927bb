"""Questions about the trailer: what it is, its cord and run, its lamps, brakes and supplies."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from loomwright.reference.functions import functions
from loomwright.rig.known import lamp_kinds
from loomwright.web.describing import choices
from loomwright.web.describing.ask_sockets import cord_questions
from loomwright.web.describing.ask_vehicle import SYSTEM
from loomwright.web.describing.joint_pictures import POSTS, WIRE_TO_WIRE, joint_options
from loomwright.web.describing.questions import Option, Question, Section, choose, tick
from loomwright.web.describing.writing import value_at

THERE = (Option("yes", "There is one"), Option("no", "There is none"))


def trailer_sections(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the questions about the trailer itself."""
    at = "trailer"
    steel = (
        Question(f"{at}.frame_per_metre", "Resistance of a metre of frame", "resistance"),
        Question(
            f"{at}.hitch_path",
            "Ball and chains as a second way home",
            "resistance",
            "Left open, it is not counted: it comes and goes with every bump.",
        ),
    )
    return (
        Section("The trailer", _what_it_is(at)),
        Section("How it is wired", _how_it_is_wired(at)),
        Section("The cord", cord_questions(data), "From the plug to the junction."),
        Section("The run", (Question(f"{at}.run.size", "Size of its wires", "size"),)),
        Section("Frame", steel, is_folded=True),
    )


def _what_it_is(at: str) -> tuple[Question, ...]:
    return (
        Question(f"{at}.name", "What do you call it?"),
        choose(f"{at}.kind", "What kind is it?", *choices.trailer_options()),
        Question(f"{at}.length", "Overall length, with the drawbar", "length"),
        Question(f"{at}.width", "Overall width", "length"),
        Question(f"{at}.gross_mass", "Gross weight, on its plate", "mass"),
        Question(f"{at}.axles", "How many axles?", "number"),
        Question(f"{at}.built", "When was it built?", "date", "Year, or year-month-day."),
    )


def _how_it_is_wired(at: str) -> tuple[Question, ...]:
    return (
        choose(f"{at}.signals", "How do its lamps stop and turn?", *choices.SIGNALS),
        choose(f"{at}.returns", "How does current come home?", *choices.RETURNS),
        choose(f"{at}.condition", "In what state are its joints?", *choices.CONDITIONS),
        Question(f"{at}.plug", "Which plug?", "connector"),
        choose(f"{at}.voltage", "Voltage of its lamps", *SYSTEM),
    )


def braking_sections(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the questions about how the trailer brakes, and what stops it if it comes off."""
    at = "trailer.breakaway"
    here = Question(at, "Is there a breakaway battery?", "table", options=THERE)
    kit: tuple[Question, ...] = (here,)
    if value_at(data, at) is not None:
        charged = ("battery", "ignition", "charge", "aux")
        kit = (
            here,
            Question(f"{at}.capacity", "Its capacity", "capacity"),
            choose(
                f"{at}.charged_by",
                "What charges it?",
                *choices.function_options(charged),
                Option("nothing", "Nothing", "charged by hand"),
            ),
            Question(f"{at}.back", "How far behind the junction?", "length"),
        )
    brakes = choose("trailer.brakes", "How does it brake?", *choices.BRAKINGS)
    return (Section("Brakes", (brakes,)), Section("Breakaway", kit))


def lamp_sections(data: Mapping[str, Any], number: int) -> tuple[Section, ...]:
    """Return the questions about one lamp, or a pair of them, counted from 1."""
    at = f"trailer.lamp[{number}]"
    lights = value_at(data, f"{at}.lights")
    functions_lit = list(lights) if isinstance(lights, dict) else []
    hint = "The number on its cap, or LED with its current: 1157 minor, P21W, LED\u00a00.3\u00a0A."
    led = (Option("LED", "LED", "usual current for what lights it"),)
    each = tuple(
        Question(f"{at}.lights.{one}", f"Lit by {choices.title_of(one).lower()}", "lamp", hint, led)
        for one in functions_lit
    )
    kinds = [Option(key, key.replace("_", " ")) for key in lamp_kinds()]
    return (
        Section("Its light", each, "" if each else "Say below what lights it."),
        Section(
            "Where it is",
            (
                Question(f"{at}.name", "What do you call it?"),
                Question(at, "On which side?", "placing", options=choices.PLACINGS),
                Question(f"{at}.back", "How far behind the junction?", "length"),
                Question(f"{at}.height", "How high is its centre?", "length"),
            ),
        ),
        *_wiring(at, WIRE_TO_WIRE),
        Section(
            "By the rules",
            (
                choose(f"{at}.colour", "Which light does it give?", *choices.LIGHT_COLOURS),
                tick(f"{at}.counts_as", "What does it count as?", *kinds),
            ),
            is_folded=True,
        ),
    )


def brake_sections(data: Mapping[str, Any], number: int) -> tuple[Section, ...]:
    """Return the questions about the brakes of one axle, counted from 1."""
    at = f"trailer.brake[{number}]"
    return (
        Section(
            "Both brakes of this axle",
            (
                choose(f"{at}.size", "Which drum?", *choices.drum_options()),
                Question(f"{at}.back", "How far behind the junction?", "length"),
                Question(f"{at}.axle", "Which axle, from the front?", "number"),
            ),
        ),
        *_wiring(at, WIRE_TO_WIRE),
    )


def supply_sections(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the questions about the trailer's own battery."""
    at = "trailer.battery"
    here = Question(at, "Does the trailer have its own battery?", "table", options=THERE)
    if value_at(data, at) is None:
        return (Section("Trailer battery", (here,)),)
    charging = choices.function_options(("battery", "ignition", "charge", "aux"))
    return (
        Section(
            "Trailer battery",
            (
                here,
                choose(f"{at}.chemistry", "Which kind?", *choices.chemistry_options()),
                Question(f"{at}.capacity", "Its capacity", "capacity"),
                choose(f"{at}.charge", "How full is it?", *choices.SHARES),
                choose(f"{at}.function", "Which circuit charges it?", *charging),
                Question(f"{at}.back", "How far behind the junction?", "length"),
            ),
        ),
        Section("Charger", _charger(data, f"{at}.charger"), is_folded=True),
        *_wiring(at, POSTS),
    )


def _charger(data: Mapping[str, Any], at: str) -> tuple[Question, ...]:
    hint = "Left open, the wire goes straight to the battery."
    power = Question(f"{at}.power", "Power of a DC-DC charger", "power", hint, whole=at)
    if value_at(data, at) is None:
        return (power,)
    return (power, Question(f"{at}.limit", "Most current it draws", "current"))


def appliance_sections(data: Mapping[str, Any], number: int) -> tuple[Section, ...]:
    """Return the questions about another load, counted from 1."""
    at = f"trailer.appliance[{number}]"
    keys = [row.key for row in functions() if row.kind in ("supply", "lamp")]
    return (
        Section(
            "The load",
            (
                Question(f"{at}.name", "What do you call it?"),
                Question(f"{at}.power", "Which power does it take?", "power"),
                Question(f"{at}.at", "At which voltage?", "voltage"),
                choose(f"{at}.law", "What is it?", *choices.LAWS),
                choose(
                    f"{at}.function", "Which circuit feeds it?", *choices.function_options(keys)
                ),
                Question(f"{at}.back", "How far behind the junction?", "length"),
            ),
        ),
        *_wiring(at, WIRE_TO_WIRE),
    )


def _wiring(at: str, joints: tuple[str, ...]) -> tuple[Section, ...]:
    wires = (
        Question(f"{at}.branch.size", "Wire from the run: size", "size"),
        Question(f"{at}.branch.length", "Wire from the run: length", "length"),
        Question(f"{at}.branch.colour", "Wire from the run: colour", "colour"),
        Question(f"{at}.ground.size", "Ground wire: size", "size"),
        Question(f"{at}.ground.length", "Ground wire: length", "length"),
        choose(f"{at}.joint", "How does it join the run?", *joint_options(joints)),
    )
    return (Section("Its wires and joint", wires, is_folded=True),)
