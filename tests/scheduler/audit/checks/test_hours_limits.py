"""The most hours of a week, a day and a call-out, counted by hand.

Red gang work 5 shifts of 10 h less half an hour a week: 47.5 h. On Saturday, from
minute 7200, they may be called out.
"""

from datetime import timedelta

import pytest

from models.records import AuditReport, Horizon, Rules
from tests.builders import MONDAY, site
from tests.scheduler.audit.audit_builders import (
    audited,
    site_with,
    task,
    visit,
    work,
)

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
CALL = "red/call/2027-05-08"


def worked(most_h: float) -> AuditReport:
    """A look with 20 min of overtime on Tuesday, and one in a call-out on Saturday.

    The call-out takes 3 min of walk and 10 of work: 33 min together.
    """
    looks = work(tasks=(task("look", latest_min=9000), task("late", latest_min=9000)))
    visits = [
        visit("look", 1440 + 670, 10, shift_id="red/day/2027-05-04"),
        visit("late", 7300, 10, shift_id=CALL),
    ]
    where = site_with(rules=Rules(week_hours_max_h=most_h))
    return audited(visits, [looks], where=where, horizon=WEEK)


@pytest.mark.parametrize(("beyond_min", "kept"), [(32, False), (33, True)])
def test_overtime_and_call_outs_count_on_top_of_the_shifts(
    beyond_min: int, kept: bool
) -> None:
    found = worked(47.5 + beyond_min / 60).violations
    assert [finding.kind for finding in found] == ([] if kept else ["week"])
    if found:
        assert found[0].words == (
            "Red gang works 48.0 h in the week of 2027-05-03, 33 min of it "
            "outside shifts; 48.0333 h are allowed"
        )


def test_the_week_before_the_plan_counts_too() -> None:
    # A plan that begins on Tuesday: Monday's shift still takes 9.5 of the 47.5 h.
    tuesday = Horizon(starts_at=MONDAY + timedelta(days=1), ends_at=WEEK.ends_at)
    looks = work(tasks=(task("look", latest_min=9000),))
    late = visit("look", 1440 + 670, 10, shift_id="red/day/2027-05-04")
    for most_h, kept in ((47.75, False), (48, True)):
        where = site_with(rules=Rules(week_hours_max_h=most_h))
        report = audited([late], [looks], where=where, horizon=tuesday)
        assert (report.violations == ()) is kept


def test_a_week_ends_with_its_sunday() -> None:
    # Shifts on Monday and Sunday are 19 h; Monday's look goes 20 min beyond.
    day = site().shifts[0].model_copy(update={"days": ("mon", "sun")})
    looks = work(tasks=(task("look"),))
    late = visit("look", 670, 10)
    for most_h, kept in ((19 + 19 / 60, False), (19 + 20 / 60, True)):
        where = site_with(
            shifts=(day, *site().shifts[1:]), rules=Rules(week_hours_max_h=most_h)
        )
        report = audited([late], [looks], where=where, horizon=WEEK)
        assert (report.violations == ()) is kept


def test_a_week_too_long_is_told_from_its_first_job_to_its_last_end() -> None:
    (found,) = worked(47.5).violations
    minute = WEEK.minute
    assert (minute(found.starts_at), minute(found.ends_at)) == (2110, 7310)
    assert found.crew_id == "red"


@pytest.mark.parametrize(("beyond_min", "kept"), [(19, False), (20, True)])
def test_overtime_of_a_shift_lasts_until_its_last_job(
    beyond_min: int, kept: bool
) -> None:
    # Looks from 600 and from 670: 20 min beyond 660. What is done on no shift at all
    # counts in no week.
    looks = work(tasks=tuple(task(name) for name in ("a", "b", "c")))
    visits = [
        visit("a", 600, 10),
        visit("b", 670, 10),
        visit("c", 1200, 10, shift_id="red/evening"),
    ]
    where = site_with(rules=Rules(week_hours_max_h=47.5 + beyond_min / 60))
    report = audited(visits, [looks], where=where, horizon=WEEK)
    kinds = [finding.kind for finding in report.violations]
    assert kinds == (["shift"] if kept else ["week", "shift"])


def test_shifts_that_are_too_many_by_themselves_are_not_the_rosters_fault() -> None:
    where = site_with(rules=Rules(week_hours_max_h=40))
    looks = work(tasks=(task("look"),))
    assert audited([visit("look", 300, 10)], [looks], where=where).violations == ()


@pytest.mark.parametrize(("left_min", "kept"), [(19, False), (20, True)])
def test_a_day_holds_its_shift_and_its_overtime(left_min: int, kept: bool) -> None:
    # A look until 680: 20 min beyond the shift of 10 h less half an hour.
    looks = work(tasks=(task("look"),))
    where = site_with(rules=Rules(day_hours_max_h=9.5 + left_min / 60))
    report = audited([visit("look", 670, 10)], [looks], where=where, horizon=WEEK)
    words = [finding.words for finding in report.violations]
    said = (
        "Red gang works 9.8 h on 2027-05-03, 20 min of it outside shifts; "
        "9.81667 h are allowed"
    )
    assert words == ([] if kept else [said])


@pytest.mark.parametrize(("most_min", "kept"), [(212, False), (213, True)])
def test_a_call_out_is_no_longer_than_allowed(most_min: int, kept: bool) -> None:
    # From the walk of 3 min before 7300 to 7510: 213 min.
    looks = work(tasks=(task("a", latest_min=9000), task("b", latest_min=9000)))
    visits = [visit("a", 7300, 10, shift_id=CALL), visit("b", 7500, 10, shift_id=CALL)]
    where = site_with(rules=Rules(call_out_max_h=most_min / 60))
    report = audited(visits, [looks], where=where, horizon=WEEK)
    found = [(one.kind, one.crew_id) for one in report.violations]
    assert found == ([] if kept else [("call_out", "red")])
