"""Acts that lead to the screens of devices: a code, a device that asks to come in, those let in."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from playwright.sync_api import Page

SHOP = "shop.test"
"""A name of this machine that is not its own screen: who comes by it is a guest."""

NAMES = ("bench tablet", "Ana's phone")


def show_code(page: Page, url: str, rig: str) -> None:
    """Let a device in."""
    page.goto(f"{url}/devices")
    page.get_by_role("button", name="Let a device in").click()
    page.locator(".code").wait_for()


def refuse_code(page: Page, url: str, rig: str) -> None:
    """Come as a guest with a code that does not let in."""
    show_code(page, url, rig)
    page.goto(f"{_as_guest(url)}/pair")
    page.get_by_label("The code").fill("MIST-YPED")
    page.get_by_label("What is this device called?").fill(NAMES[0])
    page.get_by_role("button", name="Let this device in").click()
    page.locator(".mend").wait_for()


def list_devices(page: Page, url: str, rig: str) -> None:
    """Let two devices in, and look at the list of them."""
    for name in NAMES:
        page.goto(f"{url}/devices")
        if page.get_by_role("button", name=f"Drop {name}").count() == 0:
            show_code(page, url, rig)
            _come_in(page, url, page.locator(".code").inner_text(), name)
    page.goto(f"{url}/devices")


def _come_in(page: Page, url: str, code: str, name: str) -> None:
    browser = page.context.browser
    if browser is None:
        raise SystemExit("a page without a browser cannot bring a guest")
    with browser.new_context() as guest:
        tablet = guest.new_page()
        tablet.goto(f"{_as_guest(url)}/pair?code={code}")
        tablet.get_by_label("What is this device called?").fill(name)
        tablet.get_by_role("button", name="Let this device in").click()
        tablet.wait_for_url("**/rigs")


def _as_guest(url: str) -> str:
    return f"http://{SHOP}:{url.rpartition(':')[2]}"


DEVICE_STATES: Mapping[str, Callable[[Page, str, str], None]] = {
    "state-pairing-code": show_code,
    "state-pairing-refused": refuse_code,
    "state-devices-in": list_devices,
}
