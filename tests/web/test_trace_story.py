"""A fault found, repaired and tested again in a real browser: by thumb, and by keyboard alone."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect
from tests.web.faulty import Observer
from tests.web.hands import Keys, Thumb
from tests.web.looking import looking
from tools.browser import Running, running

from loomwright import examples, read_rig
from loomwright.lightcheck.model import Plan, Step
from loomwright.lightcheck.plan import plan_for
from loomwright.observations.observation import Observation, from_plain
from loomwright.store.checks_values import Given, NewCheck, Stage
from loomwright.store.opening import open_store
from loomwright.store.store import Store
from loomwright.trace.bench import make_bench
from loomwright.trace.faults import faults_in
from loomwright.web.light_checking.giving import all_expected, answers_of

pytestmark = pytest.mark.slow

RIG = "horse-trailer-van"
FAULT = "ground of left rear lamp at the frame: open"
CAUSE = re.compile("ground of the left rear lamp", re.I)
ALL_RIGHT = re.compile("^every lamp as it should be", re.I)
FOUND_WITHIN = 8
WHO = "Ines, at the lamps"


@pytest.fixture
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Running, str]]:
    """A workbench with one rig in it."""
    with open_store(tmp_path_factory.mktemp("shop") / "shop") as store:
        rig = store.rigs.create(examples.text(RIG), WHO).id
        with running(store) as run:
            yield run, rig


@pytest.fixture(scope="module")
def observer() -> Observer:
    """Somebody who stands at the rig, whose left rear lamp has lost its ground."""
    rig = read_rig(examples.text(RIG))
    (fault,) = (each for each in faults_in(make_bench(rig).wiring) if each.title == FAULT)
    return Observer(rig, fault)


def test_a_lost_ground_is_found_from_the_light_check_and_its_repair_is_tested(
    browser: Browser, bench: tuple[Running, str], observer: Observer
) -> None:
    """The check stops at the first lamp that is out; the questions lead from there to the ground.

    What the lamp does without its ground is solved from the faulted rig. That the current of its
    stop filament then finds its way home backwards, through its tail filament, is common practice.
    """
    run, rig = bench
    number = check_until_park(run.store, rig)
    with looking(browser, "phone", "light") as looked:
        page, thumb = looked.page, Thumb(looked.page, has_touch=True)
        page.goto(f"{run.url}/rigs/{rig}/light-check/{number}/lamps")
        page.locator("#link[data-state=waiting]").wait_for()
        tell_what_is_wrong(page, observer)
        page.goto(f"{run.url}/rigs/{rig}/light-check/{number}/summary")
        thumb.press("link", "Find the cause")
        expect(page.locator(".offer")).to_contain_text("1 of them wrong")
        thumb.press("button", "Find the cause from these")
        thumb.press("button", re.compile("^Stop"))
        expect(page.locator("#two")).to_contain_text("One fault at a time")

        asked = answer_until_sure(page, thumb, observer)
        assert asked
        expect(page.locator("#maybe h3").first).to_have_text(CAUSE)
        expect(page.locator("#repair")).to_contain_text(CAUSE)
        expect(page.locator(".cautions")).to_contain_text("wheels chocked")
        page.locator(".way summary").tap()
        expect(page.locator(".way")).to_contain_text("home through left rear tail")
        expect(page.locator(".way svg").first).to_contain_text("wrong way")
        assert looked.overflow_px() <= 0

        thumb.press("button", "It is repaired: test again")
        held = hold_again(page)
        assert len(set(held)) == len(held) > 1
        expect(page.locator("#done")).to_have_text("It works again")
        expect(page.locator(".seen")).to_contain_text(CAUSE)
        thumb.press("link", "The whole light check")
        page.wait_for_url(re.compile(r"/light-check$"))
        assert looked.said == []


def check_until_park(store: Store, rig: str) -> int:
    """Begin a light check that has come to the park lamps, all right so far; return its number."""
    plan = plan_for(read_rig(store.rigs.newest(rig).text), "trailer")
    first, park = plan.steps[0], step_of(plan, "park")
    check = store.checks.begin(NewCheck(rig, 1, "Light check", Stage.PLAIN, plan), WHO)
    answers = answers_of(all_expected(first.expectations), plan, ())
    store.checks.give(check.id, Given("come-to-park", answers, plan.steps.index(park)), WHO)
    return check.number


def step_of(plan: Plan, command: str) -> Step:
    return next(step for step in plan.steps if step.command == command)


def tell_what_is_wrong(page: Page, observer: Observer) -> None:
    """Tap the word of every lamp that is not as expected, then that the rest is."""
    plan = plan_for(observer.rig, "trailer")
    for each in step_of(plan, "park").expectations:
        word = observer.word("park", each.place.name)
        if word not in each.words:
            page.locator(f'.look[data-key="{each.key}"] [data-other]').tap()
            page.locator("#words").get_by_role("button", name=str(word), exact=True).tap()
    page.locator(".step:not([hidden]) [data-all]").tap()
    expect(page.locator("#link")).to_have_attribute("data-kept", "0")


def answers_on(page: Page) -> tuple[list[tuple[Observation, ...]], Locator]:
    """The answers that the question on the screen can have, and their buttons."""
    forms = page.locator(".next .question .answers form")
    values = forms.locator("[name=observation]").evaluate_all("(all) => all.map((x) => x.value)")
    told = [tuple(from_plain(each) for each in json.loads(value)) for value in values]
    return told, forms.locator("button")


def answer_until_sure(page: Page, thumb: Thumb, observer: Observer) -> list[str]:
    """Answer what is asked as the rig really is, until there is a repair; return what was asked."""
    asked: list[str] = []
    for _ in range(FOUND_WITHIN):
        page.locator("#reasoned.reasoned").wait_for(timeout=30_000)
        if page.locator("#repair").count():
            return asked
        told, buttons = answers_on(page)
        fits = observer.choose(told)
        if fits is None:
            with page.expect_navigation():
                thumb.press("button", "I cannot do that now")
            continue
        asked.append(page.locator("#asked").inner_text())
        button = buttons.nth(fits)
        if not button.is_visible():
            page.locator(".next .question .rest > summary").tap()
        with page.expect_navigation():
            button.tap()
    raise AssertionError(f"not sure after {asked}")


def hold_again(page: Page) -> list[str]:
    """Say of every command that is asked for that all is right again; return what was held."""
    held: list[str] = []
    while not page.locator("#done").count() and len(held) < FOUND_WITHIN:
        expect(page.locator(".step")).to_contain_text("Test the repair")
        held.append(page.locator("#asked").inner_text())
        with page.expect_navigation():
            page.locator(".next").get_by_role("button", name=ALL_RIGHT).first.tap()
    return held


def test_by_keyboard_words_are_said_taken_back_and_made_to_agree(
    browser: Browser, bench: tuple[Running, str]
) -> None:
    run, rig = bench
    with looking(browser, "desk", "dark") as looked:
        page, keys = looked.page, Keys(looked.page)
        page.goto(f"{run.url}/rigs/{rig}/trace")
        page.locator("#reasoned.reasoned").wait_for(timeout=30_000)
        say(page, keys, "park: left rear dark, right rear normal")
        page.locator("#two-do[value=stop]").focus()  # at once: it is gone when the pairs are done
        page.keyboard.press("Enter")
        expect(page.locator("#two")).to_contain_text("One fault at a time")
        expect(page.locator("#two button")).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.locator("#two progress")).to_be_visible()
        keys.press("button", re.compile("^Stop"))
        expect(page.locator("#two")).to_contain_text("One fault at a time")

        first = page.locator("#asked").inner_text()
        keys.press("button", re.compile(re.escape(answer_words(page)), re.I))
        expect(page.locator(".earlier > summary")).to_have_text("1 answer before the last")
        keys.press("button", re.compile("^Take back"))
        expect(page.locator(".earlier")).to_have_count(0)
        expect(page.locator("#asked")).to_have_text(first)

        say(page, keys, "park: left rear normal")
        expect(page.locator(".seen .caution")).to_contain_text("do not go together")
        keys.press("button", "Both were so: it comes and goes")
        expect(page.locator(".seen .caution")).to_have_count(0)
        expect(page.locator(".seen")).to_contain_text("comes and goes")
        expect(page.locator("#maybe h3").first).to_contain_text("comes and goes")
        assert looked.said == []


def answer_words(page: Page) -> str:
    return page.locator(".next .question .answer b").first.inner_text()


def say(page: Page, keys: Keys, words: str) -> None:
    """Say something in one's own words, opening the place for it where it is folded away."""
    if not page.locator("#f-said").is_visible():
        keys.open(page.locator(".else > summary"))
    keys.write("In your own words", words)
    page.keyboard.press("Enter")
    expect(page.locator("#f-said")).to_have_value("")
    page.locator("#maybe").wait_for()
