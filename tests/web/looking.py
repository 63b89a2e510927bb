"""What a browser can tell of a page: accessibility, sizes, shifts, what its console said."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Browser, Page
from tools.browser import WIDTHS

RULES = {
    "runOnly": {
        "type": "tag",
        "values": [
            *("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "wcag2aaa"),
            "best-practice",
        ],
    },
    "rules": {"color-contrast-enhanced": {"enabled": True}, "target-size": {"enabled": True}},
    "resultTypes": ["violations"],
}
CONTRAST = {
    "runOnly": {"type": "rule", "values": ["color-contrast", "color-contrast-enhanced"]},
    "resultTypes": ["violations"],
}
"""What another colour scheme can change, and no more."""

LAID_OUT = {"runOnly": {"type": "rule", "values": ["target-size"]}, "resultTypes": ["violations"]}
"""What a width between two others can change, and no more: its parts are shown at either."""

SHIFTS = """
window.shifted = 0;
new PerformanceObserver((list) => {
  for (const one of list.getEntries()) if (!one.hadRecentInput) window.shifted += one.value;
}).observe({type: "layout-shift", buffered: true});
"""
SMALL = """
(least) => [...document.querySelectorAll(
    "button, input:not([type=hidden]), select, summary, .button, nav a")]
  .filter((one) => one.checkVisibility())
  .map((one) => [one, one.matches("[type=radio], [type=checkbox]") ? one.closest("label") : one])
  .map(([one, target]) => [one.outerHTML.slice(0, 90), target.getBoundingClientRect()])
  .filter(([, box]) => box.width > 0 && (box.height < least || box.width < Math.min(least, 40)))
  .map(([html, box]) => `${html} ${box.width.toFixed()}x${box.height.toFixed()}`)
"""
LEAST_TOUCH_PX = 48
HAS_ENGINE = "'axe' in window"
AT_REST = """
async (rules) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(".bar { position: static !important }");
  document.adoptedStyleSheets = [sheet];
  return (await axe.run(document, rules)).violations;
}
"""


@dataclass(slots=True)
class Looked:
    """A page under the eye: what it complained of stands in `said`."""

    page: Page
    said: list[str] = field(default_factory=list)

    def shift(self) -> float:
        """How much of the page has moved by itself, as browsers count it."""
        moved: float = self.page.evaluate("window.shifted")
        return moved

    def overflow_px(self) -> int:
        """How far the page is wider than the screen."""
        wide: int = self.page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        return wide

    def too_small(self) -> list[str]:
        """Controls that a thumb would miss."""
        found: list[str] = self.page.evaluate(SMALL, LEAST_TOUCH_PX)
        return found

    def faults(self) -> list[str]:
        """What the accessibility engine finds wrong.

        The bar at the thumb lies over whatever is scrolled behind it, which is no fault of that;
        so it is looked at where it rests, at the end of the page.
        """
        return self._found(RULES)

    def faults_of_layout(self) -> list[str]:
        """What the accessibility engine finds of sizes alone."""
        return self._found(LAID_OUT)

    def faults_in_other_scheme(self) -> list[str]:
        """What cannot be read well once the page turns dark, or light again."""
        is_dark = self.page.evaluate("matchMedia('(prefers-color-scheme: dark)').matches")
        self.page.emulate_media(color_scheme="light" if is_dark else "dark")
        found = self._found(CONTRAST)
        self.page.emulate_media(color_scheme="dark" if is_dark else "light")
        return found

    def _found(self, rules: dict[str, Any]) -> list[str]:
        if not self.page.evaluate(HAS_ENGINE):
            self.page.evaluate(AXE_SCRIPT)
        found: list[dict[str, Any]] = self.page.evaluate(AT_REST, rules)
        return [
            f"{one['id']}: {node['html'][:140]} {node.get('failureSummary', '')[:200]}"
            for one in found
            for node in one["nodes"]
        ]


@contextmanager
def looking(browser: Browser, width: str, scheme: str) -> Iterator[Looked]:
    """Open a window of one width in one scheme; it watches what the page complains of."""
    size = WIDTHS[width]
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        color_scheme="dark" if scheme == "dark" else "light",
        is_mobile=width == "phone",
        has_touch=width != "desk",
        reduced_motion="reduce",
    )
    context.add_init_script(SHIFTS)
    looked = Looked(context.new_page())
    looked.page.on(
        "console",
        lambda one: looked.said.append(one.text) if one.type in {"error", "warning"} else None,
    )
    looked.page.on("pageerror", lambda error: looked.said.append(str(error)))
    try:
        yield looked
    finally:
        context.close()
