"""Shifts, days off, nights and cool mornings of the site."""

from datetime import timedelta

from models.records import Horizon, Stretch
from scheduler.methods.resources.calendar import SiteCalendar, site_calendar
from tests.builders import MONDAY, site


def calendar(days: int = 7) -> SiteCalendar:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=days))
    return site_calendar(site(), horizon, 4)


def test_worked_shifts_come_once_with_stable_names() -> None:
    names = [watch.name for watch in calendar(2).shifts]
    assert names == [
        "2027-05-03-day", "2027-05-03-night", "2027-05-04-day", "2027-05-04-night",
    ]  # fmt: skip


def test_patterns_with_the_same_hours_are_one_shift() -> None:
    where = site()
    twin = where.shifts[0].model_copy(update={"id": "twin"})
    crew = where.crews[0].model_copy(update={"shifts": ("day", "twin")})
    double = where.model_copy(
        update={"shifts": (*where.shifts, twin), "crews": (crew, *where.crews[1:])}
    )
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=2))
    assert site_calendar(double, horizon, 4).shifts == calendar(2).shifts


def test_days_without_a_worked_shift_are_daylight_watches() -> None:
    """Saturday 06:00 local is minute 5 × 1440; on call is not worked."""
    saturday, sunday = calendar().days_off
    assert saturday.stretch == Stretch(from_min=7200, until_min=7200 + 14 * 60)
    assert (saturday.name, sunday.name) == ("2027-05-08", "2027-05-09")


def test_mornings_are_those_that_somebody_works_in() -> None:
    """06:00 to 10:00 local; the day shift begins at 07:00. No weekend."""
    mornings = calendar().mornings
    assert [m.from_min // 1440 for m in mornings] == [0, 1, 2, 3, 4]
    assert mornings[0] == Stretch(from_min=0, until_min=240)


def test_night_by_the_local_clock() -> None:
    found = calendar()
    assert not found.is_night(14 * 60 - 1)
    assert found.is_night(14 * 60)
    assert found.is_night(24 * 60 - 1)
    assert not found.is_night(24 * 60)


def test_one_watch_a_day() -> None:
    names = [watch.name for watch in calendar().daily()]
    assert names == [
        "2027-05-03-day", "2027-05-04-day", "2027-05-05-day", "2027-05-06-day",
        "2027-05-07-day", "2027-05-08", "2027-05-09",
    ]  # fmt: skip
