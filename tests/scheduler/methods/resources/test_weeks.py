from datetime import datetime, timedelta

from models.records import Horizon, Rules
from scheduler.methods.resources.shifts import crew_shifts
from scheduler.methods.resources.weeks import crew_weeks
from tests.builders import MONDAY, site


def weeks(starts_at: datetime, days: int) -> list[tuple[object, ...]]:
    where = site().model_copy(update={"rules": Rules(week_hours_max_h=48)})
    horizon = Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=days))
    found = crew_weeks(where, horizon, crew_shifts(where, horizon))
    return [
        (w.starts_min, len(w.shift_ids), w.regular_min, w.most_min)
        for w in found
        if w.crew_id == "red"
    ]


def test_without_a_limit_no_week_is_counted() -> None:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    assert crew_weeks(site(), horizon, crew_shifts(site(), horizon)) == ()


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
    found = crew_weeks(where, horizon, crew_shifts(where, horizon))
    assert [one.shift_ids for one in found] == [("owl/night/2027-05-02",), ()]
