"""Looks as often as the rule asks: per shift, per day off, per day for a film."""

from datetime import timedelta

from models.drying.covers import cover_properties
from models.records import (
    AuditReport,
    CoverStage,
    Horizon,
    Profile,
    SiteInput,
    Task,
    Visit,
)
from tests.builders import MONDAY, profile, site_input, surface
from tests.scheduler.audit.audit_builders import audited, lay, task, visit, work

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))


def under(rule: Profile) -> SiteInput:
    return site_input().model_copy(update={"profiles": {"seven_days": rule}})


def missing(report: AuditReport) -> list[str]:
    return [
        finding.words for finding in report.findings
        if finding.kind == "missed" and " inspections " in finding.words
    ]  # fmt: skip


def inspection(name: str, **fields: object) -> Task:
    base: dict[str, object] = {"kind": "inspect", "latest_min": 20_000}
    return task(name, "P1-top", **(base | fields))


def audited_inspections(
    starts: dict[str, int], ends_min: int, rule: Profile, *inspections: Task
) -> AuditReport:
    tasks = (lay(), *(inspection(name) for name in starts), *inspections)
    visits: list[Visit] = [visit("lay", 300, 60)]
    for name, start in starts.items():
        crew = "red" if start % 1440 < 900 else "owl"
        visits.append(visit(name, start, 10, crew))
    works = [work(tasks=tasks, ends_min=ends_min)]
    return audited(visits, works, given=under(rule), horizon=WEEK)


def test_a_shift_without_an_inspection_is_named() -> None:
    # Covered at 360, in the middle of the day shift, which is not asked of. Whole in
    # the cure until 2200 are Monday's night (960 to 1440) and Tuesday's day (1500 to
    # 2100); the night has a inspection.
    report = audited_inspections({"one": 1000}, 2200, profile())
    assert missing(report) == [
        "P1 top: 0 of 1 inspections in the shift Tue 07:00–17:00 (Seven days)"
    ]


def test_a_rule_of_two_inspections_counts_both() -> None:
    rule = profile().model_copy(update={"inspections_per_shift": 2})
    report = audited_inspections({"one": 1000, "two": 1600, "three": 1800}, 2200, rule)
    assert missing(report) == [
        "P1 top: 1 of 2 inspections in the shift Mon 22:00 to Tue 06:00 (Seven days)"
    ]


def test_an_inspection_that_is_asked_for_and_has_nobody_is_not_counted_twice() -> None:
    nobody = inspection(
        "nobody", earliest_min=1500, latest_min=2100, due_min=2100, missed_cost=150
    )
    report = audited_inspections({"one": 1000}, 2200, profile(), nobody)
    assert missing(report) == []
    assert "P1-top/nobody" in report.missed_task_ids


def test_a_day_off_asks_for_an_inspection_from_midnight_to_midnight() -> None:
    # No shift begins on Saturday or Sunday. Friday's night ends on Saturday at 06:00,
    # 5 x 1440; Saturday ends at midnight, 5 x 1440 + 18 x 60 = 8280.
    rule = profile().model_copy(update={"inspections_per_shift": 0})
    report = audited_inspections({}, 8280, rule)
    assert missing(report) == [
        "P1 top: 0 of 1 inspections in the day off Sat 00:00 to Sun 00:00 (Seven days)"
    ]
    assert missing(audited_inspections({}, 8279, rule)) == []


def test_a_rule_that_asks_for_no_inspections_misses_none() -> None:
    rule = profile().model_copy(
        update={"inspections_per_shift": 0, "inspections_per_non_working_day": 0}
    )
    assert missing(audited_inspections({}, 20_000, rule)) == []


def spray() -> Task:
    """The coat that seals; with it the cover is on."""
    return task(
        "spray", kind="spray_compound", duration_min=60, effect="seal", covers=True
    )


def test_a_film_is_inspected_once_a_day() -> None:
    # Sealed at 490; Tuesday is the first whole day, 1080 to 2520.
    film = surface(method="compound_white", cover=cover_properties("compound_white"))
    works = [work(tasks=(spray(),), curve=None, rewet=None, ends_min=2600)]
    report = audited([visit("spray", 430, 60)], works, [film])
    assert missing(report) == [
        "P1 top: 0 of 1 inspections in the day Tue 00:00 to Wed 00:00 (Seven days)"
    ]


def test_a_film_that_follows_burlap_is_inspected_once_a_day_from_then_on() -> None:
    # Covered at 360; compound from Tuesday 12:00, minute 1800, sprayed then. Whole
    # under burlap: Monday's night. Tuesday's day shift, 1500 to 2100, begins under
    # burlap; the whole day of compound is Wednesday, 2520 to 3960.
    film = CoverStage(
        method="compound_clear",
        cover=cover_properties("compound_clear"),
        starts_at=MONDAY + timedelta(minutes=1800),
        reason="for the test",
    )
    works = [work(tasks=(lay(), spray()), ends_min=4000)]
    report = audited(
        [visit("lay", 300, 60), visit("spray", 1740, 60)],
        works,
        [surface(later=(film,))],
    )
    assert missing(report) == [
        "P1 top: 0 of 1 inspections in the shift Mon 22:00 to Tue 06:00 (Seven days)",
        "P1 top: 0 of 1 inspections in the shift Tue 07:00–17:00 (Seven days)",
        "P1 top: 0 of 1 inspections in the day Wed 00:00 to Thu 00:00 (Seven days)",
    ]


def test_a_timer_s_water_is_inspected_in_each_shift() -> None:
    # Burlap on at 360, water of the timer from 490 on.
    commission = task("commission", kind="commission", duration_min=60, effect="seal")
    works = [work(tasks=(lay(), commission), ends_min=2200)]
    visits = [visit("lay", 300, 60), visit("commission", 430, 60)]
    report = audited(visits, works, [surface(method="sprinklers")])
    assert missing(report) == [
        "P1 top: 0 of 1 inspections in the shift Mon 22:00 to Tue 06:00 (Seven days)",
        "P1 top: 0 of 1 inspections in the shift Tue 07:00–17:00 (Seven days)",
    ]
