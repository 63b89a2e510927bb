"""The run, load check, findings, hook-up and sheet in a real browser, at every width and scheme."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.web.looking import Looked, looking
from tools.browser import running

from loomwright import examples
from loomwright.store.opening import open_store
from loomwright.store.store import Store

pytestmark = pytest.mark.slow


@dataclass
class Shop:
    """A workbench that runs, with every example."""

    url: str
    store: Store
    rigs: dict[str, str]

    def path(self, tail: str, rig: str = examples.DEMO) -> str:
        """The address of a place of a rig."""
        return f"/rigs/{self.rigs[rig]}{tail}"


@pytest.fixture(scope="module")
def shop() -> Iterator[Shop]:
    with tempfile.TemporaryDirectory() as folder, open_store(Path(folder) / "shop") as store:
        rigs = {
            name: store.rigs.create(examples.text(name), "Ines").id for name in examples.names()
        }
        with running(store) as bench:
            yield Shop(bench.url, store, rigs)


LOOKS = (("phone", "light"),)
PLACES = ("/run", "/hook-up", "/load", "/findings", "/sheet")


def opened(look: Looked, shop: Shop, path: str) -> Page:
    """Open an address of the workbench, and wait until it is still."""
    look.page.goto(shop.url + path, wait_until="networkidle")
    return look.page


def open_place(look: Looked, shop: Shop) -> None:
    """A conductor was touched, and its panel read to the end."""
    page = opened(look, shop, shop.path("/run"))
    page.locator("a[data-part=cord_wire_1_ground] >> visible=true").first.click()
    panel = page.locator("#part")
    expect(panel).to_be_visible()
    closed = panel.locator("details:not([open]) > summary")
    while closed.count():
        closed.first.click()


def try_change(look: Looked, shop: Shop) -> None:
    """A thicker wire is tried."""
    page = opened(look, shop, shop.path("/load?path=trailer.run.brake&to=10%20AWG"))
    expect(page.locator("#moved")).not_to_contain_text("Checking")


def try_nonsense(look: Looked, shop: Shop) -> None:
    """A length is tried that nobody can read."""
    opened(look, shop, shop.path("/load?path=vehicle.feed%5B1%5D.length&to=a%20while"))


def see_mend(look: Looked, shop: Shop) -> None:
    """A mend is looked at before it is taken."""
    page = opened(look, shop, shop.path("/findings"))
    page.get_by_role("link", name=re.compile("^Do it")).first.click()
    page.wait_for_load_state("networkidle")


def turn(look: Looked, shop: Shop) -> None:
    """Socket and plug are turned, where thirteen pins have no confirmed places."""
    opened(look, shop, shop.path("/hook-up?side=face", "caravan-thirteen-pin"))


def choose_command(look: Looked, shop: Shop) -> None:
    """The list of commands is open."""
    page = opened(look, shop, shop.path("/run?do=left"))
    if page.locator(".chooser summary").is_visible():
        page.locator(".chooser summary").click()


State = Callable[[Looked, Shop], None]
STATES: tuple[State, ...] = (open_place, try_change, try_nonsense, see_mend, turn, choose_command)


@pytest.mark.parametrize(("width", "scheme"), LOOKS)
def test_every_state_is_accessible_and_fits(
    browser: Browser, shop: Shop, width: str, scheme: str
) -> None:
    for state in STATES:
        with looking(browser, width, scheme) as look:
            state(look, shop)
            assert look.faults() == [], state
            assert look.faults_in_other_scheme() == [], state
            assert look.too_small() == [], state
            assert look.overflow_px() <= 0, state
            assert look.said == [], state


@pytest.fixture
def desk(browser: Browser, shop: Shop) -> Iterator[Looked]:
    with looking(browser, "desk", "light") as look:
        yield look


@pytest.fixture
def phone(browser: Browser, shop: Shop) -> Iterator[Looked]:
    with looking(browser, "phone", "light") as look:
        yield look


def test_a_command_energises_the_run_without_leaving_the_page(desk: Looked, shop: Shop) -> None:
    page = opened(desk, shop, shop.path("/run"))
    page.evaluate("window.stays = true")
    page.get_by_role("link", name="reverse gear", exact=True).click()

    expect(page.get_by_role("heading", level=1)).to_have_text("Reverse gear")
    assert "do=reverse" in page.url
    assert page.evaluate("window.stays")
    expect(page.locator("#do-reverse")).to_have_attribute("aria-current", "true")
    expect(page.locator("#said-run")).to_contain_text("reverse gear")


def test_the_place_that_was_touched_follows_the_command(desk: Looked, shop: Shop) -> None:
    page = opened(desk, shop, shop.path("/run"))
    page.locator(".wide a[data-part=cord_wire_2_brake]").click()
    with_brakes = page.locator("#part .figures dd b").first.inner_text()
    page.get_by_role("link", name="park lamps", exact=True).click()

    expect(page.locator("#part .figures dd b").first).not_to_have_text(with_brakes)
    expect(page.locator("#part-title")).to_have_text("Cord, brake")


def test_escape_closes_the_place_and_gives_the_focus_back(desk: Looked, shop: Shop) -> None:
    page = opened(desk, shop, shop.path("/run"))
    page.locator("#run-cord_wire_1_ground").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#part")).to_be_focused()
    page.keyboard.press("Escape")

    expect(page.locator("#part")).to_be_hidden()
    assert page.evaluate("document.activeElement.id") == "run-cord_wire_1_ground"


def test_a_phone_shows_the_folded_run_and_a_desk_the_wide_one(
    desk: Looked, phone: Looked, shop: Shop
) -> None:
    wide, narrow = opened(desk, shop, shop.path("/run")), opened(phone, shop, shop.path("/run"))

    expect(wide.locator(".wide svg")).to_be_visible()
    expect(wide.locator(".folded")).to_be_hidden()
    expect(narrow.locator(".wide")).to_be_hidden()
    expect(narrow.locator(".folded svg").first).to_be_visible()


def test_the_command_is_chosen_with_one_thumb(phone: Looked, shop: Shop) -> None:
    page = opened(phone, shop, shop.path("/run"))
    page.locator(".chooser summary").click()
    page.locator(".chooser").get_by_role("link", name="left signal", exact=True).click()

    expect(page.get_by_role("heading", level=1)).to_have_text("Left signal")
    expect(page.locator(".chooser ul")).to_be_hidden()


def box_sizes(page: Page, selector: str) -> list[tuple[float, float]]:
    sizes = []
    for each in page.locator(selector).all():
        box = each.bounding_box()
        if box is not None and each.is_visible():
            sizes.append((box["width"], box["height"]))
    return sizes


@pytest.mark.parametrize("place", PLACES)
def test_what_is_pressed_is_large_enough_for_a_glove(phone: Looked, shop: Shop, place: str) -> None:
    """48 px: what the makers of phone systems ask for. Common practice."""
    page = opened(phone, shop, shop.path(place))
    sizes = box_sizes(page, "main .pick, main .button, main button, main summary, main .spot")

    assert sizes
    assert min(height for _, height in sizes) >= 46.5
    assert min(width for width, _ in sizes) >= 46.5


def test_the_numbers_of_a_trial_come_at_once(desk: Looked, shop: Shop) -> None:
    page = opened(desk, shop, shop.path("/load"))
    page.select_option("#f-path", "trailer.run.brake")
    page.wait_for_selector("#f-to")
    page.select_option("#f-to", "8 AWG")

    expect(page.locator(".moved")).to_contain_text("Weakest brake magnet")
    page.select_option("#f-path", "trailer.run.tail")
    expect(page.locator("label[for=f-to]")).to_contain_text("16 AWG")
    page.select_option("#f-to", "12 AWG")
    expect(page.locator(".tried li")).to_have_count(2)
    page.get_by_role("link", name=re.compile("Leave it as it is: run, electric brakes")).click()
    expect(page.locator(".tried li")).to_have_count(1)


def test_a_trial_is_kept_and_taken_back(desk: Looked, shop: Shop) -> None:
    rig = shop.rigs["utility-rewire"]
    before = shop.store.rigs.newest(rig).text
    page = opened(desk, shop, f"/rigs/{rig}/load?path=trailer.run.tail&to=12%20SAE")
    page.get_by_role("button", name="Keep it").click()

    expect(page.locator(".said")).to_contain_text("version 2")
    assert 'tail = "12 SAE"' in shop.store.rigs.newest(rig).text
    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    assert shop.store.rigs.newest(rig).text == before


def test_a_mend_is_seen_taken_and_gone(desk: Looked, shop: Shop) -> None:
    page = opened(desk, shop, shop.path("/findings", "boat-surge-brakes"))
    danger = page.locator("article").filter(has_text="FUSE04")
    danger.get_by_role("link", name=re.compile("^Do it")).click()
    expect(page.locator(".difference")).to_contain_text("fuse")
    page.get_by_role("button", name="Do it").click()

    expect(page.locator(".said")).to_contain_text("Done in the job file")
    expect(page.locator("article").filter(has_text="FUSE04")).to_have_count(0)


def test_everything_is_reached_with_the_keyboard_alone(desk: Looked, shop: Shop) -> None:
    """Tab comes to the commands and to the drawing; Enter opens a place; Enter closes it."""
    page = opened(desk, shop, shop.path("/run"))
    met: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        here = page.evaluate("document.activeElement.id || document.activeElement.className")
        met.append(here if isinstance(here, str) else "")
        if met[-1].startswith("run-"):
            break
    assert "do-park" in met
    assert "under-dim" in met
    assert met[-1].startswith("run-")
    page.keyboard.press("Enter")
    expect(page.locator("#part")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#part")).to_be_hidden()


def test_what_moves_is_still_where_motion_is_reduced(desk: Looked, shop: Shop) -> None:
    page = opened(desk, shop, shop.path("/run?do=left"))

    assert page.evaluate("document.getAnimations().length") == 0


def test_current_begins_to_flow_where_motion_is_welcome(browser: Browser, shop: Shop) -> None:
    """And stops by itself within five seconds: WCAG 2.2, 2.2.2."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.goto(shop.url + shop.path("/run?do=left"))
    lasts = """Math.max(...document.getAnimations().map(
      (one) => one.effect.getComputedTiming().activeDuration))"""

    assert page.evaluate("document.getAnimations().length") > 0
    assert page.evaluate(lasts) <= 5000
    context.close()
