"""A light check of the demo rig, written by hand: quick to make, with words and numbers."""

from __future__ import annotations

from loomwright.lightcheck.model import Expectation, Plan, Step
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.store.checks_values import LightCheck, NewCheck, Stage
from loomwright.store.store import Store

SOCKET = "rear 7-way"


def lamp(command: str, load: str, word: Word) -> Expectation:
    return Expectation(
        key=f"{command} {load}",
        place=Place(PlaceKind.LOAD, load),
        title=f"{load} lamp",
        quantity=Quantity.SEEN,
        words=(word,),
        command=command,
        tester="trailer",
    )


def pin(command: str, number: str, low: float, high: float, **more: bool) -> Expectation:
    return Expectation(
        key=f"{command} pin {number}",
        place=Place(PlaceKind.PIN, SOCKET, number),
        title=f"pin {number} of the {SOCKET}",
        quantity=Quantity.VOLTS,
        low=low,
        nominal=(low + high) / 2 if low > 0 else 0.0,
        high=high,
        command=command,
        tester="meter",
        at="socket",
        **more,
    )


def step(command: str, hold: str, *expectations: Expectation, caution: str = "") -> Step:
    return Step(command, command, hold, True, "rear", expectations, caution)


LAMPS = (
    "left rear tail",
    "left rear left stop turn",
    "right rear tail",
    "right rear right stop turn",
)


def seen(command: str, lit: tuple[str, ...], word: Word = Word.NORMAL) -> tuple[Expectation, ...]:
    return tuple(lamp(command, each, word if each in lit else Word.OFF) for each in LAMPS)


PLAN = Plan(
    rig="Quillon van",
    tester="trailer+meter",
    people=2,
    steps=(
        step("rest", "Everything off, key out.", *seen("rest", ())),
        step("park", "Key on, engine off. Park lamps on.", *seen("park", (LAMPS[0], LAMPS[2]))),
        step(
            "left",
            "Key on, engine off. Left signal on.",
            *seen("left", (LAMPS[1],), Word.FLASHING),
            pin("left", "5", 11.8, 12.5),
            pin("left", "6", -0.5, 0.5),
        ),
        step(
            "brake_pedal",
            "Key on, engine off. Hold the brake pedal.",
            *seen("brake_pedal", (LAMPS[1], LAMPS[3])),
            caution="Wheels chocked.",
        ),
        step("hazard", "Hazard signals on.", *seen("hazard", (LAMPS[1], LAMPS[3]), Word.FLASHING)),
    ),
    walks=0,
    cautions=("Wheels chocked.",),
    not_tested=("brake amps: no clamp meter",),
)


def begun(store: Store, rig_id: str, stage: Stage = Stage.PLAIN) -> LightCheck:
    """The check, just begun."""
    return store.checks.begin(NewCheck(rig_id, 1, "Light check", stage, PLAN), "Ines")
