"""Looks as often as the rule asks: per shift, per day off, per day for a film."""

from datetime import timedelta

import pytest

from models.records import AuditReport, Horizon, Profile, SiteInput, Task, Visit
from tests.builders import MONDAY, profile, site_input
from tests.scheduler.audit.audit_builders import audited, lay, task, visit, work

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))


def under(rule: Profile) -> SiteInput:
    return site_input().model_copy(update={"profiles": {"seven_days": rule}})


def missing(report: AuditReport) -> list[str]:
    return [
        finding.words for finding in report.findings
        if finding.kind == "missed" and " looks " in finding.words
    ]  # fmt: skip


def look(name: str, **fields: object) -> Task:
    return task(name, "P1-top", **({"latest_min": 20_000} | fields))


def audited_looks(
    starts: dict[str, int], ends_min: int, rule: Profile, *looks: Task
) -> AuditReport:
    tasks = (lay(), *(look(name) for name in starts), *looks)
    visits: list[Visit] = [visit("lay", 300, 60)]
    for name, start in starts.items():
        crew = "red" if start % 1440 < 900 else "owl"
        visits.append(visit(name, start, 10, crew))
    works = [work(tasks=tasks, ends_min=ends_min)]
    return audited(visits, works, given=under(rule), horizon=WEEK)


def test_a_shift_without_a_look_is_named() -> None:
    # Covered at 360, in the middle of the day shift, which is not asked of. Whole in
    # the cure until 2200 are Monday's night (960 to 1440) and Tuesday's day (1500 to
    # 2100); the night has a look.
    report = audited_looks({"one": 1000}, 2200, profile())
    assert missing(report) == [
        "P1 top: 0 of 1 looks in the shift Tue 07:00 to 17:00 (Seven days)"
    ]


def test_a_rule_of_two_looks_counts_both() -> None:
    rule = profile().model_copy(update={"inspections_per_shift": 2})
    report = audited_looks({"one": 1000, "two": 1600, "three": 1800}, 2200, rule)
    assert missing(report) == [
        "P1 top: 1 of 2 looks in the shift Mon 22:00 to Tue 06:00 (Seven days)"
    ]


def test_a_look_that_is_asked_for_and_has_nobody_is_not_counted_twice() -> None:
    nobody = look(
        "nobody", earliest_min=1500, latest_min=2100, due_min=2100, missed_cost=150
    )
    report = audited_looks({"one": 1000}, 2200, profile(), nobody)
    assert missing(report) == []
    assert "P1 top (inspect), due Tue 17:00, has nobody" in [
        finding.words for finding in report.findings
    ]


def test_a_day_off_asks_for_a_look_from_midnight_to_midnight() -> None:
    # No shift begins on Saturday or Sunday. Friday's night ends on Saturday at 06:00,
    # 5 x 1440; Saturday ends at midnight, 5 x 1440 + 18 x 60 = 8280.
    rule = profile().model_copy(update={"inspections_per_shift": 0})
    report = audited_looks({}, 8280, rule)
    assert missing(report) == [
        "P1 top: 0 of 1 looks in the day off Sat 00:00 to Sun 00:00 (Seven days)"
    ]
    assert missing(audited_looks({}, 8279, rule)) == []


def test_a_rule_that_asks_for_no_looks_misses_none() -> None:
    rule = profile().model_copy(
        update={"inspections_per_shift": 0, "inspections_per_non_working_day": 0}
    )
    assert missing(audited_looks({}, 20_000, rule)) == []


@pytest.mark.parametrize("covers", [True, False])
def test_a_film_is_looked_at_once_a_day(covers: bool) -> None:
    # Sealed at 490; Tuesday is the first whole day, 1080 to 2520.
    spray = task(
        "spray", kind="spray_compound", duration_min=60, effect="seal", covers=covers
    )
    works = [
        work(tasks=(spray,), curve=None, rewet=None, ends_min=2600),
    ]  # fmt: skip
    report = audited([visit("spray", 430, 60)], works)
    assert missing(report) == [
        "P1 top: 0 of 1 looks in the day Tue 00:00 to Wed 00:00 (Seven days)"
    ]
