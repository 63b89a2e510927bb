"""Every command on the example rigs: exit codes, output, and what stands on which stream."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from loomwright import examples

Ran = tuple[int, str, str]
Run = Callable[..., Ran]
UNIT = r"(?:AWG|SAE|mV|V|mA|A|W|mΩ|Ω|mm²|mm|cm|m|ft|lb|kg|%)"
NUMBER_AT_THE_END = re.compile(rf"\d$\n\s*{UNIT}(?![\w-])", re.M)


@pytest.fixture
def job(tmp_path: Path) -> Callable[[str], Path]:
    """Write the job file of an example; return where."""

    def write(name: str) -> Path:
        file = tmp_path / f"{name}.toml"
        file.write_text(examples.text(name), "utf-8")
        return file

    return write


@pytest.mark.parametrize("name", examples.names())
def test_check_lists_findings_and_readings_and_exits_with_1(
    run: Run, job: Callable[[str], Path], name: str
) -> None:
    code, out, err = run("check", job(name))

    assert (code, err) == (1, "")
    assert "What each load gets under its worst command" in out
    assert "--assumptions lists them" in out


def test_a_job_file_begins_with_what_is_known_of_a_rig(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "known.toml"
    code, out, err = run("new", "--typical", "connector=4-flat,lamps=led", "-o", file)

    assert (code, err) == (0, "")
    assert str(file) in out.replace("\n", "")
    assert 'connector = "4-flat"' in file.read_text("utf-8")
    assert run("check", file)[0] in (0, 1)
    code, out, err = run("new", "--typical", "connector=moon,lamps=candles", "-o", file)
    assert (code, out) == (2, "")
    assert "2 values to mend" in err
    assert run("new", "utility-rewire", "--typical", "connector=4-flat")[0] == 2


@pytest.mark.parametrize("name", examples.names())
@pytest.mark.parametrize("command", ["check", "hookup"])
def test_pages_fit_eighty_columns_and_keep_numbers_with_their_units(
    run: Run, job: Callable[[str], Path], command: str, name: str
) -> None:
    _, out, _ = run(command, job(name))
    lines = out.splitlines()

    assert max(map(len, lines)) <= 80
    assert [line for line in lines if line != line.rstrip()] == []
    assert NUMBER_AT_THE_END.search(out) is None
    assert "\u00a0" not in out
    assert "\ue000" not in out
    assert "\x1b" not in out


@pytest.mark.parametrize(
    ("units", "shown", "hidden"), [("us", " ft", " mm\n"), ("metric", " m", " ft ")]
)
def test_units_of_every_number_are_the_users_choice(
    run: Run, job: Callable[[str], Path], units: str, shown: str, hidden: str
) -> None:
    _, out, _ = run("check", job("boat-surge-brakes"), "--units", units)
    readings = out.partition("What each load gets")[0]

    assert shown in readings
    assert hidden not in readings


def test_assumptions_are_listed_with_their_sources(run: Run, job: Callable[[str], Path]) -> None:
    _, out, _ = run("check", job("utility-rewire"), "--assumptions")
    listed = out.partition("Assumed, because the job file does not say")[2]

    assert re.search(r"^vehicle\.supply\.resistance +0\.010 ohm$", listed, re.M)
    assert "assumption (memory)" in listed


def test_json_is_one_object_a_line_and_file(run: Run, job: Callable[[str], Path]) -> None:
    files = [job("utility-rewire"), job("boat-surge-brakes")]
    code, out, err = run("check", *files, "--json")
    found = [json.loads(line) for line in out.splitlines()]

    assert (code, err) == (1, "")
    assert [each["file"] for each in found] == [str(file) for file in files]
    assert {each["format"] for each in found} == {"loomwright/check"}


def test_several_files_are_all_checked_even_if_one_cannot_be_used(
    run: Run, job: Callable[[str], Path], tmp_path: Path
) -> None:
    code, out, err = run("check", tmp_path / "none.toml", job("utility-rewire"))

    assert code == 2
    assert "Tansy" in out
    assert "none.toml" in err


def test_each_of_several_files_is_named(run: Run, job: Callable[[str], Path]) -> None:
    files = [job("utility-rewire"), job("boat-surge-brakes")]
    _, out, _ = run("check", *files)

    assert all(str(file) in out.replace("\n", "") for file in files)


def test_a_long_name_is_told_whole(run: Run, job: Callable[[str], Path]) -> None:
    file = job("utility-rewire")
    name = "Rewire of the Tansy utility trailer " * 4
    file.write_text(
        file.read_text("utf-8").replace("Rewire of the Tansy utility trailer", name.strip()),
        "utf-8",
    )
    _, out, _ = run("check", file)

    assert name.strip() in " ".join(out.split())


def test_a_rig_with_only_notes_exits_with_0(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "clean.toml"
    file.write_text(clean_rig(), "utf-8")
    code, out, err = run("check", file)

    assert err == ""
    assert "Nothing to mend" in out
    assert code == 0


@pytest.mark.parametrize("name", examples.names())
def test_hookup_pairs_and_exits_with_0(run: Run, job: Callable[[str], Path], name: str) -> None:
    code, out, err = run("hookup", job(name))

    assert (code, err) == (0, "")
    assert "Join by function, never by colour" in out
    assert re.search(r"^\d+.*(agree|differ|TRAP|by test)$", out, re.M)


def test_hookup_names_both_meanings_of_a_trap(run: Run, job: Callable[[str], Path]) -> None:
    """Yellow: the 12 V feed of a harness before 1990, the left signal of a seven-way lead."""
    _, out, _ = run("hookup", job("second-socket-flatbed"))
    said = " ".join(out.split())

    assert "Yellow is permanent supply on the rear 7-way side and left stop and turn" in said


def test_hookup_json(run: Run, job: Callable[[str], Path]) -> None:
    code, out, _ = run("hookup", job("horse-trailer-van"), "--json")

    assert code == 0
    assert json.loads(out)["format"] == "loomwright/hookup"


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_sheet_writes_a_pdf(
    run: Run, job: Callable[[str], Path], tmp_path: Path, paper: str
) -> None:
    target = tmp_path / "sheet.pdf"
    code, out, err = run("sheet", job("utility-rewire"), "-o", target, "--paper", paper)

    assert (code, err) == (0, "")
    assert str(target) in out.replace("\n", "")
    assert target.read_bytes().startswith(b"%PDF-")


def test_netlist_is_printed_or_written(
    run: Run, job: Callable[[str], Path], tmp_path: Path
) -> None:
    file = job("utility-rewire")
    code, out, _ = run("netlist", file, "--command", "park + brake pedal")
    target = tmp_path / "deck.cir"
    run("netlist", file, "--command", "park+brake_pedal", "-o", target)

    assert code == 0
    assert out.rstrip().endswith(".end")
    assert target.read_text("utf-8") == out


def test_netlist_takes_conditions(run: Run, job: Callable[[str], Path]) -> None:
    file = job("utility-rewire")
    _, nominal, _ = run("netlist", file, "--command", "park")
    code, dim, _ = run("netlist", file, "--command", "park", "--conditions", "dim")

    assert code == 0
    assert dim != nominal


def test_new_lists_the_kinds(run: Run) -> None:
    code, out, _ = run("new")

    assert code == 0
    assert all(kind in out for kind in examples.kinds())


@pytest.mark.parametrize("kind", list(examples.kinds()))
def test_new_writes_a_job_file_that_check_can_use(run: Run, tmp_path: Path, kind: str) -> None:
    target = tmp_path / "job.toml"
    code, out, _ = run("new", kind, "-o", target)

    assert code == 0
    assert "loomwright check" in out
    assert (tmp_path / examples.SCHEMA_NAME).read_text("utf-8") == examples.schema_text()
    assert run("check", target)[0] in (0, 1)


def test_new_leaves_an_existing_file_alone(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "job.toml"
    target.write_text("mine", "utf-8")
    code, _, err = run("new", "utility-rewire", "-o", target)

    assert code == 2
    assert "it exists" in err
    assert target.read_text("utf-8") == "mine"


def test_table_lists_and_prints(run: Run) -> None:
    _, names, _ = run("table")
    code, out, err = run("table", "crimp_barrels")

    assert (code, err) == (0, "")
    assert "traps" in names
    assert "16-14 AWG" in out
    assert "crimp-charts" in out


def test_every_table_can_be_shown_within_eighty_columns(run: Run) -> None:
    from loomwright.reference.catalogue import table_names

    for name in table_names():
        code, out, err = run("table", name)

        assert (code, err) == (0, ""), name
        assert max(map(len, out.splitlines())) <= 80, name


def test_schema_is_json(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "job.schema.json"
    _, out, _ = run("schema")
    code, _, _ = run("schema", "-o", target)

    assert code == 0
    assert json.loads(out)["$schema"].startswith("https://json-schema.org/")
    assert target.read_text("utf-8") == out


def test_demo_writes_everything_it_says(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "demo"
    code, out, err = run("demo", folder)
    written = out.partition("Written to")[2]

    assert (code, err) == (0, "")
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        name for name in re.findall(r"^(\S+\.\w+) ", written, re.M)
    )
    assert run("check", folder / f"{examples.DEMO}.toml")[0] == 1


def clean_rig() -> str:
    """The starter of a rewired utility trailer, which is sound as it stands."""
    return examples.starter("utility-rewire")
