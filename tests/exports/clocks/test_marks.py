"""Labels of events: where they stand and what they say."""

from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.axis import Axis
from exports.clocks.frame import LEFT_PX, LETTER_PX, RIGHT_PX, WIDTH_PX
from exports.clocks.marks import EventMark, event_marks, event_rows
from models.local_clock import LocalClock
from models.records import SurfaceEvents
from tests.builders import MONDAY
from tests.exports.clocks.clocks_builders import events, window
from tests.exports.exports_builders import horizon

AXIS, CLOCK = Axis(horizon(), "Europe/Berlin"), LocalClock("Europe/Berlin")


def at_hours(*hours: float) -> SurfaceEvents:
    sheen, cover, people, ends = (
        window(MONDAY + timedelta(hours=each), 0) for each in hours
    )
    return events("P1-top").model_copy(
        update={
            "sheen_gone": sheen, "takes_cover": cover, "bears_people": people,
            "curing_ends": ends,
        }
    )  # fmt: skip


def extent(mark: EventMark) -> tuple[float, float]:
    width = LETTER_PX * len(mark.words)
    left = mark.text_x - width if mark.anchor == "end" else mark.text_x
    return left, left + width


def test_marks_stand_at_their_share_of_the_week() -> None:
    marks = event_marks(events("P1-top"), AXIS, CLOCK)
    # The plot is 1004 px for 36 h: 6, 8, 9 and 30 h.
    assert [mark.x for mark in marks] == pytest.approx(
        [64 + 1004 / 6, 64 + 1004 * 2 / 9, 64 + 1004 / 4, 64 + 1004 * 5 / 6], abs=0.051
    )
    # Half an hour to both sides is 13.94 px.
    assert marks[0].x - marks[0].early_px == pytest.approx(1004 / 72, abs=0.11)
    assert marks[0].late_px - marks[0].x == pytest.approx(1004 / 72, abs=0.11)


def test_labels_say_the_sites_wall_clock() -> None:
    words = [mark.words for mark in event_marks(events("P1-top"), AXIS, CLOCK)]
    assert words == [
        "sheen gone 12:00 CEST", "can be covered 14:00 CEST",
        "firm underfoot 15:00 CEST", "curing ends 12:00 CEST",
    ]  # fmt: skip


@given(st.lists(st.floats(-5, 60), min_size=4, max_size=4))
def test_no_label_lies_on_another_or_leaves_the_picture(hours: list[float]) -> None:
    marks = event_marks(at_hours(*sorted(hours)), AXIS, CLOCK)
    for row in {mark.row for mark in marks}:
        extents = sorted(extent(mark) for mark in marks if mark.row == row)
        assert all(one[1] < other[0] for one, other in pairwise(extents))
    for mark in marks:
        left, right = extent(mark)
        assert LEFT_PX - 5 <= mark.x <= RIGHT_PX
        assert left >= 0
        assert right <= WIDTH_PX + 5
    assert all(mark.row < 4 for mark in marks)


def test_face_ready_for_everything_at_once_gets_one_short_label() -> None:
    (mark, _) = event_marks(at_hours(7, 7, 7, 30), AXIS, CLOCK)
    assert mark.words == "can be covered 13:00 CEST"
    assert mark.spoken == (
        "sheen gone, can be covered, firm underfoot: Mon 3 May 13:00 CEST"
    )


def test_curing_that_ends_after_the_week_is_said_at_its_edge() -> None:
    last = event_marks(at_hours(6, 8, 9, 60), AXIS, CLOCK)[-1]
    assert last.words == "curing ends Wed 5 May 18:00 CEST →"
    assert (last.line, last.anchor, last.x) == (False, "end", RIGHT_PX)


def test_unknown_end_of_curing_is_not_passed_over() -> None:
    unknown = events("P1-top").model_copy(update={"curing_ends": None})
    assert event_marks(unknown, AXIS, CLOCK)[-1].words == (
        "curing ends after the forecast →"
    )
    assert event_rows(unknown, CLOCK)[-1].expected == "after the forecast ends"


def test_events_before_the_week_are_only_in_the_table() -> None:
    early = at_hours(-20, -18, -17, 4)
    assert [m.words for m in event_marks(early, AXIS, CLOCK)] == [
        "curing ends 10:00 CEST"
    ]
    assert event_rows(early, CLOCK)[0].expected == "Sun 2 May 10:00 CEST"


def test_table_gives_windows_only_where_they_are_open() -> None:
    rows = event_rows(events("P1-top"), CLOCK)
    assert rows[0].window == "Mon 3 May 11:30–12:30 CEST"
    assert rows[3].window == ""
