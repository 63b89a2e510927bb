"""The command that traces: its page, its JSON, its conversation, what it refuses."""

import io
import json
from pathlib import Path

import pytest

from loomwright import examples, find_faults, read_rig
from loomwright.cli import main
from loomwright.observations.observation import to_plain
from loomwright.trace.phrases import read_phrase


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "job.toml"
    file.write_text(examples.text("utility-rewire"), "utf-8")
    return file


def test_the_page_ranks_says_why_and_what_to_look_at(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["trace", str(job), "--seen", "left: left rear dark, left rear tail flashes"])
    out, err = capsys.readouterr()

    assert (code, err) == (0, "")
    for part in ("What may be wrong", "By side:", "speaks for it", "Look at next", "Hold:"):
        assert part in out
    assert "ground of the left rear lamp: open" in out
    assert max(map(len, out.splitlines())) <= 80


def test_json_sums_to_one_and_carries_observations_back(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = "park: tail lamps dark; tail fuse blown"
    code = main(["trace", str(job), "--seen", said, "--json"])
    found = json.loads(capsys.readouterr().out)

    assert code == 0
    total = sum(each["probability"] for each in found["faults"]) + found["others"]
    assert total + found["none_of_these"] + found["normal"] == pytest.approx(1.0)
    rig = read_rig(job.read_text("utf-8"))
    assert found["observations"] == [to_plain(each) for each in read_phrase(said, rig)]
    assert found["next"][0]["outcomes"][0]["means"]


def test_a_sure_cause_ends_with_the_repair_and_one(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = (
        "left: left rear stop dark, left rear tail off; park+left: left rear tail normal, "
        "left rear stop dark; brake: left rear stop dark; park: left rear tail normal"
    )
    code = main(["trace", str(job), "--seen", told, "--read", "left: left rear stop 13.1 V"])
    out = capsys.readouterr().out

    assert code == 1
    assert "Repair" in out
    assert "left rear stop/turn: burnt out" in out
    assert "whole light check" in out.replace("\n", " ")


def test_what_was_seen_in_a_light_check_is_taken_over(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = read_rig(job.read_text("utf-8"))
    noted = read_phrase("park: left rear tail dark, right rear tail normal", rig)
    file = tmp_path / "check.json"
    file.write_text(json.dumps({"observations": [to_plain(o) for o in noted]}), "utf-8")

    assert main(["trace", str(job), "--check", str(file), "--json"]) in (0, 1)
    found = json.loads(capsys.readouterr().out)

    assert [each["command"] for each in found["observations"]] == ["park", "park"]


def test_everything_wrong_is_told_at_once(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["trace", str(job), "--seen", "hop: left rear dark", "--read", "pin 2"])
    err = capsys.readouterr().err

    assert code == 2
    assert "2 values to mend" in err
    assert "Traceback" not in err


@pytest.mark.parametrize("text", ["{", '{"observations": 3}', "[1]"])
def test_a_check_that_cannot_be_read_is_refused(
    text: str, job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "check.json"
    file.write_text(text, "utf-8")

    assert main(["trace", str(job), "--check", str(file)]) == 2
    assert "to mend" in capsys.readouterr().err


def test_an_unknown_tool_is_refused(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["trace", str(job), "--seen", "park: nothing", "--tools", "wand"])

    assert code == 2
    assert "bench supply" in capsys.readouterr().err


def test_without_words_it_asks_and_answers_in_turn(
    job: Path, capsys: pytest.CaptureFixture[str], request: pytest.FixtureRequest
) -> None:
    import sys

    before = sys.stdin
    request.addfinalizer(lambda: setattr(sys, "stdin", before))
    sys.stdin = io.StringIO("park: tail lamps dark\nnonsense\nback\ntail fuse blown\n\n")

    code = main(["trace", str(job)])
    out, err = capsys.readouterr()

    assert code == 0
    assert out.count("What may be wrong") == 3
    assert "Look at next" in out
    assert "to mend" in err


def test_the_python_function_ranks_as_the_command_does(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = read_rig(job.read_text("utf-8"))
    said = "park: markers dark, tail lamps normal"

    ranking = find_faults(rig, read_phrase(said, rig))
    main(["trace", str(job), "--seen", said, "--json"])
    found = json.loads(capsys.readouterr().out)

    assert found["faults"][0]["title"] == ranking.groups[0].title
    assert found["faults"][0]["probability"] == pytest.approx(ranking.groups[0].probability)
