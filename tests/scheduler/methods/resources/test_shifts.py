"""Shifts on the site's wall clock, also in the nights in which it is changed."""

from datetime import date, datetime, time, timedelta

import pytest

from models.local_clock import WeekClock
from models.records import (
    Break,
    Costs,
    CrewShift,
    Horizon,
    Party,
    Rules,
    ShiftPattern,
    Site,
    Weekday,
)
from scheduler.audit.replayed.windows import crew_windows
from scheduler.methods.resources.shifts import crew_shifts, pattern_days
from tests.builders import MONDAY, site
from tests.scheduler.methods.methods_builders import utc

DAYS: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def night_site(timezone: str, *breaks: Break) -> Site:
    """One crew that works every night from 22:00 to 06:00."""
    night = ShiftPattern(
        id="night", days=DAYS, starts=time(22), ends=time(6), breaks=breaks
    )
    own = {"shifts": ("night",), "overtime_max_min": 0}
    crew = site().crews[0].model_copy(update=own)
    return site().model_copy(
        update={"timezone": timezone, "shifts": (night,), "crews": (crew,)}
    )


def on(found: tuple[CrewShift, ...], day: str) -> CrewShift:
    return next(shift for shift in found if shift.id.endswith(day))


# Clock changes of 2027 (IANA time zone database, read with zoneinfo):
# Europe/Berlin 28 March 01:00 UTC and 31 October 01:00 UTC,
# America/Chicago 14 March 08:00 UTC and 7 November 07:00 UTC.
# Night by the clock 22:00-06:00: 7 h in spring, 9 h in autumn.
@pytest.mark.parametrize(
    ("timezone", "day", "starts_at", "ends_at", "hours"),
    [
        ("Europe/Berlin", "2027-03-27", (3, 27, 21), (3, 28, 4), 7),
        ("Europe/Berlin", "2027-10-30", (10, 30, 20), (10, 31, 5), 9),
        ("America/Chicago", "2027-03-13", (3, 14, 4), (3, 14, 11), 7),
        ("America/Chicago", "2027-11-06", (11, 7, 3), (11, 7, 12), 9),
    ],
)
def test_a_night_with_a_clock_change_has_the_right_instants(
    timezone: str,
    day: str,
    starts_at: tuple[int, int, int],
    ends_at: tuple[int, int, int],
    hours: int,
) -> None:
    # One of them ends as the clock jumps back, an hour and a half later on the wall.
    pauses = (
        Break(starts=time(1, 30), ends=time(2, 0)),
        Break(starts=time(2, 30), ends=time(3, 0)),
    )
    month, date_, _ = starts_at
    begins = utc(2027, month, date_) - timedelta(days=2)
    horizon = Horizon(starts_at=begins, ends_at=begins + timedelta(days=6))
    shift = on(crew_shifts(night_site(timezone, *pauses), horizon), day)
    assert horizon.at(shift.starts_min) == utc(2027, *starts_at)
    assert horizon.at(shift.ends_min) == utc(2027, *ends_at)
    assert shift.ends_min - shift.starts_min == 60 * hours
    assert [b.until_min - b.from_min for b in shift.breaks] == [30, 30]


def test_breaks_lie_where_the_clock_shows_them() -> None:
    """In Berlin 01:00 is UTC midnight before the spring change; 02:00 is skipped."""
    pauses = (
        Break(starts=time(1, 0), ends=time(1, 30)),
        Break(starts=time(4, 0), ends=time(4, 15)),
    )
    begins = utc(2027, 3, 26)
    horizon = Horizon(starts_at=begins, ends_at=begins + timedelta(days=4))
    found = crew_shifts(night_site("Europe/Berlin", *pauses), horizon)
    first, second = on(found, "2027-03-27").breaks
    assert horizon.at(first.from_min) == utc(2027, 3, 28, 0, 0)
    assert horizon.at(second.from_min) == utc(2027, 3, 28, 2, 0)
    assert second.until_min - second.from_min == 15


def test_a_shift_that_reaches_into_the_horizon_is_cut_at_its_start() -> None:
    """The horizon begins Monday 06:00 local; Sunday's night ends then, so not it."""
    horizon = Horizon(
        starts_at=MONDAY - timedelta(hours=2), ends_at=MONDAY + timedelta(days=1)
    )
    found = crew_shifts(night_site("Europe/Berlin"), horizon)
    sunday = on(found, "2027-05-02")
    assert (sunday.starts_min, sunday.ends_min) == (0, 120)


def test_a_shift_that_reaches_beyond_the_horizon_is_cut_and_has_no_overtime() -> None:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(hours=18))
    monday = on(crew_shifts(night_site("Europe/Berlin"), horizon), "2027-05-03")
    assert (monday.starts_min, monday.ends_min) == (16 * 60, 18 * 60)
    assert monday.overtime_max_min == 0


def test_weekdays_calls_and_overtime() -> None:
    where = site()
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    found = crew_shifts(where, horizon)
    assert [s.id for s in found if s.crew_id == "red"] == [
        "red/day/2027-05-03", "red/day/2027-05-04", "red/day/2027-05-05",
        "red/day/2027-05-06", "red/day/2027-05-07", "red/call/2027-05-08",
        "red/call/2027-05-09",
    ]  # fmt: skip
    day = on(found, "red/day/2027-05-03")
    assert (day.starts_min, day.ends_min, day.overtime_max_min) == (60, 660, 60)
    assert [(b.from_min, b.until_min) for b in day.breaks] == [(360, 390)]
    call = on(found, "red/call/2027-05-08")
    # 40 for the call and three hours at 120, paid at the least.
    assert (call.kind, call.call_out_cost) == ("on_call", 40 + 3 * 120)
    assert call.overtime_max_min == 0


