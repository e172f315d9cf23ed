"""Hours of gangs by week, counted by hand. Minute 0 is Monday 06:00, 3 May 2027.

Red gang work 5 shifts of 10 h less half an hour a week: 2850 min. On Saturday, from
minute 7200, they may be called out.
"""

from datetime import date, timedelta

from models.records import Horizon, Party, Visit, WeekHours
from tests.builders import MONDAY, site
from tests.scheduler.audit.audit_builders import (
    FLAT,
    audited,
    site_with,
    task,
    visit,
    work,
)

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
CALL = "red/call/2027-05-08"
LOOKS = work(tasks=tuple(task(name, latest_min=9000) for name in "abc"))


def of_red(*visits: Visit, pairs: tuple[Party, ...] = ()) -> WeekHours:
    red, *others = site().crews
    where = site_with(crews=(red.model_copy(update={"parties": pairs}), *others))
    prices = FLAT.model_copy(update={"call_out_min_h": 2})
    report = audited(visits, [LOOKS], where=where, horizon=WEEK, prices=prices)
    return next(
        week
        for week in report.week_hours
        if week.crew_id == "red" and week.starts_on == date(2027, 5, 3)
    )


def test_shifts_overtime_and_call_outs_of_a_week() -> None:
    # 20 min beyond Tuesday's shift; on Saturday 3 min of walk and 10 of work.
    found = of_red(
        visit("a", 1440 + 670, 10, shift_id="red/day/2027-05-04"),
        visit("b", 7300, 10, shift_id=CALL),
    )
    assert (found.shift_min, found.overtime_min) == (2850, 20)
    assert (found.call_outs, found.call_out_min, found.call_out_paid_min) == (
        1,
        13,
        120,
    )
    assert found.worked_min == 2850 + 20 + 13
    assert found.paid_min == 2850 + 20 + 120


def test_a_long_call_out_is_paid_as_long_as_it_lasts() -> None:
    # From 3 min before 7300 until 7510.
    found = of_red(
        visit("a", 7300, 10, shift_id=CALL), visit("b", 7500, 10, shift_id=CALL)
    )
    assert (found.call_outs, found.call_out_min, found.call_out_paid_min) == (
        1,
        213,
        213,
    )


def test_overtime_of_two_parties_in_a_shift_is_that_of_the_gang_once() -> None:
    # One pair until 680, the other until 700, both beyond 660.
    pairs = tuple(Party(id=f"red {n}", name=f"pair {n}", people=2) for n in (1, 2))
    found = of_red(
        visit("a", 670, 10, "red 1", shift_id="red 1/day/2027-05-03"),
        visit("b", 690, 10, "red 2", shift_id="red 2/day/2027-05-03"),
        pairs=pairs,
    )
    assert found.overtime_min == 40


def test_an_idle_week_is_its_shifts() -> None:
    found = of_red()
    assert (found.worked_min, found.paid_min, found.people) == (2850, 2850, 4)
