"""Every screen in a real browser: accessible, in its width, steady, by thumb and by keyboard."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.web.looking import Looked, looking
from tools.browser import WIDTHS, Running, running, stock
from tools.device_states import SHOP
from tools.shots import STATES
from tools.walk import pages, unreached

from loomwright.store.opening import open_store
from loomwright.web.settings import Settings

pytestmark = [pytest.mark.first, pytest.mark.slow]

LOOKS = (("phone", "light"),)
"""Of the states that a sequence of acts leads to."""

MOST_SHIFT = 0.02
NARROWEST_PX = 320
"""WCAG 2.2, 1.4.10: nothing scrolls sideways in so many CSS pixels."""

OPEN_ALL = "document.querySelectorAll('main details').forEach((one) => { one.open = true; })"
ELSEWHERE = (
    *("/join/{number}", "/rigs/{rig_id}/light-check/"),
    *("/rigs/{rig_id}/record/kept/", "/rigs/{rig_id}/record/photos/"),
)
"""Pages of a light check that runs, which its own tests look at, and of a signed record, which the
states come to."""


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Running, str]]:
    """A workbench with every example, and its demo rig."""
    with open_store(tmp_path_factory.mktemp("shop") / "shop") as store:
        rig = stock(store)
        settings = Settings("a secret", addresses=("192.0.2.17",), names=frozenset({SHOP}))
        with running(store, settings) as run:
            yield run, rig


@pytest.fixture(scope="module")
def walked(bench: tuple[Running, str]) -> tuple[str, ...]:
    """The address of every page."""
    run, rig = bench
    return pages(run.url, rig)


def test_no_screen_escapes_the_walk(walked: tuple[str, ...]) -> None:
    """Each page that needs more than a rig is linked from one that does not, or named above."""
    lost = [path for path in unreached(walked) if not path.startswith(ELSEWHERE)]

    assert lost == []


def test_every_page_is_accessible_and_steady(
    browser: Browser, bench: tuple[Running, str], walked: tuple[str, ...]
) -> None:
    """At the width of a desk, a tablet and a phone, dark and light, all that is folded opened."""
    wrong = {}
    with looking(browser, "desk", "dark") as looked:
        for address in walked:
            looked.said.clear()
            resize(looked, "desk")
            looked.page.goto(bench[0].url + address, wait_until="load")
            be_still(looked.page)
            shift = looked.shift()
            looked.page.evaluate(OPEN_ALL)
            seen = complaints(looked) | ({"moves": shift} if shift > MOST_SHIFT else {})
            resize(looked, "tablet")
            seen |= {f"{kind}, tablet": what for kind, what in layout_of(looked).items()}
            resize(looked, "phone")
            seen |= {f"{kind}, phone": what for kind, what in seen_of(looked).items()}
            looked.page.set_viewport_size({"width": NARROWEST_PX, "height": 640})
            if (over_px := looked.overflow_px()) > 0:
                seen["too wide, narrowest, by"] = over_px
            if seen:
                wrong[address] = seen

    assert len(walked) > 40
    assert wrong == {}


FORESEEN = ("status of 4", "Cross-Origin-Opener-Policy")
"""What the console says of a refusal, and of a guest who comes by name over plain HTTP."""


@pytest.mark.parametrize(("width", "scheme"), LOOKS)
def test_every_state_is_accessible(
    browser: Browser, bench: tuple[Running, str], width: str, scheme: str
) -> None:
    run, rig = bench
    wrong = {}
    for name, act in STATES.items():
        with looking(browser, width, scheme) as looked:
            act(looked.page, run.url, rig)
            be_still(looked.page)
            looked.said = [one for one in looked.said if not any(sign in one for sign in FORESEEN)]
            if seen := complaints(looked):
                wrong[name] = seen

    assert wrong == {}


def be_still(page: Page) -> None:
    """Wait until nothing is on its way."""
    expect(page.locator(".waiting, .htmx-request")).to_have_count(0, timeout=30_000)


def look_well(looked: Looked) -> None:
    assert complaints(looked) == {}


def complaints(looked: Looked) -> dict[str, object]:
    """What is wrong with a page, by kind."""
    other = {"in the other scheme": looked.faults_in_other_scheme(), "console": looked.said}
    return seen_of(looked) | {kind: what for kind, what in other.items() if what}


def seen_of(looked: Looked) -> dict[str, object]:
    """What is wrong with a page at this width, in this scheme."""
    found = {
        "accessibility": looked.faults(),
        "too wide by": max(looked.overflow_px(), 0),
        "too small": looked.too_small(),
    }
    return {kind: what for kind, what in found.items() if what}


def resize(looked: Looked, to: str) -> None:
    """Make the window as wide as another device."""
    width, height = WIDTHS[to]
    looked.page.set_viewport_size({"width": width, "height": height})


def layout_of(looked: Looked) -> dict[str, object]:
    """What is wrong with sizes, and what sticks out."""
    found = {
        "layout": looked.faults_of_layout(),
        "too wide by": max(looked.overflow_px(), 0),
        "too small": looked.too_small(),
    }
    return {kind: what for kind, what in found.items() if what}


def test_the_keyboard_alone_begins_changes_and_undoes_a_rig(
    browser: Browser, bench: tuple[Running, str]
) -> None:
    run, _ = bench
    with looking(browser, "desk", "light") as looked:
        page = looked.page
        page.goto(f"{run.url}/rigs")
        page.keyboard.press("Tab")
        expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.locator("#main")).to_be_focused()

        tab_to(page, "link", "Begin a rig")
        page.keyboard.press("Enter")
        page.wait_for_url("**/new")
        tab_to(page, "radio", re.compile("utility|small trailer", re.I), arrows=True)
        page.keyboard.press("Space")
        tab_to(page, "textbox", re.compile("What do you call it"))
        page.keyboard.type("By keyboard")
        tab_to(page, "button", "Begin")
        page.keyboard.press("Enter")
        page.wait_for_url(re.compile("/rigs/[0-9a-f]{32}"))
        expect(page.get_by_role("heading", level=1)).to_have_text("By keyboard")

        page.goto(page.url.partition("?")[0] + "/text")
        tab_to(page, "textbox", re.compile("Kept as you type"))
        page.keyboard.press("Control+End")
        page.keyboard.type("# by hand\n")
        expect(page.get_by_role("status").first).to_contain_text("Kept as version 2")
        tab_to(page, "button", "Take it back")
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", level=1)).to_have_text("History")
        expect(page.get_by_role("status").first).to_contain_text("Version 3")


def tab_to(page: Page, role: str, name: str | re.Pattern[str], *, arrows: bool = False) -> None:
    """Press Tab until a control has the focus, as a person without a mouse does."""
    wanted = page.get_by_role(role, name=name).first
    for _ in range(80):
        if wanted.evaluate("one => one === document.activeElement"):
            return
        is_radio = page.evaluate("document.activeElement?.type === 'radio'")
        page.keyboard.press("ArrowDown" if arrows and is_radio else "Tab")
    raise AssertionError(f"the keyboard does not reach {role} {name}")


def test_the_list_answers_while_it_is_typed(browser: Browser, bench: tuple[Running, str]) -> None:
    run, _ = bench
    with looking(browser, "phone", "light") as looked:
        looked.page.goto(f"{run.url}/rigs")
        looked.page.get_by_role("searchbox").fill("heronvale")

        expect(looked.page.locator(".rigs > li")).to_have_count(1)
        expect(looked.page.locator(".rigs")).to_contain_text("Heronvale")
        assert looked.said == []


def test_a_text_is_kept_as_it_is_typed_and_a_broken_one_when_it_is_left(
    browser: Browser, bench: tuple[Running, str]
) -> None:
    run, demo = bench
    rig = run.store.rigs.copy(demo, "Ines").id
    with looking(browser, "phone", "light") as looked:
        page = looked.page
        page.goto(f"{run.url}/rigs/{rig}/text")
        box = page.get_by_role("textbox")
        page.route("**/typed", lambda route: (page.wait_for_timeout(300), route.continue_()))
        box.press("Control+End")
        for words in ("# first", " and", " second"):  # each while the one before is on its way
            page.keyboard.type(words)
            page.wait_for_timeout(1100)
        expect(page.locator("#problems")).to_contain_text("Kept as version")
        page.keyboard.type("\nlength = ")
        expect(page.get_by_role("heading", name="1 entry to mend")).to_be_visible()
        assert run.store.rigs.newest(rig).usable
        assert run.store.rigs.newest(rig).text.endswith("# first and second")

        page.get_by_role("link", name="History").focus()
        expect(page.locator("#problems")).to_contain_text("The text is kept as it is")
        assert run.store.rigs.newest(rig).text.endswith("second\nlength = ")
        assert looked.said == []


def test_a_typed_text_waits_while_the_workbench_is_away(
    browser: Browser, bench: tuple[Running, str]
) -> None:
    run, demo = bench
    rig = run.store.rigs.copy(demo, "Ines").id
    with looking(browser, "phone", "dark") as looked:
        page = looked.page
        page.goto(f"{run.url}/rigs/{rig}/text")
        page.route("**/typed", lambda route: route.abort())
        page.get_by_role("textbox").press("Control+End")
        page.keyboard.type("# typed under the truck")
        away = page.get_by_role("alert")
        expect(away).to_contain_text("does not answer")
        looked.said = []
        look_well(looked)
        page.unroute("**/typed")

        expect(page.locator("#problems")).to_contain_text("Kept as version 2")
        expect(away).to_be_hidden()
        assert run.store.rigs.newest(rig).text.endswith("# typed under the truck")


def test_a_complaint_leads_to_its_line(browser: Browser, bench: tuple[Running, str]) -> None:
    run, rig = bench
    with looking(browser, "phone", "light") as looked:
        STATES["state-text-to-mend"](looked.page, run.url, rig)
        looked.page.get_by_role("button", name=re.compile("Go to line")).first.click()
        marked = looked.page.evaluate(
            "(({value, selectionStart, selectionEnd}) => value.slice(selectionStart, selectionEnd))"
            "(document.querySelector('#f-text'))"
        )

        assert marked == 'units = "imperial"'
