"""The whole job in a real browser: begun, described, a trap found, mended, the sheet taken away."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader
from tests.web.hands import Hand, Keys, Thumb
from tests.web.looking import looking
from tools.browser import Running, running

from loomwright.rig.read import read_job
from loomwright.store.opening import open_store

pytestmark = pytest.mark.slow

NAME = "Fern Hollow van"
LOOKS = (("phone", "light"), ("tablet", "dark"), ("desk", "light"))


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A shop that has just begun: no rig in it."""
    with open_store(tmp_path_factory.mktemp("shop") / "shop") as store, running(store) as run:
        yield run


@pytest.mark.parametrize(("width", "scheme"), LOOKS)
def test_a_job_from_the_empty_list_to_the_sheet_by_tapping(
    browser: Browser, bench: Running, width: str, scheme: str
) -> None:
    with looking(browser, width, scheme) as looked:
        the_whole_job(Thumb(looked.page, has_touch=width != "desk"), bench)
        assert looked.said == []


def test_a_job_from_the_empty_list_to_the_sheet_by_the_keyboard_alone(
    browser: Browser, bench: Running
) -> None:
    with looking(browser, "desk", "dark") as looked:
        the_whole_job(Keys(looked.page), bench)
        assert looked.said == []


def the_whole_job(hand: Hand, bench: Running) -> None:
    """Go the whole way as a person would, by what stands on the screen."""
    page = hand.page
    page.goto(f"{bench.url}/rigs")
    begin(hand)
    rig_id = page.url.rpartition("/")[2]
    describe(hand)
    find_the_trap(hand)
    mend_it(hand)
    kept = read_job(bench.store.rigs.newest(rig_id).text)
    assert kept.trailer.name == "Fern Hollow two-horse"
    assert kept.trailer.cord is not None
    assert kept.trailer.cord.colours == "7-blade"
    text = the_sheet(hand)
    assert NAME in text
    assert "COLR01" not in text


def begin(hand: Hand) -> None:
    """Begin a rig of the kind that comes nearest, under a name of its own."""
    hand.press("link", "Begin a rig")
    hand.page.wait_for_url("**/new")
    hand.choose(re.compile("powered converter"))
    hand.write(re.compile("What do you call it"), NAME)
    hand.press("button", "Begin")
    hand.page.wait_for_url(re.compile("/rigs/[0-9a-f]{32}$"))
    expect(hand.page.get_by_role("heading", level=1)).to_have_text(NAME)


def describe(hand: Hand) -> None:
    """Say what the trailer is, and whose colours its cord wears."""
    hand.press("link", re.compile("^describe$"))
    hand.press("link", re.compile("^Trailer"))
    expect(hand.page.get_by_role("heading", level=1)).to_have_text("Trailer")
    hand.write(re.compile("What do you call it"), "Fern Hollow two-horse")
    expect(hand.page.locator(".kept")).to_contain_text("Fern Hollow two-horse")
    hand.press("summary", "Which colours do its wires wear?")
    hand.choose(re.compile("RV colours"))
    expect(hand.page.locator(".kept")).to_contain_text("7-blade-rv")


def find_the_trap(hand: Hand) -> None:
    """See on the findings that green is two things on this rig."""
    hand.press("link", re.compile("^findings$"))
    trap = hand.page.locator("article").filter(has_text="COLR01")
    expect(trap).to_contain_text("The colour misleads")
    expect(trap).to_contain_text("right stop and turn")


def mend_it(hand: Hand) -> None:
    """See the difference, take it, and see the finding gone."""
    hand.press("link", re.compile("^Do it ?: Fit a trailer cord"))
    expect(hand.page.locator(".difference")).to_contain_text('colours = "7-blade"')
    hand.press("button", "Do it")
    expect(hand.page.locator(".said")).to_contain_text("Done in the job file")
    expect(hand.page.locator("article").filter(has_text="COLR01")).to_have_count(0)


def the_sheet(hand: Hand) -> str:
    """Take the sheet away; return what it says."""
    page: Page = hand.page
    hand.press("link", re.compile("^sheet$"))
    pages = page.get_by_role("heading", name=re.compile("[0-9]+ pages"))
    expect(pages).to_be_visible(timeout=30_000)
    with page.context.expect_event("response", lambda one: ".pdf" in one.url) as answer:
        hand.press("link", re.compile("^Open the PDF"))
    assert answer.value.headers["content-type"] == "application/pdf"
    pdf = page.request.get(answer.value.url).body()
    return "".join(each.extract_text() for each in PdfReader(BytesIO(pdf)).pages)
