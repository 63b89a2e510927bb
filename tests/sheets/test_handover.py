"""The handover sheet: complete, on both papers, the same bytes, and able to be proved."""

import hashlib
import io
import json
import re
from collections.abc import Sequence
from functools import cache
from typing import cast, get_args

import numpy as np
import pytest
import zxingcpp
from numpy.typing import NDArray
from pypdf import PdfReader
from tests.sheets.handing_over import PHOTOS, document, text_and_sum
from tests.sheets.reading_pdf import sizes_mm, text
from tests.sheets.test_job_sheet import SIZES_MM, squeezed

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.sheets import Paper
from loomwright.sheets.handover import content, handover_sheet
from loomwright.sheets.handover_mark import Mark, marks_in
from loomwright.sheets.handover_owner import owner_cautions, owner_words
from loomwright.sheets.handover_pictures import TURNS, code_svg

PAPERS: tuple[Paper, ...] = get_args(Paper)


@cache
def sheet(name: str = examples.DEMO, paper: Paper = "letter") -> bytes:
    said, total = text_and_sum(name)
    return handover_sheet(document(name), PHOTOS, text=said, checksum=total, paper=paper)


@pytest.mark.parametrize("name", examples.names())
def test_every_example_hands_over_without_a_warning(name: str) -> None:
    paper: Paper = "a4" if len(name) % 2 else "letter"

    assert sizes_mm(sheet(name, paper)) == {SIZES_MM[paper]}


def test_the_same_record_is_the_same_bytes_on_each_paper() -> None:
    said, total = text_and_sum()

    for paper in PAPERS:
        again = handover_sheet(document(), PHOTOS, text=said, checksum=total, paper=paper)
        assert again == sheet(paper=paper)
    assert sheet(paper="a4") != sheet(paper="letter")


def test_the_sheet_is_tagged_as_universally_accessible() -> None:
    """ISO 14289-1 (PDF/UA-1) asks for `pdfuaid:part` 1, a title, a language and marked content."""
    reader = PdfReader(io.BytesIO(sheet()))
    catalogue = reader.trailer["/Root"]
    metadata = catalogue["/Metadata"].get_object().get_data().decode()

    assert re.search(r"pdfuaid:part(>|=\")1", metadata)
    assert catalogue["/Lang"] == "en"
    assert reader.metadata is not None
    assert reader.metadata.title == f"Record of work: {document()['head']['rig']}"


@pytest.mark.parametrize("name", examples.names())
def test_every_part_of_the_record_stands_on_the_sheet(name: str) -> None:
    said = document(name)
    shown = squeezed(text(sheet(name, "a4" if len(name) % 2 else "letter")))

    wanted = [
        *(value for _, value in said["head"]["facts"] if value),
        *(step["says"] for step in said["done"]),
        f"{len(said['left'])} of the {len(said['done']) + len(said['left'])} steps",
        *(said[key] for key in ("found", "done_notes", "parts", "settings", "for_owner", "why")),
        *(row["function"] for each in said["maps"] for row in each["rows"]),
        *(row["lead"]["colour"] for each in said["maps"] for row in each["rows"]),
        *(part for each in said["places"] for part in (each["title"], each["place"])),
        *(row["title"] for row in said["readings"]),
        *(
            "9.6 V",
            "12.4 V",
            "bridged wires",
            "11.8 V to 13.4 V",
            "Dead or off",
            "pin 4 of the socket 50 mV",
            "normal or bright",
        ),
        *("WRONG", "doubtful", "a joint takes it", "not recorded", "not tested"),
        *(*said["not_tested"], *said["cautions"]),
        *(each["caption"] for each in said["photos"]),
        *(each["name"] for each in said["signatures"]),
        said["earlier_checksum"],
        text_and_sum(name)[1],
    ]
    lost = [each for each in wanted if squeezed(each).lower() not in shown.lower()]
    assert lost == []


def test_a_draft_says_that_it_is_one_and_bears_no_mark() -> None:
    pdf = handover_sheet(document(signed=False), PHOTOS)

    assert marks_in(pdf) == ()
    assert "DRAFT. Not signed" in text(pdf)
    assert PdfReader(io.BytesIO(pdf)).attachments == {}


def test_the_record_travels_in_its_pdf_and_has_the_printed_checksum() -> None:
    """Another reader of PDF takes the file out; its SHA-256 by hashlib is the checksum."""
    said, total = text_and_sum()
    reader = PdfReader(io.BytesIO(sheet()))

    (inside,) = reader.attachments["record.json"]

    assert hashlib.sha256(inside).hexdigest() == total
    assert json.loads(inside) == document()
    assert inside.decode() == said


