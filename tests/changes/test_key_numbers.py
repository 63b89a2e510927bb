"""The numbers that tell how a rig does, and what a change does to them."""

from functools import cache

import pytest
from tests.solved_examples import EXAMPLES, rig_of, text_of, work_of

from loomwright.changes.change import Edit, changed
from loomwright.changes.changeable import changeables
from loomwright.changes.key_numbers import (
    Moved,
    Number,
    compared,
    key_numbers,
    solve_telling,
    telling_commands,
)
from loomwright.electrics.answers import Answers
from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.conductors import resistance_ohm_per_m
from loomwright.rig.model import Returns
from loomwright.rig.read import read_job, read_rig


def answers_of(name: str) -> Answers:
    return work_of(name).answers


@cache
def numbers_of(name: str) -> tuple[Number, ...]:
    return key_numbers(rig_of(name), solve_telling(rig_of(name)))


def after(name: str, *edits: Edit) -> tuple[Moved, ...]:
    rig = read_rig(changed(text_of(name), edits))
    return compared(numbers_of(name), key_numbers(rig, solve_telling(rig)))


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_telling_commands_light_every_lamp_and_load_every_magnet(name: str) -> None:
    rig = rig_of(name)
    cases = solve_telling(rig)

    commanded = {load.element for case in cases.values() for load in case.loads if load.commanded}
    known = answers_of(name)
    ever = {
        load.element
        for command in known.commands
        for load in known.at(command).loads
        if load.commanded
    }
    assert commanded == ever
    assert set(cases) == {command.key for command in telling_commands(rig)}


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_tells_most_is_read_as_in_the_whole_answers(name: str) -> None:
    """The whole answers are solved in other company, with the plug pulled too, and ladders."""
    for command, gist in solve_telling(rig_of(name)).items():
        whole = answers_of(name).at(command)

        assert gist.supply_current_a == pytest.approx(whole.supply_current_a, rel=1e-9)
        for load in gist.loads:
            known = whole.load(load.name)
            rungs = [rung.part.function for rung in known.ladder if rung.part.path == "return"]
            assert load.home == (rungs[0] if rungs else ""), load.name
            assert (load.word, load.commanded) == (known.word, known.commanded), load.name
            assert load.voltage_v == pytest.approx(known.voltage_v, rel=1e-9, abs=1e-9)
            assert load.return_drop_v == pytest.approx(known.return_drop_v, rel=1e-9, abs=1e-9)
        shares = [wire.share for wire in whole.conductors]
        assert [wire.share for wire in gist.conductors] == pytest.approx(shares, rel=1e-9, abs=1e-9)
        assert [f.share for f in gist.fuses] == pytest.approx([f.share for f in whole.fuses])


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_number_is_the_worst_of_its_kind(name: str) -> None:
    cases = solve_telling(rig_of(name))
    by_key = {number.key: number for number in numbers_of(name)}

    for command, case in cases.items():
        if command == "all":
            continue
        for load in case.loads:
            if load.kind == "lamp" and load.commanded and load.light_share is not None:
                assert by_key[f"lamp {load.function}"].value <= load.light_share * (1 + 1e-9)
            if load.kind == "brake" and load.commanded:
                assert by_key["brake"].value <= load.voltage_v * (1 + 1e-9)


def test_nothing_moves_where_nothing_changes() -> None:
    assert compared(numbers_of("utility-rewire"), numbers_of("utility-rewire")) == ()


def test_thicker_wire_is_never_worse_for_a_load() -> None:
    """Less resistance in a series path gives the load more: Ohm's law."""
    moved = after("utility-rewire", Edit("trailer.run.tail", "8 SAE"))

    loads = [each for each in moved if each.after is not None and each.after.group == "load"]
    assert any("tail" in each.words for each in loads)
    assert all(each.gain > -0.02 for each in loads)


def test_a_thicker_ground_loses_less() -> None:
    """The drop of a wire goes with its resistance; the return's other parts stay as they are."""
    size = rig_of("utility-rewire").trailer.run["ground"]
    assert resistance_ohm_per_m(WireSize("sae", "8")) < resistance_ohm_per_m(size) / 2
    moved = after("utility-rewire", Edit("trailer.run.ground", "8 SAE"))

    (home,) = [each for each in moved if each.words.startswith("lost on the way home")]
    assert home.before is not None
    assert home.after is not None
    assert home.after.value < home.before.value
    assert home.gain > 0


def test_what_is_there_only_once_is_told_as_new() -> None:
    number = Number("lamp fog", "load", "fog lamps", 0.8, "12 V", "lamp_fog", "fog")

    (come,), (gone,) = compared((), (number,)), compared((number,), ())
    assert come.before is None
    assert gone.after is None
    assert come.gain == gone.gain == 0.0


def test_idle_fuses_and_wires_are_left_in_peace() -> None:
    quiet = [
        Number("fuse f", "fuse", "fuse", share, f"{share:.0%}", "f", "park") for share in (0.1, 0.2)
    ]
    busy = [
        Number("fuse f", "fuse", "fuse", share, f"{share:.0%}", "f", "park") for share in (0.4, 0.6)
    ]

    assert compared((quiet[0],), (quiet[1],)) == ()
    (moved,) = compared((busy[0],), (busy[1],))
    assert moved.gain < 0


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_option_can_be_written_and_read(name: str) -> None:
    text, rig, job = text_of(name), rig_of(name), read_job(text_of(name))
    for what in changeables(rig, job, text):
        for option in [each for each in what.options if each.value != what.now][-1:]:
            try:
                read_rig(changed(text, (Edit(what.path, option.value),)))
            except* InvalidInput as refused:
                said = str(refused.exceptions[0])
                raise AssertionError(f"{what.words}: {option.value}: {said}") from None


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_it_is_now_is_among_what_it_could_be(name: str) -> None:
    for what in changeables(rig_of(name), read_job(text_of(name)), text_of(name)):
        if what.options and not what.is_typed:
            assert what.now in {option.value for option in what.options}, what.words


@pytest.mark.parametrize("name", EXAMPLES)
def test_writing_what_it_is_now_changes_nothing(name: str) -> None:
    text, rig = text_of(name), rig_of(name)
    for what in changeables(rig, read_job(text), text):
        if what.now and what.subject not in ("length", "back", "joint"):
            again = read_rig(changed(text, (Edit(what.path, what.now),)))
            assert again.trailer == rig.trailer, what.words
            assert again.vehicle == rig.vehicle, what.words


def test_words_tell_a_pair_of_lamps_from_one() -> None:
    text = text_of("utility-rewire")
    words = [each.words for each in changeables(rig_of("utility-rewire"), read_job(text), text)]

    assert any("front marker" in each and each.endswith("both sides") for each in words)
    assert not any("plate" in each and each.endswith("both sides") for each in words)


def test_the_frame_may_be_tried_against_a_wire() -> None:
    assert rig_of("horse-trailer-van").trailer.returns is Returns.FRAME
    moved = after(
        "horse-trailer-van",
        Edit("trailer.returns", "wire"),
        Edit("trailer.run.ground", "6 AWG"),
    )

    (home,) = [each for each in moved if each.words == "lost on the way home, ground"]
    assert home.gain > 0
