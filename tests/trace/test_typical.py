"""Typical rigs: what is answered holds in all of them, what is not stays open."""

from __future__ import annotations

import pytest

from loomwright.cli import main
from loomwright.rig.model import Braking, Bulb, ConverterKind, Led, SocketFeed
from loomwright.trace.typical import ASKS, CONNECTORS, read_answers, rigs_for, usual_answers


@pytest.mark.parametrize("connector", sorted(CONNECTORS))
def test_every_connector_makes_rigs_whose_weights_sum_to_one(connector: str) -> None:
    rigs = rigs_for({"connector": connector})

    assert sum(each.weight for each in rigs) == pytest.approx(1.0)
    assert {each.rig.trailer.plug for each in rigs} == {CONNECTORS[connector]}
    assert all(each.rig.trailer.lamps for each in rigs)


def test_what_is_answered_holds_and_what_is_not_stays_open() -> None:
    rigs = rigs_for({"connector": "7-way", "brakes": "electric", "magnets": "6", "lamps": "led"})

    assert {len(each.rig.trailer.brakes) for each in rigs} == {6}
    assert {each.rig.trailer.braking for each in rigs} == {Braking.ELECTRIC}
    sources = [
        light.source for each in rigs for lamp in each.rig.trailer.lamps for light in lamp.lights
    ]
    assert all(isinstance(source, Led) for source in sources)
    assert {each.rig.vehicle.socket_feed for each in rigs} >= {SocketFeed.SHARED, SocketFeed.MODULE}
    assert len({each.rig.trailer.returns for each in rigs}) == 2


def test_open_answers_come_up_about_as_often_as_they_are_usual() -> None:
    lamps = next(ask for ask in ASKS if ask.key == "lamps")
    rigs = rigs_for({"connector": "7-way"}, rigs=31)

    for answer, usual in lamps.usual.items():
        share = sum(each.weight for each in rigs if each.answers["lamps"] == answer)
        assert share == pytest.approx(usual, abs=1.5 / 31)


def test_the_usual_is_taken_where_nobody_says_and_goes_with_what_is_said() -> None:
    assert usual_answers({})["connector"] == "7-blade"
    european = usual_answers({"connector": "13-pin", "lamps": "led"})

    assert (european["lamps"], european["returns"], european["brakes"]) == ("led", "wire", "surge")
    assert set(european) == {ask.key for ask in ASKS}
    with pytest.raises(ExceptionGroup):
        usual_answers({"connector": "moon", "lamps": "candles"})


def test_each_default_is_an_assumption_with_its_source() -> None:
    for each in rigs_for({"connector": "4-flat"}):
        assert len(each.rig.assumptions) > 20
        assert all(assumption.source for assumption in each.rig.assumptions)


def test_a_converter_stands_between_separate_and_combined_lamps() -> None:
    for each in rigs_for({"connector": "7-way", "converter": "yes"}):
        assert each.rig.converter is not None
        assert each.rig.converter.kind is ConverterKind.COMBINE


def test_filament_trailers_have_bulbs() -> None:
    for each in rigs_for({"connector": "13-pin", "lamps": "filament"}):
        sources = [light.source for lamp in each.rig.trailer.lamps for light in lamp.lights]
        assert all(isinstance(source, Bulb) for source in sources)


def test_answers_are_read_and_all_bad_ones_told_at_once() -> None:
    assert read_answers("connector=7-way, lamps = led") == {"connector": "7-way", "lamps": "led"}
    with pytest.raises(ExceptionGroup) as refused:
        read_answers("conector=7-way,lamps=candles,feed=shared")
    assert {each.field for each in refused.value.exceptions} == {  # type: ignore[attr-defined]
        "typical.conector",
        "typical.lamps",
    }
    with pytest.raises(ExceptionGroup, match="typical"):
        read_answers("connector")


ANSWERS = "connector=4-flat,lamps=filament,feed=shared,returns=wire,length=short,brakes=none"


@pytest.mark.slow
def test_the_command_traces_a_rig_that_is_not_described(capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["trace", "--typical", f"{ANSWERS},converter=no", "--seen", "park: left rear off"])
    out, err = capsys.readouterr()

    assert code in (0, 1)
    assert err == ""
    assert "What may be wrong" in out
    assert "left rear" in out


def test_the_command_tells_every_answer_it_cannot_use(capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["trace", "--typical", "connector=9-way,lamps=candles", "--json"])
    _, err = capsys.readouterr()

    assert code not in (0, 1)
    assert "9-way" in err
    assert "candles" in err


def test_the_command_without_rig_says_what_to_give(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trace", "--seen", "park: left rear off"]) not in (0, 1)
    assert "--typical" in capsys.readouterr().err
