"""The light check at the shell: its plan, its questions, its answers file, what it refuses."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from loomwright import examples
from loomwright.cli import main
from loomwright.cli.lightcheck_guide import Terminal, guide
from loomwright.lightcheck.answers_file import Noted, read_noted, write_noted
from loomwright.lightcheck.judging import judge_all, observe
from loomwright.lightcheck.model import Plan, Standing
from loomwright.lightcheck.plan import plan_for
from loomwright.observations.word import Word
from loomwright.rig.read import read_rig

Shell = Callable[..., tuple[int, str, str]]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "job.toml"
    file.write_text(examples.text("utility-rewire"), "utf-8")
    return file


@pytest.fixture
def shell(capsys: pytest.CaptureFixture[str]) -> Shell:
    def run(*arguments: object) -> tuple[int, str, str]:
        code = main([str(each) for each in arguments])
        return code, *capsys.readouterr()

    return run


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_for(read_rig(examples.text("utility-rewire")), "trailer")


def healthy(plan: Plan) -> Noted:
    """Every answer as it must be."""
    seen = [
        observe(each, each.words[0] if each.words else each.nominal or 0.0)
        for step in plan.steps
        for each in step.expectations
    ]
    return Noted(plan.rig, tuple(seen))


def test_the_plan_names_each_command_and_fits_the_page(job: Path, shell: Shell) -> None:
    code, out, err = shell("lightcheck", job, "--plan")

    assert (code, err) == (0, "")
    for said in ("Park lamps on. Left signal on.", "Park lamps on. Hold the brake pedal."):
        assert said in out
    assert "CAUTION" in out
    assert "flashing" in out
    assert max(map(len, out.splitlines())) <= 80


def test_one_person_is_told_the_walks_and_the_danger_of_a_prop(job: Path, shell: Shell) -> None:
    code, out, _ = shell("lightcheck", job, "--people", "1", "--plan")

    assert code == 0
    assert "walks between cab and rear" in out
    assert "prop on the pedal can slip" in " ".join(out.split())


def test_without_a_terminal_it_prints_the_plan(job: Path, shell: Shell) -> None:
    assert shell("lightcheck", job) == shell("lightcheck", job, "--plan")


def test_answers_that_are_right_end_with_0_and_a_dead_lamp_with_1(
    job: Path, shell: Shell, plan: Plan, tmp_path: Path
) -> None:
    file = tmp_path / "answers.json"
    noted = healthy(plan)
    file.write_text(write_noted(noted), "utf-8")
    code, out, _ = shell("lightcheck", job, "--answers", file)
    assert code == 0
    assert "Nothing that was looked at is wrong." in out

    step = next(each for each in plan.steps if each.key == "park")
    dead = observe(step.lit[0], Word.OFF)
    file.write_text(write_noted(Noted(plan.rig, (*noted.observations, dead))), "utf-8")
    code, out, _ = shell("lightcheck", job, "--answers", file)
    assert code == 1
    assert "WRONG: left rear lamp, tail, park" in out


def test_json_holds_plan_and_answers(job: Path, shell: Shell, plan: Plan, tmp_path: Path) -> None:
    file = tmp_path / "answers.json"
    file.write_text(write_noted(healthy(plan)), "utf-8")
    code, out, _ = shell("lightcheck", job, "--answers", file, "--json")
    found = json.loads(out)

    assert code == 0
    assert found["format"] == "loomwright/lightcheck"
    assert [each["key"] for each in found["steps"]] == [each.key for each in plan.steps]
    assert found["counts"]["right"] == len(found["answers"])
    assert found["counts"]["wrong"] == 0


def test_a_result_can_be_written_but_never_over_the_job(
    job: Path, shell: Shell, tmp_path: Path
) -> None:
    code, out, _ = shell("lightcheck", job, "--plan", "-o", tmp_path / "plan.txt")
    assert (code, out) == (0, "")
    assert "light check" in (tmp_path / "plan.txt").read_text("utf-8")

    code, _, err = shell("lightcheck", job, "--plan", "-o", job)
    assert code == 2
    assert "job file itself" in err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--tester", "nose"], "test-lamp"),
        (["--battery-v", "400"], "battery_v"),
        (["--battery-v", "25"], "this vehicle has 12 V"),
        (["--air-c", "900"], "air_c"),
        (["--fob", "horn"], "key fob"),
        (["--socket", "moon"], "rear 4-way"),
        (["--seed", "-1"], "seed"),
    ],
)
def test_what_cannot_be_used_is_told(
    job: Path, shell: Shell, options: list[str], said: str
) -> None:
    code, out, err = shell("lightcheck", job, "--plan", *options)

    assert (code, out) == (2, "")
    assert said in err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "JSON"),
        ("7", "list of observations"),
        ('{"format": "other", "size": 1}', "2 values to mend"),
        ('[{"command": "park"}]', "observations[0].place.kind"),
        ('{"observations": [3]}', "observations[0]"),
        ('{"rig": "another rig"}', "another rig"),
    ],
)
def test_answers_that_cannot_be_used_are_told(
    job: Path, shell: Shell, tmp_path: Path, text: str, said: str
) -> None:
    file = tmp_path / "answers.json"
    file.write_text(text, "utf-8")
    code, out, err = shell("lightcheck", job, "--answers", file)

    assert (code, out) == (2, "")
    assert said in err
    assert file.read_text("utf-8") == text


def test_an_answers_file_that_is_not_there_is_told(job: Path, shell: Shell, tmp_path: Path) -> None:
    code, out, err = shell("lightcheck", job, "--answers", tmp_path / "none.json")

    assert (code, out) == (2, "")
    assert "none.json" in err


class Person:
    """Types answers one after the other; the talk breaks off when there are no more."""

    def __init__(self, *answers: str) -> None:
        self.answers: Iterator[str] = iter(answers)
        self.asked: list[str] = []
        self.told: list[str] = []
        self.kept: list[str] = []

    def ask(self, question: str) -> str:
        """Note the question, give the next answer."""
        self.asked.append(question)
        answer = next(self.answers, None)
        if answer is None:
            raise EOFError
        return answer

    def keep(self, noted: Noted) -> None:
        """Keep what was noted, as the file would."""
        self.kept.append(write_noted(noted))

    @property
    def terminal(self) -> Terminal:
        """Both ends of the talk."""
        return Terminal(self.ask, self.told.append, self.keep, "answers.json")


def test_a_talk_that_is_broken_off_is_taken_up_where_it_was(plan: Plan) -> None:
    """Every answer is kept before the next question; what was answered is not asked again."""
    first = Person("", "", "o")
    noted = guide(plan, Noted(plan.rig), first.terminal)
    assert read_noted(first.kept[-1]) == noted
    assert any("WRONG" in line for line in first.told)
    assert any("Broken off" in line for line in first.told)

    second = Person(*[""] * 200)
    whole = guide(plan, read_noted(first.kept[-1]), second.terminal)
    assert second.asked[0] == first.asked[3]
    answers = judge_all(plan, whole.observations)
    standings = [each.standing for each in answers]
    assert standings.count(Standing.WRONG) == 1
    assert set(standings) == {Standing.RIGHT, Standing.WRONG}

    third = Person()
    assert guide(plan, whole, third.terminal) == whole
    assert third.asked == []


def test_back_help_and_one_by_one(plan: Plan) -> None:
    """`<` asks the last again; nonsense is explained, not taken; `n` opens what must be dark."""
    dark = plan.steps[0].dark
    person = Person("n", "zzz", "", "<", "g", "u", "s", "x")
    noted = guide(plan, Noted(plan.rig), person.terminal)

    words = {each.place.name: each.word for each in noted.observations}
    assert words[dark[0].place.name] is Word.GLOW
    assert words[dark[1].place.name] is Word.AS_USUAL
    assert words[dark[2].place.name] is Word.NOT_SEEN
    assert any("must be" in question for question in person.asked)
    assert any("g glow" in line for line in person.told)


def test_numbers_are_read_with_their_unit_or_a_comma() -> None:
    plan = plan_for(read_rig(examples.text("utility-rewire")), "meter")
    person = Person("", "12,1 V", "", "much", "nan", "12.0")
    noted = guide(plan, Noted(plan.rig), person.terminal)
    values = [each.value for each in noted.observations if each.command == "park"]

    assert values == [12.1, 0.0, 0.0, 12.0]
    assert sum("Give the reading in V" in line for line in person.told) == 2
