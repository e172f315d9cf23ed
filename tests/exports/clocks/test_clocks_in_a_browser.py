"""The clocks as a person meets them: opened from disk, on a desk and on a phone."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from exports.clocks.page import clock_page
from models.records import DryingHistory, Spread
from tests.browser import CHROMIUM, FLAGS, quiet_page
from tests.exports.clocks.clocks_builders import IDS, air, drying, hydration
from tests.exports.exports_builders import (
    DRAFT,
    frosty_report,
    small_roster,
    small_site,
)

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")

SOURCES = (
    small_site(), small_roster(), frosty_report(), air(), hydration(), drying(),
    DRAFT,
)  # fmt: skip


def sides(early: float, late: float) -> tuple[DryingHistory, ...]:
    loss = drying().cover_loss_l_m2_h
    return tuple(
        replace(drying(), cover_loss_l_m2_h=share * loss) for share in (early, late)
    )


SPREAD = Spread(sides(1.2, 0.9), sides(1.4, 0.6), "evaporation ±40 %")
BOXES = """all => all.map(e => { const b = e.getBoundingClientRect();
    return [b.left, b.top, b.right, b.bottom, e.textContent]; })"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def tab(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    path: Path = tmp_path_factory.mktemp("clocks") / "clocks.html"
    path.write_text(clock_page(*SOURCES, SPREAD), "utf-8")
    with quiet_page(browser, path) as opened:
        yield opened


def test_no_words_of_a_chart_lie_on_others(tab: Page) -> None:
    for chart in tab.locator("svg.chart").all():
        boxes = chart.locator("text").evaluate_all(BOXES)
        assert len(boxes) > 20
        for one, other in combinations(boxes, 2):
            apart = (
                one[2] <= other[0] + 1
                or other[2] <= one[0] + 1
                or one[3] <= other[1] + 5  # a line's box is taller than its letters
                or other[3] <= one[1] + 5
            )
            assert apart, (one[4], other[4])


def test_no_words_of_a_chart_are_cut_off(tab: Page) -> None:
    for chart in tab.locator("svg.chart").all():
        (frame,) = chart.evaluate_all(BOXES)
        for left, top, right, bottom, words in chart.locator("text").evaluate_all(
            BOXES
        ):
            assert left >= frame[0] - 1, words
            assert top >= frame[1] - 1, words
            assert right <= frame[2] + 1, words
            assert bottom <= frame[3] + 1, words


def test_plots_are_filled_with_the_pattern_of_the_page(tab: Page) -> None:
    fill = tab.locator("path.bare").first.evaluate("e => getComputedStyle(e).fill")
    assert fill == 'url("#bare")'


def test_what_is_outside_its_limit_comes_first_and_is_marked(tab: Page) -> None:
    first = tab.locator("main h2").first
    assert first.inner_text() == "Temperature outside its limit"
    slab = tab.locator("#s-P1-top")
    words = slab.locator("p.outside").all_inner_texts()
    assert words[0].startswith("Frost on weak concrete Tue 4 May 00:00–06:00 CEST: ")
    assert "not below 0 °C until it has 5.0 MPa (a clause)" in words[0]
    bar = slab.locator("rect.breach").bounding_box()
    frame = slab.locator("svg.chart").bounding_box()
    assert bar is not None
    assert frame is not None
    # Minutes 1080 to 1440 of 2160, on 1004 of the chart's 1200 px.
    assert bar["width"] == pytest.approx(frame["width"] * 1004 / 1200 / 6, abs=3)
    assert slab.locator("text", has_text="frost on weak concrete").count() == 1
    wall = tab.locator("#s-P3-wall")
    assert wall.locator("text", has_text="limit: face + 20 K").count() == 1
    assert tab.locator("#s-P2-top").locator(".breach, .bound, .outside").count() == 0


def test_the_spreads_of_model_and_forecast_differ_in_more_than_colour(
    tab: Page,
) -> None:
    chart = tab.locator("#s-P1-top svg.chart")

    def style(of: str, name: str) -> str:
        shape = chart.locator(f"path.{of}").first
        return str(shape.evaluate(f"e => getComputedStyle(e)['{name}']"))

    assert style("model", "fill") == 'url("#off")'
    assert style("model", "strokeDasharray") == "none"
    assert style("spread", "fill") == "none"
    assert style("spread", "strokeDasharray") != "none"
    for words in ("if forecast is off", "if model is off"):
        assert chart.locator("text", has_text=words).count() == 1
    note = tab.locator("p.note").first.inner_text()
    assert "Hatched band: its loss if the weather is as forecast and the model" in note
    assert "evaporation ±40 %" in note


def test_keyboard_reaches_every_link_chart_and_table(tab: Page) -> None:
    reached = []
    for _ in range(2 + 3 * len(IDS)):
        tab.keyboard.press("Tab")
        reached.append(tab.evaluate("document.activeElement.tagName"))
    # The two surfaces outside a limit are linked above the list of all.
    assert reached == ["A"] * (2 + len(IDS)) + ["DIV", "SUMMARY"] * len(IDS)


def test_nothing_is_cut_off_on_a_phone(tab: Page) -> None:
    tab.set_viewport_size({"width": 390, "height": 800})
    overflow = tab.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )
    tab.set_viewport_size({"width": 1400, "height": 900})
    assert overflow <= 0  # the charts scroll in their own frame


def test_dark_and_light_differ(tab: Page) -> None:
    def paper() -> str:
        return str(tab.evaluate("getComputedStyle(document.body).backgroundColor"))

    light = paper()
    tab.emulate_media(color_scheme="dark")
    dark = paper()
    tab.emulate_media(color_scheme="light")
    assert light != dark
