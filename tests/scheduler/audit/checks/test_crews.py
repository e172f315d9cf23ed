"""What the crews' week adds up to: call-outs, overtime, walks, shift traces."""

from datetime import timedelta

import pytest

from models.records import AuditReport, Busy, Horizon, Rules, ShiftTrace
from tests.builders import MONDAY, site, surface, work_for_nothing
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    at,
    audited,
    second,
    site_with,
    task,
    visit,
    work,
)

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))


def shift(report: AuditReport, shift_id: str) -> ShiftTrace:
    return next(trace for trace in report.shifts if trace.shift_id == shift_id)


def test_overtime_counts_from_the_end_of_the_shift() -> None:
    # The shift ends at 660; the last look ends at 690: 30 min at 2.
    looks = work(tasks=(task("look"), task("late")))
    report = audited([visit("look", 600, 10), visit("late", 680, 10)], [looks])
    assert report.cost_by_part["overtime"] == 60
    assert shift(report, "red/day/2027-05-03").overtime_min == 30


def test_walks_run_from_home_through_the_zones_and_stay_on_a_surface() -> None:
    # Home zone A to P1 3, to P2 in B 4, again on P2 0, back to P1 4: 11 min at 0.2.
    works = [
        work(tasks=(task("one"), task("four"))),
        work("P2-top", zone_id="B", tasks=(task("two", "P2-top"), task("x", "P2-top"))),
    ]
    on_second = {"surface_id": "P2-top", "shift_id": "red/day/2027-05-03"}
    visits = [
        visit("one", 100, 10),
        visit("two", 120, 10, "red", task_id="P2-top/two", **on_second),
        visit("x", 130, 10, "red", task_id="P2-top/x", **on_second),
        visit("four", 144, 10),
    ]
    report = audited(visits, works, (surface(), second()))
    trace = shift(report, "red/day/2027-05-03")
    assert (trace.busy_min, trace.travel_min) == (40, 11)
    assert round(report.cost_by_part["travel"], 6) == 2.2
    assert report.violations == ()


def test_a_call_out_is_paid_once_however_much_is_done_in_it() -> None:
    # Saturday 06:00 is minute 5 x 1440 = 7200; two looks in one call-out, from the walk
    # of 3 min to 7510: 40 for the call and 213 min at 2.
    looks = work(tasks=(task("look", latest_min=9000), task("late", latest_min=9000)))
    called = "red/call/2027-05-08"
    visits = [
        visit("look", 7300, 10, shift_id=called),
        visit("late", 7500, 10, shift_id=called),
    ]
    report = audited(visits, [looks], horizon=WEEK)
    assert report.cost_by_part["call_out"] == 40 + 213 * 2
    assert shift(report, called).called_out
    assert not shift(report, "red/call/2027-05-09").called_out
    assert report.violations == ()


def test_idle_shifts_are_traced_too() -> None:
    report = audited([visit("lay", 300, 60)])
    assert [trace.shift_id for trace in report.shifts] == [
        "red/day/2027-05-03", "owl/night/2027-05-03", "red/day/2027-05-04",
        "owl/night/2027-05-04", "red/day/2027-05-05", "owl/night/2027-05-05",
    ]  # fmt: skip
    assert sum(trace.busy_min for trace in report.shifts) == 60


def test_a_shift_keeps_the_name_the_roster_gave_it() -> None:
    report = audited([visit("lay", 300, 60, shift_id="early")])
    assert shift(report, "early").busy_min == 60
    assert report.violations == ()


def test_rest_is_counted_over_a_call_out() -> None:
    # A look in Friday's overtime ends at 4 x 1440 + 700 = 6460; the call-out begins on
    # Saturday at 7200, 740 min later: 12.3 h, more than 11 h.
    looks = work(tasks=(task("look", latest_min=9000), task("late", latest_min=9000)))
    visits = [
        visit("look", 6450, 10),
        visit("late", 7203, 10, shift_id="red/call/2027-05-08"),
    ]
    assert audited(visits, [looks], horizon=WEEK).violations == ()


