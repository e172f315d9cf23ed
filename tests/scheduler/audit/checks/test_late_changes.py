"""Changes that come late: what lies there until then, and what dries unnoticed.

Every cover loses 0.1 L/(m² h); burlap holds 0.8 L/m², the pond 1.6. Laid by minute
360, the pond is planned from 600 on.
"""

from datetime import timedelta

import pytest

from models.drying.covers import cover_properties
from models.local_clock import WeekClock
from models.records import (
    AuditReport,
    CoverKind,
    CoverStage,
    DryingCurve,
    Surface,
    Task,
    TaskKind,
)
from scheduler.audit.checks.late_changes import changed_from
from scheduler.audit.replayed.jobs import jobs_of
from tests.builders import MONDAY, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    LENGTH,
    audited,
    lay,
    rewet,
    roster,
    task,
    visit,
    work,
)

CLOCK = WeekClock("Europe/Berlin", HORIZON)
PLANNED = 600


def then(minute: int = PLANNED, kind: CoverKind = "pond") -> CoverStage:
    cover = cover_properties(kind).model_copy(update={"leak_mm_d": 0})
    if kind == "pond":
        cover = cover.model_copy(update={"held_l_m2": 1.6})
    return CoverStage(
        method="ponding",
        cover=cover,
        starts_at=MONDAY + timedelta(minutes=minute),
        reason="for the test",
    )


def fill(
    name: str = "fill", earliest_min: int = 540, kind: TaskKind = "fill_pond"
) -> Task:
    return task(
        name, kind=kind, duration_min=30, effect="wet", earliest_min=earliest_min
    )


def replayed(*fills: int, with_rewet: int | None = None) -> AuditReport:
    change = PLANNED // 10
    losses = [0.1] * change + [0.05] * (LENGTH // 10 - change)
    curve = DryingCurve(step_min=10, loss_l_m2_h=tuple(losses), held_l_m2=0.8)
    works = [work(tasks=(lay(), fill()), curve=curve, rewet=rewet())]
    visits = [visit("lay", 300, 60), *(visit("fill", start, 30) for start in fills)]
    if with_rewet is not None:
        visits.append(visit("rewet", with_rewet, 20, "owl"))
    return audited(visits, works, [surface(later=(then(),))])


def late(report: AuditReport) -> list[tuple[str, int]]:
    return [(f.words, f.minutes) for f in report.findings if f.kind == "late_change"]


def litres(report: AuditReport, minute: int) -> list[float]:
    at = HORIZON.at(minute)
    points = report.surfaces[0].points
    return [round(p.reserve_l_m2, 6) for p in points if p.at == at]


def test_a_change_in_time_is_no_matter() -> None:
    report = replayed(570)
    assert late(report) == []
    # Half of the burlap is left when it gives way, half of a pond until it is full.
    assert litres(report, PLANNED) == [0.4, 0.8, 1.6]


def test_till_a_late_change_the_cover_before_it_goes_on_drying() -> None:
    # Burlap is dry at 360 + 480 = 840 (20:00); the pond is filled by 1030 (23:10),
    # the filling itself keeps it wet from its middle at 1015 (22:55) on.
    report = replayed(1000)
    assert late(report) == [
        (
            "P1 top: Pond, 25 mm planned Mon 16:00, laid only Mon 23:10; until then "
            "wet burlap, two layers is dry Mon 20:00–22:55, not counted as a gap",
            175,
        )
    ]
    assert litres(report, 720) == [round(0.8 - 0.1 * 6, 6)]
    assert litres(report, 1030)[-1] == 1.6
    phases = [(p.kind, HORIZON.minute(p.starts_at)) for p in report.surfaces[0].phases]
    assert phases[-2:] == [("covered", 360), ("ponded", 1030)]


def test_gaps_stay_those_that_the_plan_counts() -> None:
    # 240 of 480 minutes are gone at 600; the rest lasts twice as long in the pond.
    report = replayed()
    (gap,) = [gap for gap in report.gaps if gap.covered]
    assert HORIZON.minute(gap.starts_at) == PLANNED + 480


def test_a_change_that_nobody_does_leaves_the_cover_before_it_for_good() -> None:
    report = replayed()
    ((words, minutes),) = late(report)
    assert "never laid" in words
    # Dry from 840 on; from 1080 on the plan counts it itself.
    assert minutes == 1080 - 840
    assert {p.held_l_m2 for p in report.surfaces[0].points} == {None}


def test_a_rewet_before_the_late_change_counts() -> None:
    # Wetted by 840, when it is empty: dry again at 1320 (Tue 04:00), until the pond is
    # half filled at 1615 (08:55).
    ((words, minutes),) = late(replayed(1600, with_rewet=820))
    assert "is dry Tue 04:00–08:55" in words
    assert minutes == 1615 - 1320


@pytest.mark.parametrize(
    ("done", "begins"),
    [
        ({"one": 560, "two": 1160}, (600, 1200)),  # both in time
        ({"one": 700, "two": 1300}, (730, 1330)),
        ({"two": 1160}, (1200, 1200)),  # the first never lay there
        ({"one": 700}, (730, LENGTH + 1)),
        ({}, (LENGTH + 1, LENGTH + 1)),
    ],
)
def test_each_change_is_that_of_the_stage_it_is_asked_for(
    done: dict[str, int], begins: tuple[int, int]
) -> None:
    of: Surface = surface(later=(then(600), then(1200, "insulated_blankets")))
    tasks = (lay(), fill("one"), fill("two", 1140, kind="change_cover"))
    works = work(tasks=tasks)
    visits = [visit(name, start, 30) for name, start in done.items()]
    jobs, _ = jobs_of(roster(visits, [works]), CLOCK)
    assert changed_from(of, works, jobs, HORIZON) == begins


def test_a_change_in_parts_is_done_with_the_last() -> None:
    of = surface(later=(then(),))
    works = work(tasks=(lay(), fill("a"), fill("b", 570)))
    for visits, begins in (
        ([visit("a", 560, 30), visit("b", 640, 30)], (670,)),
        ([visit("a", 560, 30)], (LENGTH + 1,)),
    ):
        jobs, _ = jobs_of(roster(visits, [works]), CLOCK)
        assert changed_from(of, works, jobs, HORIZON) == begins


def test_a_stage_without_work_of_its_own_begins_as_planned() -> None:
    of = surface(later=(then(),))
    assert changed_from(of, work(), (), HORIZON) == (PLANNED,)
