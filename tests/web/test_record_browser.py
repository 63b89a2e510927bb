"""The record in a real browser: signed by finger or by typing, photos made smaller and upright."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.store.pictures import SECRETS, told_jpeg, told_png
from tests.web.looking import looking
from tools.browser import Running, running, stock
from tools.record_states import fill_record, sign_record

from loomwright.store.opening import open_store
from loomwright.store.records_values import Record
from loomwright.web.settings import Settings

pytestmark = pytest.mark.slow

WIDE_PHOTO = """
async ([wide, high]) => {
  const canvas = new OffscreenCanvas(wide, high);
  const context = canvas.getContext("2d");
  const shade = context.createLinearGradient(0, 0, wide, high);
  shade.addColorStop(0, "#202020");
  shade.addColorStop(1, "#e0c060");
  context.fillStyle = shade;
  context.fillRect(0, 0, wide, high);
  const blob = await canvas.convertToBlob({ type: "image/jpeg", quality: 0.8 });
  return [...new Uint8Array(await blob.arrayBuffer())];
}
"""
SIDES = """
async (address) => {
  const picture = await createImageBitmap(await (await fetch(address)).blob());
  return [picture.width, picture.height];
}
"""


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Running, str]]:
    with open_store(tmp_path_factory.mktemp("shop") / "shop") as store:
        rig = stock(store)
        with running(store, Settings("a secret")) as run:
            yield run, rig


def draft_of(bench: tuple[Running, str]) -> Record:
    run, rig = bench
    draft = run.store.records.draft_of(rig)
    assert draft is not None
    return draft


def open_photos(page: Page, bench: tuple[Running, str]) -> str:
    run, rig = bench
    fill_record(page, run.url, rig)
    page.goto(f"{run.url}/rigs/{rig}/record/write?ask=photos")
    return f"/rigs/{rig}/record/photos"


def test_a_signature_drawn_with_a_finger_is_kept_as_it_was_drawn(
    browser: Browser, bench: tuple[Running, str]
) -> None:
    run, rig = bench
    with looking(browser, "phone", "light") as looked:
        sign_record(looked.page, run.url, rig)
        expect(looked.page.get_by_label(re.compile("technician, signed"))).to_be_visible()
        looked.page.get_by_role("button", name="Sign the record").click()
        expect(looked.page.get_by_role("status")).to_contain_text("Signed")

        (signature,) = run.store.records.records(rig)[0].document["signatures"]
        (stroke,) = signature["strokes"]
        assert (signature["name"], signature["how"]) == ("Ines Ferrara", "drawn")
        assert len(stroke) > 20
        assert stroke[0][0] < stroke[-1][0]
        assert looked.said == []


def test_a_cleared_field_leaves_the_typed_name_as_the_signature(
    browser: Browser, bench: tuple[Running, str]
) -> None:
    run, rig = bench
    with looking(browser, "tablet", "dark") as looked:
        sign_record(looked.page, run.url, rig)
        looked.page.get_by_role("button", name="Clear the field of the technician").click()
        expect(looked.page.get_by_label(re.compile("technician, empty"))).to_be_visible()
        looked.page.get_by_role("button", name="Sign the record").click()
        expect(looked.page.get_by_role("status")).to_contain_text("Signed")

        (signature,) = run.store.records.records(rig)[0].document["signatures"]
        assert (signature["how"], signature["strokes"]) == ("typed", [])


def test_the_keyboard_alone_signs(browser: Browser, bench: tuple[Running, str]) -> None:
    run, rig = bench
    with looking(browser, "desk", "light") as looked:
        page = looked.page
        fill_record(page, run.url, rig)
        page.goto(f"{run.url}/rigs/{rig}/record/sign")
        page.get_by_label("Name").first.focus()
        page.keyboard.press("Control+A")
        page.keyboard.type("Tomas Lind")
        page.keyboard.press("Enter")
        expect(page.get_by_role("status")).to_contain_text("Signed")

        assert run.store.records.records(rig)[0].document["signatures"][0]["name"] == "Tomas Lind"


def test_a_large_photo_is_made_smaller_before_it_travels(
    browser: Browser, bench: tuple[Running, str], tmp_path: Path
) -> None:
    with looking(browser, "phone", "light") as looked:
        address = open_photos(looked.page, bench)
        large = tmp_path / "large.jpg"
        large.write_bytes(bytes(looked.page.evaluate(WIDE_PHOTO, [3000, 1500])))
        looked.page.get_by_label("or choose photos").set_input_files(large)
        looked.page.get_by_role("button", name="Keep these photos").click()
        expect(looked.page.get_by_role("status")).to_contain_text("1 photo kept")

        (photo,) = draft_of(bench).entries.photos
        shown = looked.page.evaluate(SIDES, f"{address}/{photo.sha256}")
        assert shown == [2048, 1024]
        kept = bench[0].store.records.photo(photo.sha256)
        assert len(kept.data) < large.stat().st_size
        assert looked.said == []
        looked.page.get_by_role("button", name="Take out photo 1").click()


@pytest.mark.parametrize("kind", ["jpeg", "png"])
def test_another_decoder_draws_a_stripped_photo_upright(
    browser: Browser, bench: tuple[Running, str], kind: str
) -> None:
    """The browser decodes it by itself: turned by a quarter, 24 by 16 stands 16 by 24."""
    run, _ = bench
    sent = told_jpeg(turned=6) if kind == "jpeg" else told_png(turned=6)
    with looking(browser, "phone", "light") as looked:
        address = open_photos(looked.page, bench)
        draft = run.store.records.add_photo(draft_of(bench).id, sent, "Kim")
        kept = run.store.records.photo(draft.entries.photos[-1].sha256)

        assert looked.page.evaluate(SIDES, f"{address}/{kept.sha256}") == [16, 24]
        assert [secret for secret in SECRETS if secret in kept.data] == []
