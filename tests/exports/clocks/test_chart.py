"""A week of charts on the wall clock, over a change of the clocks too."""

from datetime import UTC, datetime

import pytest

from exports.clocks.chart import Chart, Sources, Week, charts
from models.records import Spread
from tests.builders import MONDAY
from tests.exports.clocks.clocks_builders import IDS, air, drying, hydration
from tests.exports.exports_builders import small_report, small_roster, small_site


def drawn(starts_at: datetime = MONDAY) -> tuple[Week, tuple[Chart, ...]]:
    sources = Sources(
        small_site(), small_roster(starts_at), small_report(starts_at),
        air(starts_at), hydration(starts_at), drying(starts_at), Spread(), (),
    )  # fmt: skip
    return charts(sources)


def test_days_and_noons_of_the_spring_change() -> None:
    # From Saturday 27 March 2027, 18:00 CET, for 36 h: Sunday begins after 6 h and has
    # 23 of them (02:00 does not exist); its noon is 6 + 11 = 17 h into the week.
    week, _ = drawn(datetime(2027, 3, 27, 17, 0, tzinfo=UTC))
    assert [day.words for day in week.days] == [
        "Sat 27 Mar",
        "Sun 28 Mar",
        "Mon 29 Mar",
    ]
    assert [day.x for day in week.days] == pytest.approx(
        [64, 64 + 1004 * 6 / 36, 64 + 1004 * 29 / 36], abs=0.051
    )
    assert week.noons_px == pytest.approx((64 + 1004 * 17 / 36,), abs=0.051)
    # Night from 20:00 CET to 06:00 CEST is 9 h long.
    left, width = week.nights[0]
    assert left == pytest.approx(64 + 1004 * 2 / 36, abs=0.051)
    assert width == pytest.approx(1004 * 9 / 36, abs=0.11)


def test_all_charts_share_one_scale_of_temperature() -> None:
    week, made = drawn()
    assert (week.heat_scale.low, week.heat_scale.high) == (10, 50)
    assert [chart.surface_id for chart in made] == list(IDS)


def test_a_chart_can_be_read_out() -> None:
    _, (slab, *_) = drawn()
    assert slab.spoken.startswith("B2 quay slab: warmest 44.0 °C")
    assert "can be covered: Mon 3 May 14:00 CEST" in slab.spoken
    assert "wetted 3 times" in slab.spoken
    assert slab.spoken.endswith("dry Mon 3 May 12:00–12:30 CEST")


def test_surface_without_a_gap_says_so() -> None:
    _, made = drawn()
    assert made[2].spoken.endswith("no dry gap planned")


def test_missing_figure_is_a_dash() -> None:
    _, made = drawn()
    assert made[2].value("a full cover lasts") == "–"
    assert made[2].value("warmest") == "44.0 °C"
