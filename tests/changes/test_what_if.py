"""What a change does before it is taken: told for the numbers, the findings and the file."""

from __future__ import annotations

from functools import cache

import pytest

import loomwright
from loomwright import examples
from loomwright.changes.change import changed
from loomwright.changes.changeable import changeables
from loomwright.changes.what_if import edits_for
from loomwright.checks.rule import Work
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.rig.read import read_job

TEXT = examples.text(examples.DEMO)


@cache
def demo() -> Work:
    return loomwright.survey(loomwright.read_rig(TEXT))


def test_a_thicker_brake_wire_gives_the_magnets_what_ohm_s_law_says() -> None:
    """By hand: the run's share of the drop falls as its resistance does; the rest hardly moves.

    14 AWG to 10 AWG is a factor of 2.53 in cross-section (ASTM B258: a ratio of 92^(1/39) between
    sizes in diameter, so 92^(8/39) in area over four sizes).
    """
    work = demo()
    answer = work.answers.at("park+brake_pedal")
    weakest = min((x for x in answer.loads if x.kind == "brake"), key=lambda each: each.voltage_v)
    run_v = sum(r.drop_v for r in weakest.ladder if r.part.ref.startswith("trailer.run.brake"))
    expected_v = weakest.voltage_v + run_v * (1.0 - 92.0 ** (-8.0 / 39.0))

    text = loomwright.what_if(work, TEXT, {"trailer.run.brake": "10 AWG"}).text
    after = loomwright.survey(loomwright.read_rig(text)).answers.at("park+brake_pedal")
    then = min((x for x in after.loads if x.kind == "brake"), key=lambda each: each.voltage_v)

    assert run_v > 0.2
    assert then.voltage_v == pytest.approx(expected_v, abs=0.15 * run_v)


@pytest.mark.parametrize("conditions", ["nominal", "dim", "engine-off"])
def test_what_moves_is_what_both_rigs_answer_under_these_conditions(conditions: str) -> None:
    result = loomwright.what_if(demo(), TEXT, {"trailer.run.brake": "10 AWG"}, conditions)
    brake = next(row for row in result.rows if row.words.startswith("Weakest brake magnet"))
    changed_rig = loomwright.survey(loomwright.read_rig(result.text))

    assert brake.word == "better"
    assert brake.before.startswith(f"{weakest_v(demo(), conditions):.3g}\u00a0V")
    assert brake.after.startswith(f"{weakest_v(changed_rig, conditions):.3g}\u00a0V")
    assert result.text == TEXT.replace('brake = "14 AWG"', 'brake = "10 AWG"')


def weakest_v(work: Work, conditions: str) -> float:
    """Volts at the magnet that has least, parking lights and pedal on."""
    loads = work.answers.at("park+brake_pedal", conditions).loads
    return min(load.voltage_v for load in loads if load.kind == "brake")


def test_everything_that_may_be_changed_can_be_written_and_read() -> None:
    """The first other choice of each value gives a rig that can be used."""
    known = changeables(demo().rig, read_job(TEXT), TEXT)
    tried = 0
    for each in known:
        other = next((x.value for x in each.options if x.value not in (each.now, "")), "")
        if other:
            loomwright.read_rig(changed(TEXT, edits_for(known, {each.path: other})))
            tried += 1
    assert tried > 30


def test_every_path_that_is_wrong_is_told_at_once_with_the_nearest() -> None:
    wrong = {"trailer.run.brakes": "10 AWG", "trailer.run.brake": " ", "moon": "1"}
    with pytest.raises(ExceptionGroup) as refused:
        loomwright.what_if(demo(), TEXT, wrong)
    told = {str(each.value): each for each in complaints_in(refused.value)}

    assert set(told) == {"trailer.run.brakes", " ", "moon"}
    assert "did you mean trailer.run.brake" in told["trailer.run.brakes"].fix


@pytest.mark.parametrize(
    ("path", "value", "conditions", "field"),
    [
        ("trailer.run.brake", "gauge ten", "nominal", "trailer.run.brake"),
        ("trailer.run.brake", "10 AWG", "dimm", "conditions"),
    ],
)
def test_what_cannot_be_used_is_told_by_its_field(
    path: str, value: str, conditions: str, field: str
) -> None:
    with pytest.raises(ExceptionGroup) as refused:
        loomwright.what_if(demo(), TEXT, {path: value}, conditions)
    (problem,) = complaints_in(refused.value)

    assert isinstance(problem, InvalidInput)
    assert (problem.field, problem.line) == (field, None)


def test_a_mend_comes_from_python_as_from_the_screen() -> None:
    work = demo()
    brake = next(each for each in loomwright.check(work) if each.rule == "BRAK03")
    change = loomwright.mend(work, TEXT, brake)

    assert change is not None
    again = loomwright.survey(loomwright.read_rig(changed(TEXT, change.edits)))
    assert "BRAK03" not in {each.rule for each in loomwright.check(again)}
