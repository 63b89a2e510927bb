"""The folded ladder of every load of every example."""

import pytest
from tests.drawing.text_boxes import clipped, overlapping, page_of, words_of
from tests.solved_examples import EXAMPLES, work_of

from loomwright.drawing.folded_ladder import drop_bar, folded_ladder
from loomwright.electrics.answers import Answers
from loomwright.quantities import show_voltage


def answers_of(name: str) -> Answers:
    return work_of(name).answers


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_ladder_clips_or_overlaps(name: str) -> None:
    every = answers_of(name)
    for answer in (every.at(command) for command in every.commands):
        for load in answer.loads:
            for svg in (folded_ladder(load), drop_bar(load)):
                assert clipped(svg) == [], load.name
                assert overlapping(svg) == [], load.name
                assert page_of(svg).width == 96.0


def test_every_volt_is_told_once() -> None:
    """Kirchhoff: out, load and home make the EMF; so do the steps of each way."""
    load = next(
        each
        for each in answers_of("second-socket-flatbed").at("park+brake_pedal").loads
        if each.name.startswith("left brake")
    )
    words = words_of(folded_ladder(load))

    assert f"out {show_voltage(load.supply_drop_v)}" in words
    assert f"home {show_voltage(load.return_drop_v)}" in words
    assert show_voltage(load.voltage_v) in words
