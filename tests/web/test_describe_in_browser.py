"""Describing a rig in a real browser: typing, tapping, keyboard alone, two devices."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tools.browser import Running, running, stock

from loomwright import examples
from loomwright.rig.read import read_job
from loomwright.store.opening import open_store


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with open_store(tmp_path_factory.mktemp("shop") / "shop.loomwright") as store:
        stock(store)
        with running(store) as found:
            yield found


@pytest.fixture
def rig_id(bench: Running) -> str:
    """A demo rig of its own for each test."""
    return bench.store.rigs.create(examples.text(examples.DEMO), "Ines").id


@pytest.fixture
def feed(bench: Running, rig_id: str, browser: Browser) -> Iterator[Page]:
    """The page of the second feed, on a phone."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{bench.url}/rigs/{rig_id}/describe/feeds/2")
    yield page
    context.close()


def test_a_typed_answer_is_kept_when_the_field_is_left(
    bench: Running, rig_id: str, feed: Page
) -> None:
    feed.get_by_label("How long").fill("19 ft")
    feed.keyboard.press("Tab")

    expect(feed.locator(".kept")).to_contain_text('from "17 ft" to "19 ft"')
    assert read_job(bench.store.rigs.newest(rig_id).text).vehicle.feeds[1].length == "19 ft"


def test_what_is_meant_is_tapped_and_kept(bench: Running, rig_id: str, feed: Page) -> None:
    feed.get_by_label("Which colour?").fill("BR/GR")
    feed.get_by_role("button", name="brown with grey stripe").click()

    expect(feed.get_by_label("Which colour?")).to_have_value("brown with grey stripe")
    newest = bench.store.rigs.newest(rig_id)
    assert newest.number == 2
    assert read_job(newest.text).vehicle.feeds[1].colour == "brown with grey stripe"


def test_nothing_typed_is_lost_while_another_answer_is_kept(
    bench: Running, rig_id: str, feed: Page
) -> None:
    feed.get_by_label("How long").fill("19 ft")
    feed.get_by_label("Which fuse?").click()
    feed.keyboard.press("End")
    feed.keyboard.type("mp", delay=40)
    expect(feed.locator(".kept")).to_contain_text("19 ft")

    expect(feed.get_by_label("Which fuse?")).to_have_value("10 Amp")
    feed.get_by_label("Always").check()
    expect(feed.locator(".kept")).to_contain_text("always")
    kept = read_job(bench.store.rigs.newest(rig_id).text).vehicle.feeds[1]
    assert (kept.length, kept.fuse, kept.live) == ("19 ft", "10 Amp", "always")


def test_a_wrong_answer_stays_with_its_mend_and_comes_back_after_leaving(
    bench: Running, rig_id: str, feed: Page
) -> None:
    feed.get_by_label("How long").fill("a long way")
    feed.keyboard.press("Tab")
    expect(feed.locator("#n-vehicle-feed-2-length")).to_contain_text("To mend")
    expect(feed.get_by_label("How long")).to_have_attribute("aria-invalid", "true")

    feed.goto(f"{bench.url}/rigs/{rig_id}/describe/feeds/2")
    expect(feed.get_by_label("How long")).to_have_value("a long way")


def test_a_feed_is_described_with_the_keyboard_alone(
    bench: Running, rig_id: str, feed: Page
) -> None:
    feed.get_by_label("How long").focus()
    feed.keyboard.press("ControlOrMeta+a")
    feed.keyboard.type("21 ft")
    feed.keyboard.press("Tab")
    expect(feed.get_by_label("Which fuse?")).to_be_focused()
    expect(feed.locator(".kept")).to_contain_text("21 ft")
    feed.get_by_role("radio", name="Not said").first.focus()
    feed.keyboard.press("ArrowUp")
    expect(feed.locator(".kept")).to_contain_text("new")

    assert read_job(bench.store.rigs.newest(rig_id).text).vehicle.feeds[1].length == "21 ft"


def test_the_whole_works_without_scripts(bench: Running, rig_id: str, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{bench.url}/rigs/{rig_id}/describe/lamps")
    page.get_by_role("radio", name="LED").check()
    page.get_by_role("button", name="Reversing lamps").click()
    page.get_by_label("How far behind the junction?").fill("8 m")
    page.get_by_role("button", name="Keep and go back").click()

    assert page.url.endswith("/describe/lamps")
    lamp = read_job(bench.store.rigs.newest(rig_id).text).trailer.lamps[-1]
    assert (lamp.name, lamp.back, lamp.lights) == ("reversing lamps", "8 m", {"reverse": "LED"})
    context.close()


def test_two_devices_editing_one_rig_see_both(bench: Running, rig_id: str, feed: Page) -> None:
    newest = bench.store.rigs.newest(rig_id)
    theirs = newest.text.replace('"21 ft"', '"22 ft"').replace('size = "1 mm2"', 'size = "2 mm2"')
    bench.store.rigs.save(rig_id, theirs, newest.number, "Tomas, bay tablet")
    feed.get_by_label("How thick?").fill("14 SAE")
    feed.keyboard.press("Tab")

    expect(feed.get_by_role("heading", level=1)).to_have_text("Two people changed this rig")
    assert Axe().run(feed, "main").violations_count == 0
    feed.get_by_role("button", name="Keep what is marked").click()
    expect(feed.get_by_role("heading", level=1)).to_have_text("Describe the rig")
    feeds = read_job(bench.store.rigs.newest(rig_id).text).vehicle.feeds
    assert (feeds[1].size, feeds[2].length) == ("14 SAE", "22 ft")


def test_the_stripe_is_shown_on_the_base_that_was_chosen(
    bench: Running, rig_id: str, feed: Page
) -> None:
    feed.get_by_role("button", name="Choose by swatch").click()
    feed.get_by_role("group", name="Base").get_by_label("pink").check()
    expect(feed.locator(".chosen")).to_contain_text("pink")
    feed.get_by_role("group", name="Stripe").get_by_label("gold").check()
    expect(feed.locator(".chosen")).to_contain_text("pink with gold stripe")
    feed.get_by_role("button", name="Keep this colour").click()

    expect(feed.get_by_label("Which colour?")).to_have_value("pink with gold stripe")


def test_what_a_lamp_counts_as_is_ticked_one_after_the_other(
    bench: Running, rig_id: str, feed: Page
) -> None:
    """The list stays open meanwhile, and what is written more than once stays so."""
    feed.goto(f"{bench.url}/rigs/{rig_id}/describe/lamps/5")
    feed.get_by_text("By the rules").click()
    asked = feed.get_by_role("group", name="What does it count as?")
    asked.locator("summary").click()
    expect(asked.get_by_role("checkbox", name="identification rear, 3 times")).to_be_checked()
    asked.get_by_role("checkbox", name="clearance rear").check()
    expect(feed.locator(".kept")).to_contain_text("clearance_rear")
    asked.get_by_role("checkbox", name="stop lamp", exact=True).check()
    expect(feed.locator(".kept")).to_contain_text("stop_lamp")

    lamp = read_job(bench.store.rigs.newest(rig_id).text).trailer.lamps[4]
    assert sorted(lamp.counts_as or ()) == sorted(
        ["identification_rear"] * 3 + ["clearance_rear", "stop_lamp"]
    )
