"""The job sheet as a PDF: complete, on the right paper, the same bytes, text as it was written."""

import io
import re
from dataclasses import replace
from typing import cast, get_args

import pytest
from pypdf import PdfReader
from tests.sheets.jobs import job, pages_of, sheet, words_of
from tests.sheets.reading_pdf import each_page, sizes_mm, text

from loomwright import examples
from loomwright.drawing.function_words import function_words
from loomwright.invalid import InvalidInput
from loomwright.quantities import Units
from loomwright.rig.model import Assumption
from loomwright.sheets import Paper, job_sheet
from loomwright.sheets.record import taken
from loomwright.sheets.words import part_words, pull_words, tube_words

EXAMPLES = examples.names()
PAPERS: tuple[Paper, ...] = get_args(Paper)

# ISO 216 gives A4 as 210 mm by 297 mm; ANSI/ASME Y14.1 gives size A (Letter) as 8.5 in by 11 in.
SIZES_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


def squeezed(said: str) -> str:
    """Letters and digits alone: how a page breaks its lines does not matter."""
    return re.sub(r"[^0-9A-Za-zΩµ²°]+", "", said)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_prints_on_both_papers_without_a_warning(name: str, paper: Paper) -> None:
    wide, high = SIZES_MM[paper]

    pdf = sheet(name, paper)

    assert pdf.startswith(b"%PDF-")
    assert sizes_mm(pdf) == {(wide, high), (high, wide)}  # the run lies across its page


