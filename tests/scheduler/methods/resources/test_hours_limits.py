from datetime import datetime, timedelta

from models.records import Horizon, Rules
from scheduler.methods.resources.hours_limits import hours_limits
from scheduler.methods.resources.shifts import crew_shifts
from tests.builders import MONDAY, site


def weeks(starts_at: datetime, days: int) -> list[tuple[object, ...]]:
    where = site().model_copy(update={"rules": Rules(week_hours_max_h=48)})
    horizon = Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=days))
    found = hours_limits(where, horizon, crew_shifts(where, horizon))
    return [
        (w.starts_min, len(w.shift_ids), w.regular_min, w.most_min)
        for w in found
        if w.crew_id == "red" and w.kind == "week"
    ]


def test_without_a_limit_no_week_is_counted() -> None:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    found = hours_limits(site(), horizon, crew_shifts(site(), horizon))
    assert [one for one in found if one.kind == "week"] == []


def days(overtime_min: int, **rules: float) -> list[tuple[str, int, int]]:
    """Limits on days and call-outs of the red gang, with what they leave."""
    base = site()
    red = base.crews[0].model_copy(update={"overtime_max_min": overtime_min})
    where = base.model_copy(update={"crews": (red,), "rules": Rules(**rules)})
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    found = hours_limits(where, horizon, crew_shifts(where, horizon))
    return [(one.kind, one.starts_min, one.left_min) for one in found]


def test_a_day_is_limited_where_overtime_could_be_too_much() -> None:
    # Five days of 10 h less half an hour: 12 h leave 150 min. On call at the weekend
    # for 16 h, of which 8 may be worked.
    calls = [("call_out", 7200, 480), ("call_out", 8640, 480)]
    assert days(150) == calls
    monday = days(151)[0]
    assert monday == ("day", -360, 150)
    assert len(days(151)) == 5 + len(calls)
    # 10 h a day: 30 min after a shift, and 8 h of a call-out are less.
    assert ("day", -360, 30) in days(60, day_hours_max_h=10)
    # A call-out of 16 h is no longer than its stretch; its day has only 12.
    assert days(0, call_out_max_h=16) == [("day", 6840, 720), ("day", 8280, 720)]


def test_a_week_holds_its_shifts_and_calls_and_counts_shifts_less_breaks() -> None:
    # Monday 06:00 to Monday 06:00; five shifts of 10 h less 30 min, two days on call.
    # The Sunday before the horizon belongs to the week before it.
    before, during, after = weeks(MONDAY, 7)
    assert before == (-360 - 7 * 1440, 0, 5 * 570, 48 * 60)
    assert during == (-360, 7, 5 * 570, 48 * 60)
    assert after[1:] == (0, 5 * 570, 48 * 60)


def test_shifts_of_the_week_before_the_plan_count_in_full() -> None:
    # Thursday to Sunday 06:00: two shifts and Saturday on call are planned.
    found = weeks(MONDAY + timedelta(days=3), 3)
    assert [one[1:3] for one in found] == [(3, 5 * 570)]


def test_a_night_shift_counts_in_the_week_it_begins_in() -> None:
    sunday = ("sun",)
    base = site()
    where = base.model_copy(
        update={
            "shifts": (base.shifts[1].model_copy(update={"days": sunday}),),
            "crews": (base.crews[1],),
            "rules": Rules(week_hours_max_h=48),
        }
    )
    # The plan begins on Monday 04:00, in the last hours of Sunday's shift.
    horizon = Horizon(
        starts_at=MONDAY - timedelta(hours=2), ends_at=MONDAY + timedelta(days=1)
    )
    found = hours_limits(where, horizon, crew_shifts(where, horizon))
    assert [one.shift_ids for one in found] == [("owl/night/2027-05-02",), ()]
