"""Identifying wires by thumb in a real browser: every stage accessible, a reload resumes."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.web.looking import Looked, looking
from tools.browser import Running, running

from loomwright import examples
from loomwright.store.opening import open_store

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with open_store(tmp_path_factory.mktemp("shop") / "shop") as store, running(store) as run:
        yield run


def begin(page: Page, url: str, wires: str) -> None:
    page.goto(url)
    page.locator(".count label", has=page.get_by_text(wires, exact=True)).click()
    page.get_by_role("button", name="Begin").click()
    tap_colour(page)
    page.get_by_role("link", name="Go on").click()
    page.get_by_role("button", name="All of this is done").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Wire ")


def tap_colour(page: Page) -> None:
    """Tap a base and a stripe for the first wire; nobody can tell the others."""
    page.get_by_role("link", name="Begin with wire 1").click()
    page.locator("label", has=page.get_by_text("brown", exact=True)).first.click()
    expect(page.locator(".chosen b")).to_have_text("brown")
    stripes = page.get_by_role("group", name="Stripe")
    stripes.locator("label", has=page.get_by_text("white", exact=True)).click()
    expect(page.locator(".chosen b")).to_have_text("brown with white stripe")
    page.get_by_role("button", name="Keep, next wire 2").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Wire 2")
    page.get_by_role("link", name="Cannot tell").click()
    expect(page.locator(".bundle")).to_contain_text("brown with white stripe")


def answer(page: Page, name: str) -> None:
    """Press the answer of this name, and wait for the page that follows it."""
    seq = page.locator("[name=seq]").first
    past = seq.input_value()
    page.get_by_role("button", name=name).first.click()
    expect(seq).not_to_have_value(past)
    page.wait_for_load_state("domcontentloaded")


def wrong(looked: Looked) -> list[str]:
    found = looked.faults() + looked.too_small() + looked.said
    return found + (["wider than the screen"] if looked.overflow_px() > 0 else [])


@pytest.mark.parametrize(("width", "scheme"), [("phone", "dark"), ("desk", "light")])
def test_every_stage_is_accessible_and_a_reload_resumes(
    browser: Browser, bench: Running, width: str, scheme: str
) -> None:
    rig = bench.store.rigs.create(examples.text(examples.DEMO), "Ines").id
    url = f"{bench.url}/rigs/{rig}/identify"
    with looking(browser, width, scheme) as looked:
        page = looked.page
        page.goto(url)
        assert wrong(looked) == []
        begin(page, url, "2")
        assert wrong(looked) == []
        answer(page, "Nothing")
        expect(page.locator("#so-far")).to_contain_text("1 reading")
        asked = page.get_by_role("heading", level=1).inner_text()
        page.reload()
        assert page.get_by_role("heading", level=1).inner_text() == asked
        page.get_by_label("or the number").fill("1e9")
        answer(page, "Take it")
        for _ in range(60):
            offered = [
                name
                for name in ("Nothing", "Open")
                if page.get_by_role("button", name=name).count()
            ]
            if not offered:
                break
            answer(page, offered[0])
        expect(page.get_by_role("heading", name="How each was proved")).to_be_visible()
        assert wrong(looked) == []