def test_a_call_out_is_paid_by_the_hour_but_for_some_hours_at_least() -> None:
    # Two looks from 7300 to 7510 and a walk of 3 are 213 min, at 60 an hour.
    looks = work(tasks=(task("look", latest_min=9000), task("late", latest_min=9000)))
    called = "red/call/2027-05-08"
    visits = [
        visit("look", 7300, 10, shift_id=called),
        visit("late", 7500, 10, shift_id=called),
    ]
    for least_h, cost in ((3, 40 + 213), (4, 40 + 240)):
        prices = work_for_nothing(call_out_hour=60, call_out_min_h=least_h)
        report = audited(visits, [looks], horizon=WEEK, prices=prices)
        assert report.cost_by_part["call_out"] == pytest.approx(cost)


def test_a_gang_s_own_staggered_break_is_what_nobody_works_in() -> None:
    # The day's break is at 360; blue, the second gang of it, has 400 to 430 instead.
    day, *others = site().shifts
    red, owl = site().crews
    blue = red.model_copy(update={"id": "blue", "name": "Blue gang"})
    where = site_with(
        shifts=(day.model_copy(update={"break_stagger_min": 40}), *others),
        crews=(red, owl, blue),
    )
    looks = work(tasks=(task("look"), task("late")))
    own = {"shift_id": "blue/day/2027-05-03"}
    first = visit("look", 365, 10, "blue", **own)
    fine = audited([first], [looks], where=where)
    assert fine.violations == ()
    (pause,) = shift(fine, "blue/day/2027-05-03").breaks
    assert (pause.starts_at, pause.ends_at) == (at(400), at(430))
    again = visit("late", 425, 10, "blue", **own)
    (found,) = audited([first, again], [looks], where=where).violations
    assert found.kind == "break"
    assert found.words.endswith("runs into the break Mon 12:40–13:10")


def planted(report: AuditReport, kind: str) -> list[tuple[int, int, str]]:
    """Where violations of a kind begin and end, and what is said."""
    minute = HORIZON.minute
    return [
        (minute(found.starts_at), minute(found.ends_at), found.words)
        for found in report.violations
        if found.kind == kind
    ]


def on_both(*visits: tuple[str, int, int]) -> AuditReport:
    """Visits of the red gang on Monday: of which surface, from when, how long."""
    works = [
        work(name, zone_id=zone, tasks=(task("one", name), task("two", name)))
        for name, zone in (("P1-top", "A"), ("P2-top", "B"))
    ]
    seen: dict[str, int] = {}
    told = []
    for name, start, minutes in visits:
        seen[name] = seen.get(name, 0) + 1
        task_id = f"{name}/{('one', 'two')[seen[name] - 1]}"
        told.append(
            visit(
                "look", start, minutes, id=f"{task_id}/{start}", task_id=task_id,
                surface_id=name, shift_id="red/day/2027-05-03",
            )
        )  # fmt: skip
    return audited(told, works, (surface(), second()))


def test_too_short_a_way_is_told_from_the_end_of_the_job_before() -> None:
    # From P1 in zone A to P2 in B it takes 4 min; done at 110.
    ((start, end, words),) = planted(
        on_both(("P1-top", 100, 10), ("P2-top", 113, 10)), "travel"
    )
    assert (start, end) == (110, 113)
    assert words.startswith("Red gang has 3 min to walk to P2 top")
    assert words.endswith("; the walk takes 4")
    ((start, end, words),) = planted(
        on_both(("P1-top", 100, 10), ("P2-top", 110, 10)), "travel"
    )
    assert (start, end) == (110, 110)
    assert "has 0 min" in words


def test_a_long_job_stands_in_the_way_of_all_that_begin_in_it() -> None:
    report = on_both(("P1-top", 100, 100), ("P2-top", 120, 10), ("P2-top", 150, 10))
    assert [found[:2] for found in planted(report, "overlap")] == [
        (120, 200),
        (150, 200),
    ]


