"""Acts that lead to what the trace screen can be: asked, a repair, its test, a contradiction."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from playwright.sync_api import Locator, Page


def begin_trace(page: Page, url: str, rig: str) -> None:
    """Begin with nothing said, one fault at a time: that is quickest, and the same each time."""
    page.goto(f"{url}/rigs/{rig}/trace")
    page.locator("#reasoned.reasoned").wait_for()
    csrf = page.locator("input[name=csrf]").first.input_value()
    page.request.post(f"{url}/rigs/{rig}/trace/two", form={"csrf": csrf, "do": "stop"})
    open_all(page)
    again = page.get_by_role("button", name="Begin again")
    if again.count():
        send(page, again.first)


def send(page: Page, button: Locator) -> None:
    """Press what leads to a page, and wait until all of that is there."""
    with page.expect_navigation():
        button.click()
    page.locator("#reasoned.reasoned").wait_for()


def say(page: Page, words: str) -> None:
    """Say something in one's own words."""
    open_all(page)
    page.locator("#f-said").fill(words)
    send(page, page.locator(".by-words button"))
    page.locator("#maybe").wait_for()


def open_all(page: Page) -> None:
    """Unfold everything, so that it can be reached and looked at."""
    page.evaluate("document.querySelectorAll('main details').forEach((x) => { x.open = true; })")


def be_asked(page: Page, url: str, rig: str) -> None:
    """Come to a question, in the midst of the conversation."""
    begin_trace(page, url, rig)
    say(page, "park: left rear tail off")
    open_all(page)


def come_to_repair(page: Page, url: str, rig: str) -> None:
    """Come to a cause that is sure enough to repair."""
    begin_trace(page, url, rig)
    say(page, "park: left rear tail off, right rear tail normal")
    say(
        page,
        "park+brake pedal: left rear tail off, left rear left stop turn off, "
        "right rear tail dim, right rear right stop turn normal, plate normal",
    )
    page.locator("#repair").wait_for()
    open_all(page)


def retest_repair(page: Page, url: str, rig: str) -> None:
    """Come to the first test of a repair."""
    come_to_repair(page, url, rig)
    send(page, page.get_by_role("button", name="It is repaired: test again"))
    page.locator(".step").wait_for()
    open_all(page)


def contradict(page: Page, url: str, rig: str) -> None:
    """Say of one lamp two things that cannot both be so."""
    be_asked(page, url, rig)
    say(page, "park: left rear tail normal")
    page.locator(".seen .caution").wait_for()
    open_all(page)


TRACE_STATES: Mapping[str, Callable[[Page, str, str], None]] = {
    "state-trace-repair": come_to_repair,
    "state-trace-test": retest_repair,
    "state-trace-contradiction": contradict,
}