@pytest.mark.parametrize("name", EXAMPLES)
def test_only_the_run_lies_across_its_page(name: str) -> None:
    found = PdfReader(io.BytesIO(sheet(name))).pages
    lies = [page.mediabox.width > page.mediabox.height for page in found]
    across = [page for page, does in zip(pages_of(name), lies, strict=True) if does]

    assert len(across) == 1
    assert "The run" in across[0]


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_sheet_is_tagged_as_universally_accessible(name: str) -> None:
    """ISO 14289-1 (PDF/UA-1) asks for `pdfuaid:part` 1, a title, a language and marked content."""
    reader = PdfReader(io.BytesIO(sheet(name)))
    catalogue = reader.trailer["/Root"]
    metadata = catalogue["/Metadata"].get_object().get_data().decode()

    assert re.search(r"pdfuaid:part(>|=\")1", metadata)
    assert catalogue["/Lang"] == "en"
    assert catalogue["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert reader.metadata.title == f"Job sheet: {job(name)[0].rig.name}"


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_pin_of_the_towing_socket_stands_with_its_function(name: str) -> None:
    work, _, _ = job(name)
    shown = squeezed(words_of(name)).lower()

    for wire in work.rig.towing_socket.lead:
        function = squeezed(function_words(wire.function)).lower()
        assert f"{wire.pin}{function}" in shown or f"{function}{wire.pin}" in shown, wire


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_finding_stands_with_its_place_and_its_mend(name: str) -> None:
    _, findings, _ = job(name)
    shown = squeezed(words_of(name))

    assert findings
    for finding in findings:
        assert finding.rule in shown
        assert squeezed(finding.where).lower() in shown.lower()
        assert squeezed(finding.says) in shown
        assert squeezed(finding.fix) in shown


@pytest.mark.parametrize(
    ("field", "value", "read"),
    [
        ("vehicle.supply.resistance", "0.010 ohm", "10 mΩ"),
        ("trailer.frame_per_metre", "0.0005 ohm", "0.5 mΩ"),
        ("trailer.lamp.branch.size", "0.75 mm2", "0.75 mm²"),
        ("trailer.lamp.joint", "butt", "crimped butt, plain insulation"),
        ("trailer.lamp[5].lights.tail.form", "string-3", "resistor"),
        ("trailer.lamp.counts_as", "tail_lamp", "tail lamp"),
    ],
)
def test_what_is_taken_is_written_as_it_is_read(field: str, value: str, read: str) -> None:
    shown = taken(Assumption(field, value, "why", "trade", "common practice"))

    assert shown.replace("\u00a0", " ") == read


def test_a_joint_is_said_in_the_units_of_the_sheet() -> None:
    """A tube of 6.4 to 2.1 mm is sold as 1/4 in; a pull of 50 lbf is 222 N (UL 486A, 14 AWG)."""
    tube = "3:1 adhesive tube, 6.4 to 2.1 mm"
    us, metric = tube_words(tube, Units.US), tube_words(tube, Units.METRIC)
    loom = part_words("split loom 5/8 in, 1.8 m", Units.METRIC)

    assert us.replace("\u00a0", " ") == "3:1 adhesive tube, 1/4 in to 5/64 in"
    assert metric.replace("\u00a0", " ") == tube
    assert loom.replace("\u00a0", " ") == "split loom 5/8 in (16 mm), 1.8 m"
    assert pull_words(222.4, Units.US).replace("\u00a0", " ") == "50 lbf (222 N)"
    assert pull_words(222.4, Units.METRIC).replace("\u00a0", " ") == "222 N (50 lbf)"


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_assumption_stands_with_its_value_and_its_reason(name: str) -> None:
    work, _, _ = job(name)
    shown = squeezed(words_of(name))

    assert work.rig.assumptions
    for each in work.rig.assumptions:
        assert squeezed(each.field) in shown
        assert squeezed(taken(each)) in shown
        assert squeezed(each.says) in shown


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_cut_and_every_part_stands_on_the_sheet(name: str) -> None:
    work, _, parts = job(name)
    shown, units = squeezed(words_of(name)).lower(), work.rig.units

    for item in parts.items:
        assert squeezed(f"{item.count}{part_words(item.what, units)}").lower() in shown
    for cut in parts.cuts:
        assert squeezed(f"{cut.start} to {cut.end}").lower() in shown


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_page_says_whose_it_is_and_which_of_how_many(name: str) -> None:
    work, _, _ = job(name)
    found = pages_of(name)

    for number, page in enumerate(found, 1):
        assert f"Page {number} of {len(found)}" in page
        assert squeezed(work.rig.name) in squeezed(page)


@pytest.mark.parametrize("name", EXAMPLES)
def test_local_codes_come_first_on_every_sheet(name: str) -> None:
    first = "Local codes, the makers' instructions and licensed practice come first"

    assert first in words_of(name)


def test_the_same_job_gives_the_same_bytes() -> None:
    first, other = sheet("second-socket-flatbed"), sheet("utility-rewire")

    assert job_sheet(*job("second-socket-flatbed")) == first
    assert other != first


def test_text_of_the_user_is_printed_as_it_was_written() -> None:
    """Letters that mean something to a typesetter, to XML or to a template mean nothing here."""
    name = 'Bell & Sons <5> #1 $x$ *bold* _low_ @a [b] {c} \\ `d` "e" ~ // /* -- ='
    work, findings, parts = job("utility-rewire")
    rig = replace(work.rig, name=name, customer=name, notes=name)

    shown = text(job_sheet(replace(work, rig=rig), findings, parts))

    assert shown.count(name) >= 3


def test_a_letter_the_fonts_lack_shows_as_a_question_mark() -> None:
    work, findings, parts = job("utility-rewire")
    rig = replace(work.rig, customer="Tansy \u7530\u4e2d \u0007\tYard")

    shown = text(job_sheet(replace(work, rig=rig), findings, parts))

    assert "Tansy ?? Yard" in shown


def test_a_sheet_without_findings_says_so() -> None:
    work, _, parts = job("utility-rewire")

    shown = each_page(job_sheet(work, (), parts))

    assert any("No rule found anything to say about this rig" in page for page in shown)


def test_an_unknown_paper_is_refused_by_name() -> None:
    with pytest.raises(InvalidInput, match="letter, a4"):
        job_sheet(*job("utility-rewire"), paper=cast("Paper", "legal"))
