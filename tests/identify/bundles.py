"""Small bundles, and what brute force says of them, from the tables alone."""

import csv
import itertools
import math
from collections import defaultdict
from importlib.resources import files

from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.commands import COMMANDS
from loomwright.identify.reading import Reading

WORDS = ("nothing", "partial", "steady", "flashing", "pulsed")
OHMS = ("low ohms", "some ohms", "open")
DROPS = ("small drop", "some drop", "full drop")
FEEDINGS = {"shared": 0.5, "module": 0.4, "sleeping": 0.1}
VOLT_SLIPS = dict(zip(WORDS, (0.4, 0.15, 0.3, 0.075, 0.075), strict=True))
KEY = {each.key: str(each.ignition) for each in COMMANDS}


def table(name: str) -> list[dict[str, str]]:
    text = files("loomwright.identify").joinpath(f"{name}.csv").read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


FUNCTIONS = {row["function"]: row for row in table("identified_functions")}
MODES = defaultdict(list)
for _row in table("behaviours"):
    MODES[_row["function"]].append(_row)
SIGHTS = {(r["state"], r["tester"]): [float(r[w]) for w in WORDS] for r in table("sights")}
GROUND_TESTS = table("ground_tests")


def small_bundle(**changed: object) -> Bundle:
    """Three wires, few functions: all of it can be enumerated."""
    given: dict[str, object] = {
        "wires": (Wire("1"), Wire("2"), Wire("3")),
        "functions": ("ground", "tail", "left_turn", "stop", "left_stop_turn", "battery"),
    }
    return Bundle(**(given | changed))  # type: ignore[arg-type]


def states(row: dict[str, str], command: str) -> dict[str, float]:
    if command in row["flashing"].split(";"):
        return {"flashing": 1.0}
    under = row["under"].split(";")
    live = (
        command in under
        or "@any" in under
        or ("@key" in under and KEY[command] != "off")
        or ("@engine" in under and KEY[command] == "engine running")
    )
    if live:
        return {row["state"]: 1.0}
    if command in row["perhaps"].split(";"):
        return {row["state"]: 0.5, "off": 0.5}
    return {"off": 1.0}


def likelihood(row: dict[str, str], feeding: str, reading: Reading, wrong_rate: float) -> float:
    kind = FUNCTIONS[row["function"]]["kind"]
    if reading.command in ("ohms", "drop"):
        (found,) = (
            each
            for each in GROUND_TESTS
            if (each["kind"], each["test"]) == (kind, reading.command)
            and each["feeding"] in ("any", feeding)
        )
        words = OHMS if reading.command == "ohms" else DROPS
        right = float(found[("low", "middle", "high")[words.index(reading.seen)]])
        return (1 - wrong_rate) * right + wrong_rate / 3
    dead = "floating" if kind == "lamp" and feeding != "shared" else "off"
    right = 0.0
    for state, share in states(row, reading.command).items():
        awake = 1.0
        if state != "off" and (
            row["needs_load"] == "true" or (kind == "lamp" and feeding == "sleeping")
        ):
            awake = 0.9 if reading.tester == "lamp" else 0.0
        place = WORDS.index(reading.seen)
        live = SIGHTS[state if state != "off" else dead, reading.tester][place]
        right += share * (awake * live + (1 - awake) * SIGHTS[dead, reading.tester][place])
    return (1 - wrong_rate) * right + wrong_rate * VOLT_SLIPS[reading.seen]


def enumerated(bundle: Bundle, readings: tuple[Reading, ...]) -> dict[tuple[object, ...], float]:
    """Probability of each (signalling, feeding, assignment), one by one."""
    found: dict[tuple[object, ...], float] = {}
    for signalling in bundle.signallings:
        open_ones = [
            f for f in bundle.open_functions if FUNCTIONS[f]["signalling"] in ("any", signalling)
        ]
        ways = [
            each
            for each in itertools.product(open_ones, repeat=len(bundle.wires))
            if all(each.count(f) <= 1 for f in open_ones if f not in bundle.several_of)
        ]
        prior = {w: math.prod(float(FUNCTIONS[f]["commonness"]) for f in w) for w in ways}
        whole = sum(prior.values())
        feedings = {f: FEEDINGS[f] for f in bundle.feedings}
        for feeding, share in feedings.items():
            for way, weight in prior.items():
                p = weight / whole * share
                for wire, function in zip(bundle.wires, way, strict=True):
                    p *= sum(
                        float(mode["share"])
                        * math.prod(
                            likelihood(mode, feeding, each, bundle.wrong_rate)
                            for each in readings
                            if each.wire == wire.key
                        )
                        for mode in MODES[function]
                    )
                found[signalling, feeding, way] = p
    total = sum(found.values())
    return {key: p / total for key, p in found.items()}


def entropy(shares: object) -> float:
    return -sum(p * math.log2(p) for p in shares if p > 0.0)  # type: ignore[attr-defined]
