"""A light check for the tests: three lamps and a pin, written by hand."""

from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing, Step
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.store.checks_values import Given, LightCheck, NewCheck, Stage
from loomwright.store.store import Store

LEFT = Expectation(
    "left/lamp",
    Place(PlaceKind.LOAD, "left rear lamp"),
    "left rear lamp, signal",
    Quantity.SEEN,
    words=(Word.FLASHING,),
    why="band of 90 % of healthy rigs",
)
RIGHT = Expectation(
    "left/right", Place(PlaceKind.LOAD, "right rear lamp"), "right rear lamp", Quantity.SEEN
)
PIN = Expectation(
    "park/pin",
    Place(PlaceKind.PIN, "socket", "1"),
    "pin 1 of the socket",
    Quantity.VOLTS,
    low=11.5,
    nominal=12.25,
    high=13.0,
    plugged=False,
)
PLAN = Plan(
    rig="Marsh Hollow flatbed",
    tester="meter",
    people=2,
    steps=(
        Step("left", "left", "LEFT SIGNAL ON", True, "rear", (LEFT, RIGHT)),
        Step("park", "park", "PARK LAMPS ON", True, "socket", (PIN,), "Chock the wheels."),
    ),
    walks=2,
    cautions=("Chock the wheels.",),
    not_tested=("brakes: no tester",),
)


def seen(word: Word = Word.OFF, command: str = "left") -> Observation:
    return Observation(command, LEFT.place, Quantity.SEEN, word)


def read(value: float) -> Observation:
    return Observation(
        "park", PIN.place, Quantity.VOLTS, value=value, tester="meter", plugged=False
    )


def wrong(word: Word = Word.OFF, standing: Standing = Standing.WRONG) -> Answer:
    return Answer(LEFT, seen(word), standing, "no ground at the lamp")


def begun(store: Store, rig_id: str, stage: Stage = Stage.PLAIN) -> LightCheck:
    """A light check of a rig that has just begun."""
    return store.checks.begin(NewCheck(rig_id, 1, "Light check", stage, PLAN), "Kim")


def add_check(store: Store, rig_id: str) -> LightCheck:
    """A light check with an answer that is normal for the vehicle."""
    check = begun(store, rig_id)
    usual = Answer(LEFT, seen(), Standing.USUAL, "needs a trailer")
    not_tested = Answer(PIN, None, Standing.NOT_TESTED)
    return store.checks.give(check.id, Given("b" * 16, (usual, not_tested), 1), "Søren")
