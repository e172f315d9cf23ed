"""The board as a person meets it: opened from disk, by mouse and by keyboard."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, sync_playwright

from exports.board.board import page, render
from tests.browser import CHROMIUM, FLAGS, quiet_page
from tests.exports.exports_builders import (
    DRAFT,
    frosty_report,
    small_roster,
    small_site,
)

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")


@pytest.fixture(scope="module")
def tab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    folder: Path = tmp_path_factory.mktemp("board")
    path = folder / "board.html"
    made = page(small_site(), small_roster(), frosty_report(), (), DRAFT)
    path.write_text(render(made), "utf-8")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        with quiet_page(browser, path) as opened:
            yield opened
        browser.close()


def test_g_goes_from_one_dry_surface_to_the_next(tab: Page) -> None:
    dry = tab.locator("tr[data-dry]").evaluate_all("rows => rows.map(r => r.id)")
    assert dry
    seen = []
    for _ in dry:
        tab.keyboard.press("g")
        seen.append(tab.evaluate("document.activeElement.id"))
    assert seen == dry


def test_frost_is_the_first_thing_on_the_page_and_marked_in_its_strip(
    tab: Page,
) -> None:
    headings = tab.locator("main h2").all_inner_texts()
    assert headings[:2] == ["Temperature outside its limit", "Dry gaps"]
    tab.set_viewport_size({"width": 390, "height": 800})
    assert tab.locator(".danger .limit").first.bounding_box() is not None
    box = tab.locator(".danger").bounding_box()
    assert box is not None
    assert box["y"] < 800 / 2  # seen without scrolling, on a phone
    tab.set_viewport_size({"width": 1400, "height": 900})
    strip = tab.locator("#s-P1-top svg").bounding_box()
    mark = tab.locator("#s-P1-top rect.breach").bounding_box()
    assert strip is not None
    assert mark is not None
    # A quarter of a day, of a day and a half.
    assert mark["width"] == pytest.approx(strip["width"] * 6 / 36, abs=4)
    fill = tab.locator("#s-P1-top rect.breach").evaluate(
        "e => getComputedStyle(e).fill"
    )
    assert "hatch" in fill  # no mark by colour alone


def test_zoom_makes_the_week_wider_and_says_so(tab: Page) -> None:
    narrow = tab.locator(".wide").evaluate("e => e.getBoundingClientRect().width")
    tab.get_by_role("button", name="One day").click()
    wide = tab.locator(".wide").evaluate("e => e.getBoundingClientRect().width")
    pressed = tab.locator("[aria-pressed=true]").all_inner_texts()
    tab.get_by_role("button", name="Whole week").click()
    assert wide == pytest.approx(6 * narrow, rel=0.05)
    assert pressed == ["One day"]


def test_time_axes_of_all_sections_line_up(tab: Page) -> None:
    lefts = tab.locator(".wide svg, .wide .axis").evaluate_all(
        "all => all.map(e => Math.round(e.getBoundingClientRect().left))"
    )
    assert max(lefts) - min(lefts) <= 1


def test_nothing_is_cut_off_on_a_phone(tab: Page) -> None:
    tab.set_viewport_size({"width": 390, "height": 800})
    overflow = tab.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )
    tab.set_viewport_size({"width": 1400, "height": 900})
    assert overflow <= 0  # the strips scroll in their own frame


def test_captions_and_most_of_a_strip_are_seen_on_a_phone(tab: Page) -> None:
    tab.set_viewport_size({"width": 390, "height": 800})
    rights = tab.locator(".wide caption span").evaluate_all(
        "all => all.map(e => e.getBoundingClientRect().right)"
    )
    labels = tab.locator(".wide th[scope=row]").evaluate_all(
        "all => all.map(e => e.getBoundingClientRect().width)"
    )
    tab.set_viewport_size({"width": 1400, "height": 900})
    assert max(rights) <= 390
    assert max(labels) < 390 / 2


def test_every_sign_of_the_key_has_a_pattern_of_its_own_size(tab: Page) -> None:
    # The strips' patterns are stretched by the minutes of a week.
    scales = tab.locator("pattern[id^=key-]").evaluate_all(
        "all => all.map(e => e.getAttribute('patternTransform'))"
    )
    assert set(scales) == {"scale(1,1)"}
    fill = tab.locator(".key .fog").evaluate("e => getComputedStyle(e).fill")
    assert "key-mist" in fill
