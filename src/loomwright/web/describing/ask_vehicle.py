"""Questions about the job, the vehicle and its circuits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from loomwright.colours import legends
from loomwright.reference.functions import functions
from loomwright.rig.entries import NO_FUSE
from loomwright.web.describing import choices
from loomwright.web.describing.questions import Option, Question, Section, choose, flag
from loomwright.web.describing.writing import entries_at, value_at

SYSTEM = (Option("12 V", "12\u00a0V"), Option("24 V", "24\u00a0V"))
NO_FUSE_HERE = (Option(NO_FUSE, "No fuse", "none was found on this wire"),)


def job_sections(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the questions about the job itself."""
    people = (
        Question("rig.customer", "Customer"),
        Question("rig.technician", "Who does the work"),
        Question("rig.shop", "Shop, for the head of the sheet"),
        Question("rig.date", "Day of the job", "date", "Year, month, day: 2026-05-14."),
        Question("rig.notes", "What the next person should know", "notes"),
    )
    return (
        Section(
            "The job",
            (
                Question("rig.name", "What do you call this job?"),
                Question("rig.kind", "What is done?", hint="In your own words."),
                choose("rig.jurisdiction", "Whose rules hold?", *choices.jurisdiction_options()),
                flag("rig.commercial", "Is it a commercial vehicle?", "Yes", "No, private use"),
                *_towing(data),
            ),
        ),
        Section("For the sheet", people),
    )


def _towing(data: Mapping[str, Any]) -> tuple[Question, ...]:
    sockets = entries_at(data, "socket")
    if len(sockets) < 2:
        return ()
    names = [str(one.get("name") or one.get("connector") or "") for one in sockets]
    options = (Option(name, name) for name in names if name)
    return (choose("rig.towing", "Which socket does the trailer plug into?", *options),)


def vehicle_sections(data: Mapping[str, Any]) -> tuple[Section, ...]:
    """Return the questions about the vehicle: what it is, its signals, its supply."""
    return (
        Section("The vehicle", _what_it_is()),
        Section("How it signals", _how_it_signals()),
        Section("Battery and alternator", _supply(), "Measured at the battery posts.", True),
        Section("Brake controller", _controller(data)),
        Section("Ground", _ground(), is_folded=True),
        Section("Notes", (Question("vehicle.notes", "What else was seen", "notes"),), "", True),
    )


def _what_it_is() -> tuple[Question, ...]:
    hint = "17 characters, on the plate behind the windscreen. The check digit is tested."
    return (
        Question("vehicle.name", "What do you call it?"),
        choose("vehicle.voltage", "Which voltage?", *SYSTEM),
        Question("vehicle.vin", "Identification number", "vin", hint),
    )


def _how_it_signals() -> tuple[Question, ...]:
    manuals = (Option(key, says) for key, says in legends().items())
    return (
        choose("vehicle.signals", "How do its rear lamps stop and turn?", *choices.SIGNALS),
        choose("vehicle.socket_feed", "What feeds the trailer wires?", *choices.SOCKET_FEEDS),
        choose("vehicle.lamp_drive", "How are its lamps driven?", *choices.LAMP_DRIVES),
        choose(
            "vehicle.legend",
            "Whose colour letters does its manual use?",
            *manuals,
            hint="Only if the colours were copied in letters that mean others elsewhere.",
        ),
    )


def _supply() -> tuple[Question, ...]:
    at = "vehicle.supply"
    return (
        Question(f"{at}.resting", "Engine off, after an hour", "voltage"),
        Question(f"{at}.running", "Engine running", "voltage"),
        Question(f"{at}.idle", "Low idle, lamps on", "voltage"),
        flag(f"{at}.managed", "Does it vary its charging as it drives?"),
        Question(f"{at}.low", "Lowest while running", "voltage"),
        Question(f"{at}.high", "Highest while running", "voltage"),
        Question(f"{at}.resistance", "Resistance of the battery", "resistance"),
    )


def _controller(data: Mapping[str, Any]) -> tuple[Question, ...]:
    at = "vehicle.brake_controller"
    options = (Option("yes", "There is one"), Option("no", "There is none"))
    asked = Question(at, "Is there a brake controller?", "table", options=options)
    if value_at(data, at) is None:
        return (asked,)
    return (
        asked,
        Question(f"{at}.limit", "Most current it gives", "current"),
        Question(f"{at}.output", "Its full output, of the supply voltage", "share"),
        flag(f"{at}.lever_lights_stop_lamps", "Does the hand lever light the stop lamps?"),
    )


def _ground() -> tuple[Question, ...]:
    at = "vehicle.ground"
    return (
        Question(f"{at}.size", "Cable from battery negative to the chassis", "size"),
        Question(f"{at}.length", "Its length", "length"),
        Question("vehicle.chassis", "Chassis, battery ground to the socket", "resistance"),
    )


def feed_sections(data: Mapping[str, Any], number: int) -> tuple[Section, ...]:
    """Return the questions about one circuit of the vehicle, counted from 1."""
    at = f"vehicle.feed[{number}]"
    keys = [row.key for row in functions() if row.kind != "return"]
    function = value_at(data, f"{at}.function")
    hint = "As in the vehicle's manual: GY/BK, grey with black stripe, 18 LB/YL."
    own = "Numbers on their caps, a comma between: R5W, R5W."
    return (
        Section(
            "The wire",
            (
                Question(f"{at}.colour", "Which colour?", "colour", hint),
                Question(f"{at}.size", "How thick?", "size"),
                Question(f"{at}.length", "How long, from its fuse to the joint?", "length"),
                Question(f"{at}.fuse", "Which fuse?", "fuse", options=NO_FUSE_HERE),
                Question(f"{at}.found", "Where was it found?"),
            ),
        ),
        Section(
            "What else shares it",
            (
                Question(f"{at}.lamps", "Lamps of the vehicle on this wire", "lamps", own),
                choose(f"{at}.live", "When is it live?", *choices.LIVE),
                flag(f"{at}.new", "Is it run in this job?", "Yes, new", "No, it was there"),
            ),
        ),
        Section(
            "More",
            (
                Question(f"{at}.duty", "If it is pulsed, how much of the time is it on?", "share"),
                choose(f"{at}.insulation", "Which insulation?", *choices.insulation_options()),
                choose(
                    f"{at}.function",
                    "What does it do?",
                    *choices.function_options([str(function or ""), *keys]),
                ),
            ),
            is_folded=True,
        ),
    )
