"""Letting a device in, as two real browsers do it: a code on one screen, a tablet elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from playwright.sync_api import Browser, Page, expect
from tests.web.looking import looking
from tools.browser import Running, running

from loomwright.store.opening import open_store
from loomwright.web.settings import Settings

pytestmark = pytest.mark.slow

SHOP = "shop.test"  # the browser takes this name for this machine
PIXELS = """
async () => {
  const drawn = document.querySelector(".qr svg").cloneNode(true);
  drawn.setAttribute("width", 400);
  drawn.setAttribute("height", 400);
  const image = new Image();
  const text = new XMLSerializer().serializeToString(drawn);
  image.src = "data:image/svg+xml," + encodeURIComponent(text);
  await image.decode();
  const canvas = Object.assign(document.createElement("canvas"), {width: 400, height: 400});
  const pen = canvas.getContext("2d");
  pen.drawImage(image, 0, 0);
  return [...pen.getImageData(0, 0, 400, 400).data].filter((_, place) => place % 4 === 0);
}
"""


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Running]:
    with open_store(tmp_path / "shop") as store:
        settings = Settings("a secret", addresses=("192.0.2.17",), names=frozenset({SHOP}))
        with running(store, settings) as run:
            yield run


def read_code(page: Page) -> str:
    """What a camera reads off the screen, once the code is drawn."""
    page.wait_for_selector(".qr svg")
    picture = np.array(page.evaluate(PIXELS), dtype=np.uint8).reshape(400, 400)
    (found,) = zxingcpp.read_barcodes(picture)
    return str(found.text)


def test_a_camera_reads_the_code_and_the_tablet_is_in(browser: Browser, shop: Running) -> None:
    port = shop.url.rpartition(":")[2]
    with looking(browser, "desk", "light") as screen, looking(browser, "tablet", "dark") as tablet:
        screen.page.goto(f"{shop.url}/devices")
        screen.page.get_by_role("button", name="Let a device in").click()
        link = read_code(screen.page)
        assert re.fullmatch(r"http://192\.0\.2\.17:\d+/pair\?code=[2-9A-Z]{4}-[2-9A-Z]{4}", link)

        tablet.page.goto(f"http://{SHOP}:{port}/rigs")
        expect(tablet.page.get_by_role("heading", level=1)).to_have_text("Pair this device")
        tablet.page.goto(f"http://{SHOP}:{port}/pair?{link.partition('?')[2]}")
        tablet.page.get_by_label("What is this device called?").fill("bench tablet")
        tablet.page.get_by_role("button", name="Let this device in").click()
        expect(tablet.page.get_by_role("heading", level=1)).to_have_text("No rigs yet")
        tablet.page.goto(f"http://{SHOP}:{port}/new")
        tablet.page.get_by_role("radio").first.check()
        tablet.page.get_by_role("button", name="Begin").click()
        expect(tablet.page.get_by_role("status").first).to_contain_text("Begun")

        screen.page.goto(f"{shop.url}/devices")
        screen.page.get_by_role("button", name="Drop bench tablet").click()
        tablet.page.goto(f"http://{SHOP}:{port}/rigs")
        expect(tablet.page.get_by_role("heading", level=1)).not_to_have_text("Rigs")
    (entry,) = shop.store.rigs.search()
    assert entry.created_by == "bench tablet"