def test_work_may_begin_as_a_break_ends() -> None:
    assert on_both(("P1-top", 390, 10)).violations == ()


def test_rest_counts_from_the_last_end_of_a_shift_to_the_first_start_of_the_next() -> (
    None
):
    # 660 to 1504 is 844 min, 14.1 h.
    looks = work(tasks=tuple(task(name) for name in "abcd"))
    visits = [
        visit(name, start, 10)
        for name, start in (("a", 300), ("b", 650), ("c", 1504), ("d", 1900))
    ]
    where = site_with(rules=Rules(rest_h=14.5))
    report = audited(visits, [looks], where=where)
    ((start, end, words),) = planted(report, "rest")
    assert (start, end) == (660, 1504)
    assert words.startswith("the crew rests 14.1 h from ")
    assert words.endswith("; 14.5 h are required")


def test_work_outside_all_shifts_is_that_fault_and_no_lack_of_rest() -> None:
    # 1010 to 1504 would be 8.2 h; but at 1000 the gang is on no shift at all.
    looks = work(tasks=(task("a"), task("b")))
    visits = [visit("a", 1000, 10, shift_id="red/evening"), visit("b", 1504, 10)]
    report = audited(visits, [looks])
    assert [found.kind for found in report.violations] == ["shift"]


def test_shifts_that_overlap_leave_no_rest_at_all() -> None:
    # On call on Monday too, the gang are called out while they are still at work.
    day, night, call = site().shifts
    where = site_with(shifts=(day, night, call.model_copy(update={"days": ("mon",)})))
    looks = work(tasks=(task("a"), task("b")))
    called = visit("b", 305, 10, shift_id="red/call/2027-05-03")
    report = audited([visit("a", 300, 10), called], [looks], where=where)
    ((_, _, words),) = planted(report, "rest")
    assert words.startswith("the crew rests 0.0 h from ")


def test_what_a_crew_lacks_is_named_and_nothing_else() -> None:
    spray = work(tasks=(task("look", skills=("labourer", "sprayer"), people=3),))
    report = audited([visit("look", 1000, 10, "owl")], [spray])
    ((_, _, skill),) = planted(report, "skill")
    assert skill.endswith(" needs sprayer; Night pair has none")
    ((start, end, people),) = planted(report, "people")
    assert (start, end) == (1000, 1010)
    assert people.endswith(" needs 3 people; Night pair has 2")


def test_work_beyond_a_shift_is_told_with_its_last_minute() -> None:
    # Overtime lasts until 720, 18:00; the first look is on the shift, so it is known.
    report = on_both(("P1-top", 300, 10), ("P1-top", 711, 10))
    ((start, end, words),) = planted(report, "shift")
    assert (start, end) == (711, 721)
    assert words.endswith(
        "is outside the shift red/day/2027-05-03, Mon 07:00–18:00 with overtime"
    )


@pytest.mark.parametrize(("starts_min", "kept"), [(99, False), (100, True)])
def test_nobody_cures_while_at_other_work(starts_min: int, kept: bool) -> None:
    # Red gang unload until minute 100, which is 07:40.
    busy = Busy(from_at=at(50), until_at=at(100), why="unloading")
    red, *others = site().crews
    where = site_with(crews=(red.model_copy(update={"busy": (busy,)}), *others))
    looks = work(tasks=(task("look"),))
    report = audited([visit("look", starts_min, 10)], [looks], where=where)
    told = [(one.kind, one.words) for one in report.violations]
    said = (
        "P1 top (ease forms) Mon 07:39–07:49: "
        "Red gang is busy (unloading) Mon 06:50–07:40"
    )
    assert told == ([] if kept else [("busy", said)])
    (traced,) = shift(report, "red/day/2027-05-03").other_work
    assert (traced.ends_at, traced.doing) == (at(100), "busy (unloading)")
