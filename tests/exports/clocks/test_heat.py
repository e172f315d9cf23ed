"""The upper plot: lines, their labels, the strength row."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.axis import Axis
from exports.clocks.frame import HEAT_BOTTOM_PX, HEAT_TOP_PX
from exports.clocks.heat import (
    Line,
    apart,
    courses,
    heat_lines,
    heat_scale,
    strength_texts,
)
from models.records import Horizon
from tests.exports.clocks.clocks_builders import air, hydration
from tests.exports.exports_builders import horizon

AXIS = Axis(horizon(), "Europe/Berlin")


def test_courses_begin_at_placing_and_end_with_the_week() -> None:
    core, surface, outside = courses(hydration(), air(), "P1-top", AXIS, "si")
    assert core[1][0] == (120, 20)
    assert core[1][-1][0] == surface[1][-1][0] == outside[1][-1][0] == 36 * 60
    # The core's peak of 44 °C is 12 h after placing.
    assert max(core[1], key=lambda point: point[1]) == (840, 44)


def test_core_line_is_a_roof_of_three_points() -> None:
    drawn = courses(hydration(), air(), "P1-top", AXIS, "si")
    heights = heat_scale([drawn])
    # Air 11 to 25 °C, core to 44: a scale of 10 to 50 °C over 184 px, 4.6 px a degree.
    assert (heights.low, heights.high) == (10, 50)
    core = next(
        line for line in heat_lines(drawn, heights, AXIS, "°C") if line.style == "core"
    )
    # Minutes 120, 840 and 1560 of 2160 on 1004 px; 20 °C at 138, 44 °C at 27.6 px;
    # then level at 20 °C to the end.
    assert core.path == "M119.8,138l334.6,-110.4l334.7,110.4l278.9,0"
    assert core.label == "core 20 °C"


def test_fahrenheit_is_drawn_on_its_own_scale() -> None:
    drawn = courses(hydration(), air(), "P1-top", AXIS, "us")
    # 20 °C = 68 °F, 44 °C = 111.2 °F.
    assert drawn[0][1][0][1] == pytest.approx(68)
    assert max(y for _, y in drawn[0][1]) == pytest.approx(111.2)


@given(st.lists(st.floats(0, HEAT_BOTTOM_PX), min_size=1, max_size=3))
def test_labels_never_lie_on_each_other_nor_leave_the_plot(ends: list[float]) -> None:
    lines = [
        Line(style=f"s{i}", path="", label="", label_x=0, label_y=y)
        for i, y in enumerate(ends)
    ]
    heights = [line.label_y for line in apart(lines)]
    assert all(b - a >= 14.85 for a, b in pairwise(heights))
    assert heights[0] >= HEAT_TOP_PX
    assert heights[-1] <= HEAT_BOTTOM_PX


def test_strength_stands_at_midnights_once_known() -> None:
    # Week from Monday 06:00 to Tuesday 18:00, placed 08:00: at midnight 16 h, 16 %;
    # at the end of the week 34 h, 34 %.
    texts = strength_texts(hydration(), "P1-top", AXIS)
    assert [text.words for text in texts] == ["16 %", "34 %"]
    # Midnight is 18 h of 36 into it.
    assert [text.x for text in texts] == [566, 1068]


def test_midnights_of_the_spring_change_are_23_hours_apart() -> None:
    # Europe/Berlin, 28 March 2027; see tests/exports/test_axis.py.
    saturday = datetime(2027, 3, 26, 23, 0, tzinfo=UTC)
    axis = Axis(
        Horizon(starts_at=saturday, ends_at=saturday + timedelta(hours=47)),
        "Europe/Berlin",
    )
    texts = strength_texts(hydration(saturday), "P1-top", axis)
    # Placed 2 h into Saturday: 22 h old at its end, 45 h at the end of Sunday.
    assert [text.words for text in texts] == ["22 %", "45 %"]
    assert texts[0].x == pytest.approx(64 + 1004 * 24 / 47, abs=0.051)


def test_no_strength_stands_where_the_row_has_its_name() -> None:
    # Placed ten hours before a week that begins at midnight: 34 h old at its end.
    midnight = datetime(2027, 5, 3, 22, 0, tzinfo=UTC)
    axis = Axis(
        Horizon(starts_at=midnight, ends_at=midnight + timedelta(hours=24)),
        "Europe/Berlin",
    )
    texts = strength_texts(hydration(midnight - timedelta(hours=12)), "P1-top", axis)
    assert [(text.words, text.x) for text in texts] == [("34 %", 1068)]
