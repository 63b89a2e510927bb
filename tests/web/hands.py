"""Two ways to work a page: by tapping, and with the keyboard alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from playwright.sync_api import Locator, Page

Name = str | re.Pattern[str]
MOST_KEYS = 160


class Hand(Protocol):
    """Somebody at a page."""

    page: Page

    def press(self, role: str, name: Name) -> None:
        """Press a link, a button or a summary."""

    def choose(self, name: Name) -> None:
        """Choose one of a few."""

    def write(self, name: Name, text: str) -> None:
        """Write into a field, in place of what stands there."""


@dataclass
class Thumb:
    """Taps, or clicks where there is no touch."""

    page: Page
    has_touch: bool

    def press(self, role: str, name: Name) -> None:
        """Tap a control."""
        self._tap(found(self.page, role, name))

    def choose(self, name: Name) -> None:
        """Tap a choice, anywhere on its line."""
        self._tap(self.page.locator("label", has=found(self.page, "radio", name)).first)

    def write(self, name: Name, text: str) -> None:
        """Tap a field and type."""
        field = found(self.page, "textbox", name)
        self._tap(field)
        field.fill(text)
        field.blur()

    def _tap(self, what: Locator) -> None:
        if self.has_touch:
            what.tap()
        else:
            what.click()


@dataclass
class Keys:
    """Tab, arrows, Enter and Space; no mouse."""

    page: Page

    def press(self, role: str, name: Name) -> None:
        """Tab to a control and press Enter."""
        self._reach(found(self.page, role, name))
        self.page.keyboard.press("Enter")

    def open(self, folded: Locator) -> None:
        """Tab to what is folded away and unfold it."""
        self._reach(folded)
        self.page.keyboard.press("Enter")

    def choose(self, name: Name) -> None:
        """Tab to the group, go to the choice with the arrows."""
        wanted = found(self.page, "radio", name)
        group = wanted.get_attribute("name")
        self._until(wanted, lambda: self._focused("name") == group)
        for _ in range(MOST_KEYS):
            if wanted.evaluate("one => one.checked"):
                return
            self.page.keyboard.press("Space")
            if not wanted.evaluate("one => one.checked"):
                self.page.keyboard.press("ArrowDown")
        raise AssertionError(f"the arrows do not reach {name}")

    def write(self, name: Name, text: str) -> None:
        """Tab to a field and type over it."""
        self._reach(found(self.page, "textbox", name))
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(text)
        self.page.keyboard.press("Tab")

    def _reach(self, wanted: Locator) -> None:
        self._until(wanted, lambda: wanted.evaluate("one => one === document.activeElement"))

    def _until(self, wanted: Locator, is_there: Callable[[], bool]) -> None:
        wanted.wait_for(state="attached")
        for _ in range(MOST_KEYS):
            if is_there():
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"the keyboard does not reach {wanted}")

    def _focused(self, attribute: str) -> str | None:
        value: str | None = self.page.evaluate(
            "(name) => document.activeElement?.getAttribute(name)", attribute
        )
        return value


def found(page: Page, role: str, name: Name) -> Locator:
    """Return the first control of a role with a name; a folded choice goes by its question."""
    if role == "summary":
        return page.locator("fieldset").filter(has_text=name).locator("summary").first
    return page.get_by_role(role, name=name).first  # type: ignore[arg-type]
