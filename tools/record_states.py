"""Acts that lead to the pages of a record: filled in, looked at, being signed, signed."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from playwright.sync_api import Page


def fill_record(page: Page, url: str, rig: str) -> None:
    """Begin a record, or go on with it, to where the places are named."""
    page.goto(f"{url}/rigs/{rig}/record")
    button = page.get_by_role("button", name=re.compile("^Begin"))
    if button.count():
        button.click()
    page.goto(f"{url}/rigs/{rig}/record/write?ask=done")
    page.get_by_role("textbox").fill("Old tap taken out, wire made whole.")
    page.get_by_role("checkbox").first.check()
    page.get_by_role("button", name="Keep").click()


def look_at_record(page: Page, url: str, rig: str) -> None:
    """Look at a record before it is signed."""
    fill_record(page, url, rig)
    page.goto(f"{url}/rigs/{rig}/record/look")


def sign_record(page: Page, url: str, rig: str) -> None:
    """Draw a signature under a record."""
    fill_record(page, url, rig)
    page.goto(f"{url}/rigs/{rig}/record/sign")
    page.get_by_label("Name").first.fill("Ines Ferrara")
    field = page.locator("canvas").first
    field.scroll_into_view_if_needed()
    box = field.bounding_box()
    if box is not None:
        page.mouse.move(box["x"] + 30, box["y"] + 70)
        page.mouse.down()
        for step in range(30):
            page.mouse.move(box["x"] + 30 + 7 * step, box["y"] + 50 + 9 * (step % 7))
        page.mouse.up()


def keep_signed(page: Page, url: str, rig: str) -> None:
    """Sign a record, and see what is kept."""
    sign_record(page, url, rig)
    page.get_by_role("button", name="Sign the record").click()


RECORD_STATES: Mapping[str, Callable[[Page, str, str], None]] = {
    "state-record-places": fill_record,
    "state-record-look": look_at_record,
    "state-record-sign": sign_record,
    "state-record-signed": keep_signed,
}
