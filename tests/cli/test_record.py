"""A record from the command line: made, signed, corrected, printed and proved; tampering tells."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from tests.store.pictures import told_jpeg

from loomwright import examples
from loomwright.cli import main
from loomwright.store.opening import open_store

Run = Callable[..., tuple[int, str, str]]
DEMO = examples.DEMO


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Run one command on a shop that has the demo rig."""
    shop = tmp_path / "shop"
    with open_store(_store(tmp_path)) as store:
        store.rigs.create(examples.text(DEMO), "Kim")

    def call(*arguments: object) -> tuple[int, str, str]:
        code = main([*(str(each) for each in arguments), "--data", str(shop)])
        out, err = capsys.readouterr()
        return code, out, err

    return call


def _store(tmp_path: Path) -> Path:
    from loomwright.web.machine import place_of

    return Path(place_of(tmp_path / "shop").store)


def rig_name() -> str:
    from loomwright import read_rig

    return read_rig(examples.text(DEMO)).name


def signed(run: Run, tmp_path: Path) -> str:
    """Make and sign a record; return its number."""
    photo = tmp_path / "the splices.jpg"
    photo.write_bytes(told_jpeg())
    code, out, err = run(
        *("record", "make", rig_name(), "--done", "all", "--place", "fuse.tail=under the dash"),
        *("--photo", photo, "--notes", "Two screws renewed.", "--who", "Kim"),
    )
    assert (code, err) == (0, "")
    number = out.split()[3].rstrip(",")
    assert run("record", "sign", number, "--name", "Kim Aas", "--customer", "Dana")[0] == 0
    return number


def test_a_record_is_made_shown_signed_printed_and_proved(run: Run, tmp_path: Path) -> None:
    number = signed(run, tmp_path)
    pdf = tmp_path / "record.pdf"

    code, shown, _ = run("record", "show", number)
    assert code == 0
    for said in ("Two screws renewed.", "under the dash", "Kim Aas (typed)", "the splices"):
        assert said in shown
    assert run("record", "print", number, "-o", pdf, "--paper", "a4")[0] == 0
    code, out, _ = run("verify", pdf)
    assert (code, "Genuine and unaltered" in out, number in out) == (0, True, True)
    assert number in run("record", "list")[1]
    assert run("record", "check")[:2] == (0, "1 signed version, no troubles.\n")


def test_a_correction_replaces_what_was_printed(run: Run, tmp_path: Path) -> None:
    number = signed(run, tmp_path)
    pdf = tmp_path / "record.pdf"
    run("record", "print", number, "-o", pdf)

    assert run("record", "correct", number, "--why", "wrong fuse")[0] == 0
    assert run("record", "make", rig_name(), "--found", "lens cracked")[0] == 0
    assert run("record", "sign", number, "--name", "Kim Aas")[0] == 0

    code, out, _ = run("verify", pdf)
    assert code == 1
    assert "replaced by a newer version" in out
    assert "Version 2 replaces it: wrong fuse" in out


def test_a_changed_file_and_a_changed_store_are_told(run: Run, tmp_path: Path) -> None:
    number = signed(run, tmp_path)
    pdf = tmp_path / "record.pdf"
    run("record", "print", number, "-o", pdf)
    whole = pdf.read_bytes()
    pdf.write_bytes(whole[:5000] + bytes((whole[5000] ^ 1,)) + whole[5001:])
    assert run("verify", pdf)[0] == 1
    pdf.write_bytes(whole)

    with closing(sqlite3.connect(_store(tmp_path))) as connection:
        for (name,) in connection.execute(
            "select name from sqlite_master where type = 'trigger'"
        ).fetchall():
            connection.execute(f"drop trigger {name}")
        connection.execute("update records set document = replace(document, 'Two', 'Ten')")
        connection.commit()

    code, out, _ = run("verify", pdf)
    assert (code, "Altered" in out) == (1, True)
    code, out, _ = run("record", "check")
    assert (code, "1 trouble." in out) == (1, True)


@pytest.mark.parametrize(
    ("command", "says"),
    [
        (("verify", "no such.pdf"), "name a PDF that can be read"),
        (("record", "show", "ffff"), "no one record of this number"),
        (("record", "make", "nothing"), "there is no such rig"),
        (("record", "make", rig_name(), "--done", "dance"), "name steps of this job"),
        (("record", "make", rig_name(), "--place", "here"), "write KEY=WORDS"),
        (("record", "make", rig_name(), "--place", "moon=here"), "name one of"),
        (("record", "make", rig_name(), "--photo", "none.jpg"), "name a photo that can be read"),
        (("record", "make", rig_name(), "--before", "77"), "choose a light check"),
    ],
)
def test_what_cannot_be_used_is_told(run: Run, command: tuple[str, ...], says: str) -> None:
    code, out, err = run(*command)

    assert (code, out) == (2, "")
    assert says in " ".join(err.split())


def test_a_job_file_is_taken_in_once_and_names_its_record(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(examples.text("utility-rewire"), "utf-8")

    for _ in range(2):
        assert run("record", "make", job, "--notes", "Rewired.")[0] == 0
    assert run("record", "sign", job, "--name", "Kim Aas")[0] == 0

    assert "Rewired." in run("record", "show", job)[1]
    assert run("record", "list", job)[1].count("Tansy") == 1


def test_a_file_that_is_no_pdf_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "words.pdf").write_text("hello")

    code, _, err = run("verify", tmp_path / "words.pdf")

    assert (code, "choose the PDF of a record" in err) == (2, True)
