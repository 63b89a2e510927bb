"""`loomwright identify`: begun, broken off, resumed; told as a page and as JSON."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from loomwright import examples
from loomwright.cli.identify_file import Work, open_work, read_work, save_work
from loomwright.cli.identify_talk import talk
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.seen import Seen

Run = Callable[..., tuple[int, str, str]]

READINGS = (
    *(("rest", "1", 0.0), ("ohms", "1", 0.3), ("drop", "1", 0.04), ("park", "2", 12.3)),
    *(("park", "2", 12.3), ("rest", "2", 0.0), ("brake_pedal", "2", 0.0)),
)


def answering(*said: str) -> Callable[[str], str]:
    """Answer prompts one by one; then the end of the input."""
    left: Iterator[str] = iter(said)

    def ask(prompt: str) -> str:
        try:
            return next(left)
        except StopIteration:
            raise EOFError from None

    return ask


def test_a_new_bundle_is_begun_and_its_first_question_and_cautions_are_shown(
    run: Run, tmp_path: Path
) -> None:
    file = tmp_path / "bundle.json"
    code, out, err = run("identify", "--readings", file, "--wires", "1=yellow, 2=brown, 3")

    assert (code, err) == (1, "")
    assert "airbag" in out
    assert out.index("airbag") < out.index("Next: wire")
    assert [wire.key for wire in read_work(file).bundle.wires] == ["1", "2", "3"]
    assert max(map(len, out.splitlines())) <= 80


def test_readings_settle_wires_and_the_exit_code_says_so(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "bundle.json"
    bundle = {"wires": ["1", "2"], "functions": ["ground", "tail", "stop"]}
    readings = [{"command": held, "wire": wire, "value": v} for held, wire, v in READINGS]
    file.write_text(json.dumps({"bundle": bundle, "readings": readings}), "utf-8")

    code, out, _ = run("identify", "--readings", file, "--json")
    told = json.loads(out)

    assert code == 0
    assert told["settled"]
    assert told["next"] is None
    assert [each["function"] for each in told["wire_map"]] == ["ground", "tail"]
    assert told["readings"][1] == {
        "command": "ohms",
        "wire": "1",
        "tester": "meter",
        "seen": "low ohms",
        "value": 0.3,
    }


def test_a_job_file_says_which_functions_to_expect(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(examples.text("utility-rewire"), "utf-8")

    code, out, _ = run("identify", job, "--wires", "a,b", "--json")

    assert code == 1
    assert {"ground", "tail", "left_turn", "left_stop_turn"} <= set(
        json.loads(out)["bundle"]["functions"]
    )


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("{", "as JSON"),
        ("[]", "begun by identify"),
        ('{"bundle": {"wires": ["1"], "functions": ["tail"]}, "readings": [1]}', "readings[0]"),
    ],
)
def test_a_file_that_cannot_be_used_is_told_and_left_as_it_is(
    run: Run, tmp_path: Path, content: str, said: str
) -> None:
    file = tmp_path / "bundle.json"
    file.write_text(content, "utf-8")

    code, out, err = run("identify", "--readings", file)

    assert (code, out) == (2, "")
    assert said in err
    assert file.read_text("utf-8") == content


def test_every_bad_value_of_a_new_bundle_is_told_at_once(run: Run) -> None:
    code, _, err = run(
        "identify", "--wires", "1=mauvish,2", "--testers", "nose", "--functions", "x"
    )

    assert code == 2
    assert "identify.wires[0].colour" in err
    assert "identify.testers" in err


def test_a_talk_keeps_every_answer_and_goes_on_where_it_was_broken_off(tmp_path: Path) -> None:
    file = tmp_path / "bundle.json"
    begun = Work(Bundle((Wire("1"), Wire("2")), ("ground", "tail", "stop")))

    talk(begun, lambda work: save_work(file, work), answering("", "0.1", "0,4", "banana", "sm"))
    first = read_work(file)
    talk(first, lambda work: save_work(file, work), answering("b", "q"))
    second = read_work(file)

    assert [each.seen for each in first.readings] == [Seen.NOTHING, Seen.LOW, Seen.SMALL_DROP]
    assert [each.value for each in first.readings] == [0.1, 0.4, None]
    assert second.readings == first.readings[:-1]


def test_the_words_for_key_out_and_key_on_are_offered_and_taken_back_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "bundle.json"
    begun = Work(Bundle((Wire("1"), Wire("2")), ("ground", "battery", "ignition")))

    talk(begun, lambda work: save_work(file, work), answering("", "live a"))
    first = read_work(file)
    talk(first, lambda work: save_work(file, work), answering("b", "live w", "q"))
    second = read_work(file)

    shown = capsys.readouterr().out
    assert "live always" in shown
    assert "live with ignition" in shown
    assert [(each.command, each.seen) for each in first.readings] == [
        ("rest", Seen.STEADY),
        ("key_on", Seen.STEADY),
    ]
    assert [(each.command, each.seen) for each in second.readings] == [
        ("rest", Seen.NOTHING),
        ("key_on", Seen.STEADY),
    ]


def test_what_this_vehicle_cannot_do_is_not_asked_again(tmp_path: Path) -> None:
    begun = Work(Bundle((Wire("1"),), ("tail", "fog", "reverse")))
    kept: list[Work] = []

    talk(begun, kept.append, answering("", "x"))

    assert len(kept[-1].bundle.commands) == len(begun.bundle.commands) - 1


def test_nobody_begins_without_wires() -> None:
    with pytest.raises(ValueError, match="name the wires"):
        open_work(None, "", {"functions": "", "testers": "meter"}, None)