def beyond_site(overtime_min: int = 0, **rules: float) -> Site:
    """The red gang by day, and on call at the weekend from 06:00 to 22:00."""
    base = site()
    red = base.crews[0].model_copy(update={"overtime_max_min": overtime_min})
    return base.model_copy(update={"crews": (red,), "rules": Rules(**rules)})


def breaks(where: Site, day: str) -> list[tuple[int, int]]:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    windows = crew_windows(where, WeekClock(where.timezone, horizon))
    counted = next(w.breaks for w in windows if w.id.endswith(day))
    planned = on(crew_shifts(where, horizon), day).breaks
    found = [(b.from_min, b.until_min) for b in planned]
    assert found == sorted(counted)  # the audit finds them minute by minute
    return found


@pytest.mark.parametrize(
    ("overtime_min", "more"),
    [
        # The break ends at 390; six hours on it is 750, the shift ends at 660.
        (90, []),
        (91, [(750, 751)]),
        (240, [(750, 780)]),
    ],
)
def test_overtime_has_a_break_after_six_hours(
    overtime_min: int, more: list[tuple[int, int]]
) -> None:
    where = beyond_site(overtime_min)
    assert breaks(where, "red/day/2027-05-03") == [(360, 390), *more]


def test_a_shift_without_enough_breaks_has_one_before_its_overtime() -> None:
    # With a break asked for after three hours: at 660, when the shift ends, and again
    # three hours after that one.
    where = beyond_site(240, break_after_h=3)
    found = breaks(where, "red/day/2027-05-03")
    assert found == [(360, 390), (660, 690), (870, 900)]


def test_a_long_stretch_on_call_has_breaks_too() -> None:
    # 7200 is Saturday 06:00: six hours, half an hour, six hours, half an hour, three.
    day = "red/call/2027-05-08"
    assert breaks(beyond_site(), day) == [(7560, 7590), (7950, 7980)]
    assert breaks(beyond_site(break_length_min=0), day) == []


def test_a_call_out_costs_the_call_and_the_hours_that_are_paid_at_least() -> None:
    # 100 for the call and two and a half hours at 30: 175; half a unit for each minute.
    prices = Costs(call_out=100, call_out_hour=30, call_out_min_h=2.5)
    where = site().model_copy(update={"costs": prices})
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    found = crew_shifts(where, horizon)
    call = on(found, "red/call/2027-05-08")
    assert call.call_out_cost == pytest.approx(175)
    assert (call.call_out_paid_min, call.call_out_per_min) == (150, 0.5)
    day = on(found, "red/day/2027-05-03")
    assert day.kind == "shift"
    assert (day.call_out_cost, day.call_out_paid_min, day.call_out_per_min) == (0, 0, 0)


def test_parties_have_the_shifts_of_their_gang_and_name_them() -> None:
    red, owl = site().crews
    pairs = tuple(Party(id=f"red {n}", name=f"pair {n}", people=2) for n in (1, 2))
    where = site().model_copy(
        update={"crews": (red.model_copy(update={"parties": pairs}), owl)}
    )
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=1))
    found = {s.crew_id: s for s in crew_shifts(where, horizon) if s.starts_min == 60}
    assert {crew: s.part_of for crew, s in found.items()} == {
        "red": "", "red 1": "red/day/2027-05-03", "red 2": "red/day/2027-05-03",
    }  # fmt: skip
    assert found["red"].hands == ("red 1", "red 2")
    assert found["red 1"].hands == ("red 1",)


def test_a_break_across_midnight_lasts_its_length() -> None:
    pause = Break(starts=time(23, 45), ends=time(0, 15))
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=3))
    found = crew_shifts(night_site("Europe/Berlin", pause), horizon)
    (monday,) = on(found, "2027-05-03").breaks
    # 23:45 is 17 h 45 min after 06:00
    assert (monday.from_min, monday.until_min) == (1065, 1095)


def test_a_pattern_begins_on_its_weekdays() -> None:
    # Monday to Wednesday, and the Sunday before whose night reaches in.
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=3))
    clock = WeekClock("Europe/Berlin", horizon)
    guard = site().shifts[0].model_copy(update={"days": ("sun", "tue", "sat")})
    assert pattern_days(guard, clock) == [date(2027, 5, 2), date(2027, 5, 4)]


def test_a_shift_that_ends_when_it_starts_goes_round_the_clock() -> None:
    where = night_site("Europe/Berlin")
    guard = where.shifts[0].model_copy(update={"starts": time(7), "ends": time(7)})
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=3))
    found = crew_shifts(where.model_copy(update={"shifts": (guard,)}), horizon)
    monday = on(found, "2027-05-03")
    assert (monday.starts_min, monday.ends_min) == (60, 60 + 1440)


def test_order_is_by_start_then_crew() -> None:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    found = crew_shifts(site(), horizon)
    keys = [(s.starts_min, s.crew_id, s.id) for s in found]
    assert keys == sorted(keys)


def test_instants_do_not_depend_on_how_the_horizon_is_written() -> None:
    """A horizon in local offsets and one in UTC are the same horizon."""
    plain = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=2))
    text = {"starts_at": "2027-05-03T06:00+02:00", "ends_at": "2027-05-05T06:00+02:00"}
    offset = Horizon.model_validate(
        {key: datetime.fromisoformat(value) for key, value in text.items()}
    )
    assert crew_shifts(site(), plain) == crew_shifts(site(), offset)
