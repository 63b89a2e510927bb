"""Input no network can be made of is refused, with the field and the mend."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from loomwright.circuit import (
    Case,
    ConstantPower,
    Element,
    Filament,
    Fuse,
    LedString,
    Load,
    Network,
    Ohmic,
    Pulsed,
    Resistor,
    Source,
    Switch,
    Transformed,
    solve,
)
from loomwright.invalid import InvalidInput

LAMP = Filament(12.8, 2.1)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Resistor("r", "a", "b", 0.0),
        lambda: Resistor("r", "a", "b", -1.0),
        lambda: Resistor("r", "a", "b", math.nan),
        lambda: Resistor("r", "a", "a", 1.0),
        lambda: Resistor(" ", "a", "b", 1.0),
        lambda: Resistor("r", "", "b", 1.0),
        lambda: Switch("s", "a", "b", -0.1, closed=True),
        lambda: Fuse("f", "a", "b", 0.01, 0.0),
        lambda: Fuse("f", "a", "b", 0.01, 10.0, opens_at=math.nan),
        lambda: Source("v", "a", "b", math.nan, 0.1),
        lambda: Source("v", "a", "b", math.inf, 0.1),
        lambda: Source("v", "a", "b", 12.0, 0.0),
        lambda: ConstantPower("p", "a", "b", -3.0, 7.0, 8.0),
        lambda: ConstantPower("p", "a", "b", 3.0, 7.0, 6.0),
        lambda: ConstantPower("p", "a", "b", 3.0, 7.0, math.nan),
        lambda: Transformed("t", "a", "b", "c", "b", 12.0, 0.1, 1.1, 5.0, 9.0),
        lambda: Transformed("t", "a", "b", "c", "b", 12.0, 0.1, 0.9, math.inf, 9.0),
        lambda: Filament(0.0, 2.1),
        lambda: Filament(12.8, 2.1, 30.0),
        lambda: LedString(7.0, 19.3, 0.0),
        lambda: Ohmic(math.nan),
        lambda: Pulsed(LAMP, 0.0, "heats"),
        lambda: Pulsed(LAMP, 1.5, "heats"),
    ],
)
def test_impossible_elements_and_laws(make: Callable[[], object]) -> None:
    with pytest.raises(InvalidInput):
        make()


def small(*more: Element) -> Network:
    return Network([Source("battery", "a", "0", 12.0, 0.1), Load("lamp", "a", "0", LAMP), *more])


def messages(raised: pytest.ExceptionInfo[ExceptionGroup[InvalidInput]]) -> str:
    return " | ".join(str(problem) for problem in raised.value.exceptions)


def test_a_network_names_every_problem_at_once() -> None:
    with pytest.raises(ExceptionGroup) as raised:
        Network(
            [
                Resistor("r", "a", "b", 1.0),
                Resistor("r", "b", "c", 1.0),
                Resistor("s", "b", "c", 1.0),
                Resistor("s", "b", "c", 1.0),
            ]
        )

    assert len(raised.value.exceptions) == 3
    assert "use each name once" in messages(raised)
    assert "reference is '0'" in messages(raised)


def test_a_case_names_every_problem_at_once() -> None:
    case = Case(
        resistance_ohm={"nobody": 1.0, "lamp": 2.0, "battery": -1.0},
        closed={"battery": True},
        power_w={"lamp": 3.0},
    )
    with pytest.raises(ExceptionGroup) as raised:
        solve(small(), case)

    assert len(raised.value.exceptions) == 5
    assert "case.resistance_ohm[nobody] is 1.0: name an element of the network" in messages(raised)
    assert "battery.resistance_ohm is -1.0" in messages(raised)
    assert "case.closed[battery] is True: name a Switch or Fuse" in messages(raised)


def test_a_solution_knows_its_nodes_and_elements() -> None:
    solution = solve(small())

    with pytest.raises(InvalidInput, match="name a node"):
        solution.voltage_v("nowhere")
    with pytest.raises(InvalidInput, match="name an element"):
        solution.across_v("nobody")


def test_a_network_cannot_name_an_element_it_does_not_have() -> None:
    with pytest.raises(InvalidInput, match="name an element"):
        small().element("nobody")