def test_the_mark_is_read_back_and_shows_in_any_reader() -> None:
    _, total = text_and_sum()
    mark = Mark("3f9a22c1" * 4, 2, total, "a4")

    assert marks_in(sheet(paper="a4")) == (mark,)
    assert marks_in(b"nothing") == ()
    metadata = PdfReader(io.BytesIO(sheet(paper="a4"))).metadata
    assert metadata is not None
    assert metadata["/Keywords"] == str(mark)


def cells_of(svg: str) -> NDArray[np.uint8]:
    """Paint the square code, four pixels to a module."""
    side = int(re.findall(r'width="(\d+)"', svg)[0])
    painted = np.full((side, side), 255, np.uint8)
    for x, y in re.findall(r"M(\d+) (\d+)h1", svg):
        painted[int(y), int(x)] = 0
    return np.kron(painted, np.ones((4, 4), np.uint8))


def test_a_camera_reads_number_and_checksum_off_the_square_code() -> None:
    _, total = text_and_sum()
    signed = cast("dict[str, dict[str, str]]", content(document(), total)["signed"])

    (read,) = zxingcpp.read_barcodes(cells_of(signed["code"]["svg"]))

    assert read.text == f"LOOMWRIGHT-RECORD {'3F9A22C1' * 4} 2 {total.upper()}"


def test_the_bytes_of_a_jpeg_are_in_the_pdf_as_they_were_kept() -> None:
    assert PHOTOS[0] in sheet()


def test_no_paper_but_ours() -> None:
    with pytest.raises(InvalidInput, match="use one of letter, a4"):
        handover_sheet(document(), PHOTOS, paper="a3")  # type: ignore[arg-type]


def moved(transform: str, x: float, y: float) -> tuple[float, float]:
    """Where a point comes to rest (SVG 2, 8.3: the last function is done first)."""
    point = np.array((x, y, 1.0))
    for name, said in reversed(re.findall(r"(\w+)\(([^)]*)\)", transform)):
        a, *more = (float(each) for each in said.split())
        cos, sin = np.cos(np.radians(a)), np.sin(np.radians(a))
        matrix = {
            "translate": [[1, 0, a], [0, 1, (more or [0])[0]], [0, 0, 1]],
            "scale": [[a, 0, 0], [0, (more or [a])[0], 0], [0, 0, 1]],
            "rotate": [[cos, -sin, 0], [sin, cos, 0], [0, 0, 1]],
        }[name]
        point = np.array(matrix) @ point
    return round(float(point[0]), 6), round(float(point[1]), 6)


# Exif (CIPA DC-008), 4.6.4, tag 274: where row 0 and column 0 of the stored picture come to lie.
ROW_AND_COLUMN = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


@pytest.mark.parametrize("turned", ROW_AND_COLUMN)
def test_a_photo_is_brought_upright_as_exif_says(turned: int) -> None:
    w, h = 30.0, 20.0
    wide, high = (h, w) if turned > 4 else (w, h)
    edges = {"left": (0, 0.0), "right": (0, wide), "top": (1, 0.0), "bottom": (1, high)}
    row, column = ROW_AND_COLUMN[turned]
    transform = TURNS[turned].format(w=w, h=h)

    def lies_on(points: Sequence[tuple[float, float]], edge: str) -> bool:
        axis, at = edges[edge]
        return all(moved(transform, *point)[axis] == at for point in points)

    assert lies_on([(0, 0), (w, 0)], row)
    assert lies_on([(0, 0), (0, h)], column)


def test_every_caution_for_owners_has_its_words_and_its_occasion() -> None:
    for each in owner_cautions():
        assert each.source
        assert (each.says is None) != (each.caution is None)
    plain, all_of_it = (
        owner_words(()),
        owner_words({fact for each in owner_cautions() for fact in each.needs}),
    )
    assert len(all_of_it) == len(owner_cautions()) == len(set(all_of_it))
    assert 0 < len(plain) < len(all_of_it)
    assert any("fuse" in each.lower() for each in plain)
    assert any("breakaway" in each for each in owner_words({"breakaway"}))


def test_the_square_code_has_the_quiet_edge_it_needs() -> None:
    """ISO/IEC 18004 asks for four light modules on every side."""
    painted = cells_of(code_svg("X" * 100))

    assert (painted[16:-16, 16:-16] == 0).any()
    assert (np.delete(painted, np.s_[16:-16], axis=0) == 255).all()
    assert (np.delete(painted, np.s_[16:-16], axis=1) == 255).all()
