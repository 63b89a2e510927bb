"""Photograph every screen of the workbench: `make shots`, or `.venv/bin/python -m tools.shots`.

Writes `shots/<width>-<scheme>/<page>.png`. A word on the command line takes only pages whose
name has it. Pages are found by themselves (`tools.walk`); the states that only a sequence of acts
leads to stand in `STATES`.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from playwright.sync_api import TimeoutError as TooLate

from loomwright.store.opening import open_store
from loomwright.web.settings import Settings
from tools.browser import FLAGS, SCHEMES, WIDTHS, browser_path, running, stock
from tools.device_states import DEVICE_STATES, SHOP
from tools.record_states import RECORD_STATES
from tools.trace_states import TRACE_STATES
from tools.walk import pages

EMPTY = "rigs-empty"
NO_NAME = re.compile(r"[^A-Za-z0-9]+")
AS_ON_PAPER = """async () => {
  for (const one of document.querySelectorAll("body *"))
    if (getComputedStyle(one).position === "sticky")
      Object.assign(one.style, { position: "static", maxHeight: "none" });
  const images = [...document.images];
  for (const one of images) one.loading = "eager";
  await Promise.all(images.map((one) => one.decode().catch(() => null)));
}"""
SOON_MS = 2000.0
PATIENCE_MS = 180_000.0
"""A busy machine solves a rig that was just changed in its own time."""
TARGET = Path(__file__).parent.parent / "shots"


def refuse_kind(page: Page, url: str, rig: str) -> None:
    """Begin a rig without saying of what kind."""
    page.goto(f"{url}/new")
    page.get_by_role("button", name="Begin").click()


def break_text(page: Page, url: str, rig: str) -> None:
    """Type what no job file can hold, into a copy: it may be kept as it is."""
    page.goto(f"{url}/rigs/{rig}")
    page.get_by_role("button", name="Copy this rig").click()
    page.wait_for_url(lambda address: "/rigs/" in address and rig not in address)
    page.goto(f"{page.url.partition('?')[0]}/text")
    box = page.get_by_role("textbox")
    box.fill(box.input_value().replace('"16 AWG"', '"16"').replace('"us"', '"imperial"'))
    page.get_by_role("heading", name=re.compile("to mend")).wait_for()


def _name_trailer(page: Page, name: str) -> None:
    box = page.get_by_role("textbox")
    box.fill(re.sub(r'name = "Marsh Hollow[^"]*"', f'name = "{name}"', box.input_value()))


def collide(page: Page, url: str, rig: str) -> None:
    """Keep a text while somebody else has kept another."""
    page.goto(f"{url}/rigs/{rig}/text")
    other = page.context.new_page()
    stamp = page.locator("input[name=based_on]").input_value()
    other.goto(f"{url}/rigs/{rig}/text")
    _name_trailer(other, f"Marsh Hollow, plate {stamp}")
    other.get_by_text("Kept as version").wait_for()
    _name_trailer(page, f"Marsh Hollow for {stamp}")
    with suppress(TooLate):  # what is typed is kept at once, and may be refused before
        page.get_by_role("button", name="Keep and go back").click(timeout=SOON_MS)
    page.get_by_role("heading", name="Two people changed this rig").wait_for()
    other.close()


def see_change(page: Page, url: str, rig: str) -> None:
    """Look at what a version changed."""
    page.goto(f"{url}/rigs/{rig}/history/2")


def miss(page: Page, url: str, rig: str) -> None:
    """Ask for a page that is not there."""
    page.goto(f"{url}/nowhere")


def unknown_wires(page: Page, url: str, rig: str) -> None:
    """Begin a bundle of five unknown wires, up to the cautions."""
    page.goto(f"{url}/rigs/{rig}/identify")
    if page.get_by_role("button", name="Begin another bundle").count():
        page.get_by_role("button", name="Begin another bundle").click()
    elif page.get_by_role("button", name="All of this is done").count():
        return
    page.locator(".count label", has=page.get_by_text("5", exact=True)).click()
    page.get_by_role("button", name="Begin", exact=True).click()
    page.get_by_role("link", name="Without colours").click()


def ask_of_wires(page: Page, url: str, rig: str) -> None:
    """Come to the first question about unknown wires."""
    unknown_wires(page, url, rig)
    page.get_by_role("button", name="All of this is done").click()
    page.locator("button[value=nothing]").click()


def look_at_lamps(page: Page, url: str, rig: str) -> None:
    """Stand at the lamps in a light check that was begun, with one of them out."""
    page.goto(f"{url}/rigs/{rig}/light-check/1/lamps")
    page.locator("#link[data-state=waiting]").wait_for()


STATES: Mapping[str, Callable[[Page, str, str], None]] = {
    **DEVICE_STATES,
    "state-kind-refused": refuse_kind,
    "state-text-to-mend": break_text,
    "state-two-people": collide,
    "state-version": see_change,
    "state-missing": miss,
    "state-wires-cautions": unknown_wires,
    "state-wires-question": ask_of_wires,
    **RECORD_STATES,
    **TRACE_STATES,
    "state-light-check-lamps": look_at_lamps,
}


def named(walked: Sequence[str], rig: str, draft: str) -> Iterator[tuple[str, str]]:
    """Yield the name and the address of every page that can be opened."""
    for address in walked:
        path, _, query = address.partition("?")
        name = path.replace(f"/rigs/{rig}", "rig").strip("/").replace("/", "-")
        yield f"{name}-{NO_NAME.sub('-', query)[:24].strip('-')}".rstrip("-"), address
    yield "rig-draft", f"/rigs/{draft}"
    yield "rig-draft-text", f"/rigs/{draft}/text"


def picture(page: Page, file: Path) -> None:
    """Photograph a whole page: every image there, and what sticks to the window at its own place.

    What is fixed over the page, as the sheet of a part is, stays as a person sees it.
    """
    page.evaluate(AS_ON_PAPER)
    page.screenshot(path=file, full_page=True)


def photograph(browser: Browser, url: str, rig: str, draft: str, wanted: str) -> int:
    """Take every wanted picture; return how many."""
    taken, walked = 0, pages(url, rig)
    for width, size in WIDTHS.items():
        for scheme in SCHEMES:
            folder = TARGET / f"{width}-{scheme}"
            folder.mkdir(parents=True, exist_ok=True)
            context = _context(browser, width, size, scheme)
            page = context.new_page()
            for name, address in named(walked, rig, draft):
                if wanted not in name:
                    continue
                page.goto(url + address, wait_until="networkidle")
                picture(page, folder / f"{name}.png")
                taken += 1
            for name, act in STATES.items():
                if wanted in name:
                    act(page, url, rig)
                    page.wait_for_load_state("networkidle")
                    picture(page, folder / f"{name}.png")
                    taken += 1
            context.close()
    return taken


def _context(browser: Browser, width: str, size: tuple[int, int], scheme: str) -> BrowserContext:
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        color_scheme="dark" if scheme == "dark" else "light",
        reduced_motion="reduce",
        is_mobile=width == "phone",
        has_touch=width != "desk",
    )
    context.set_default_timeout(PATIENCE_MS)
    return context


def photograph_empty() -> int:
    """Photograph the list of a shop that has just begun, and a rig on paper; return how many."""
    with (
        tempfile.TemporaryDirectory() as folder,
        open_store(Path(folder) / "shop") as store,
        running(store) as bench,
        sync_playwright() as play,
    ):
        browser = play.chromium.launch(executable_path=browser_path(), args=list(FLAGS))
        for width, size in WIDTHS.items():
            for scheme in SCHEMES:
                context = _context(browser, width, size, scheme)
                page = context.new_page()
                page.goto(f"{bench.url}/rigs", wait_until="networkidle")
                picture(page, TARGET / f"{width}-{scheme}" / f"{EMPTY}.png")
                context.close()
        page = browser.new_page()
        rig = stock(store)
        page.goto(f"{bench.url}/rigs/{rig}", wait_until="networkidle")
        page.pdf(path=TARGET / "rig-on-paper.pdf", prefer_css_page_size=True)
        browser.close()
    return len(WIDTHS) * len(SCHEMES) + 1


def main(wanted: str = "") -> int:
    """Photograph the screens whose names have a word in them; all, without a word."""
    with tempfile.TemporaryDirectory() as folder, open_store(Path(folder) / "shop") as store:
        rig = stock(store)
        draft = next(entry.id for entry in store.rigs.search() if not entry.usable)
        settings = Settings(
            "for pictures",
            addresses=("192.0.2.17",),
            names=frozenset({SHOP}),
            data=Path("shop data"),
        )
        with running(store, settings) as bench, sync_playwright() as play:
            browser = play.chromium.launch(executable_path=browser_path(), args=list(FLAGS))
            taken = photograph(browser, bench.url, rig, draft, wanted)
            browser.close()
    if wanted in EMPTY:
        taken += photograph_empty()
    print(f"{taken} pictures in {TARGET.name}")
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:2]))
