"""Covers in use against the stock of the site."""

from datetime import timedelta

from models.records import AuditReport, CoverStock, Link, SurfaceWork, Task, Visit
from tests.builders import MONDAY, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    audited,
    lay,
    second,
    site_with,
    task,
    visit,
    work,
)


def lift(surface_id: str = "P1-top") -> Task:
    after = (Link(task_id=f"{surface_id}/lay"),)
    return task("lift", surface_id, kind="remove_cover", duration_min=30, after=after)


WORKS: tuple[SurfaceWork, ...] = (
    work(tasks=(lay(), lift())),
    work("P2-top", zone_id="B", tasks=(lay("P2-top"),), rewet=None),
)


def soak(surface_id: str) -> Task:
    return task("soak-ahead", surface_id, kind="soak_ahead", duration_min=20)


def simulation(
    stock_m2: float,
    lift_start: int | None,
    other_start: int,
    lead_h: float = 0,
    soak_start: int | None = None,
) -> AuditReport:
    """300 m² on P1 from minute 300, 300 m² on P2 later; four hours of turnaround."""
    stock = CoverStock(
        kind="burlap_double", stock_m2=stock_m2, soak_lead_h=lead_h, turnaround_h=4
    )
    visits = [
        visit("lay", 300, 60),
        visit(
            "lay", other_start, 60, id="P2", task_id="P2-top/lay", surface_id="P2-top",
            water_point_id="tank",
        ),
    ]  # fmt: skip
    if lift_start is not None:
        visits.append(visit("lift", lift_start, 30))
    if soak_start is not None:
        visits.append(
            visit(
                "soak-ahead", soak_start, 20, id="P2 soak",
                task_id="P2-top/soak-ahead", surface_id="P2-top",
            )
        )  # fmt: skip
    other = WORKS[1].model_copy(update={"tasks": (lay("P2-top"), soak("P2-top"))})
    works = (WORKS[0], other)
    return audited(visits, works, (surface(), second()), site_with(covers=(stock,)))


def short(report: AuditReport) -> list[str]:
    return [f.words for f in report.violations if f.kind == "cover_stock"]


def test_a_shortage_names_who_needs_how_much_and_what_is_free() -> None:
    # 300 of 500 m² are in use when P2 wants 300 more at minute 500, 14:20.
    report = simulation(500, None, 500)
    assert short(report) == [
        "P2 top needs 300 m² of Wet burlap, two layers Mon 14:20; 200 m² free"
    ]


def test_enough_for_both_is_no_finding() -> None:
    assert short(simulation(600, None, 500)) == []


def test_lifted_covers_come_back_after_washing_and_moving() -> None:
    # Lifted 400 to 430, ready at 430 + 240 = 670; P2 lays at 669 or at 670.
    assert short(simulation(300, 400, 669)) == [
        "P2 top needs 300 m² of Wet burlap, two layers Mon 17:09; 0 m² free"
    ]
    assert short(simulation(300, 400, 670)) == []


def test_covers_lifted_in_parts_come_back_with_the_last_part() -> None:
    # Parts end at 430 and 460, so 300 m² are ready at 460 + 240 = 700.
    parts = [lift().model_copy(update={"id": f"P1-top/lift-{n}"}) for n in (1, 2)]
    works = [work(tasks=(lay(), *parts)), WORKS[1]]
    stock = CoverStock(
        kind="burlap_double", stock_m2=300, soak_lead_h=0, turnaround_h=4
    )
    site = site_with(covers=(stock,))
    tops = (surface(), second())
    both = [visit("lift-1", 400, 30), visit("lift-2", 430, 30)]

    def said(other_start: int, lifted: list[Visit]) -> list[str]:
        other = visit(
            "lay", other_start, 60, id="P2", task_id="P2-top/lay", surface_id="P2-top",
            water_point_id="tank",
        )  # fmt: skip
        visits = [visit("lay", 300, 60), other, *lifted]
        return short(audited(visits, works, tops, site))

    words = "P2 top needs 300 m² of Wet burlap, two layers Mon {}; 0 m² free"
    assert said(699, both) == [words.format("17:39")]
    assert said(700, both) == []
    assert said(700, both[:1]) == [words.format("17:40")]


def test_the_trace_steps_at_each_change() -> None:
    trace = simulation(600, 400, 500).covers[0]
    assert [(HORIZON.minute(u.at), u.area_m2) for u in trace.in_use] == [
        (0, 0), (300, 300), (500, 600), (670, 300), (4320, 0),
    ]  # fmt: skip


def dry(report: AuditReport, surface_id: str = "P2-top") -> list[str]:
    found = (f for f in report.violations if f.kind == "laid_dry")
    return [f.words for f in found if f.surface_id == surface_id]


def test_covers_in_water_for_the_next_surface_are_taken_already() -> None:
    # Lifted by 430, ready at 670, 17:10. In water from 669 to 689, laid 2 h later.
    assert short(simulation(300, 400, 809, lead_h=2, soak_start=669)) == [
        "P2 top needs 300 m² of Wet burlap, two layers Mon 19:29, in water from Mon "
        "17:09; 0 m² free"
    ]
    assert short(simulation(300, 400, 810, lead_h=2, soak_start=670)) == []


def test_covers_that_nobody_put_into_water_in_time_are_laid_dry() -> None:
    # In water from 700 to 720; two hours after that is 840, 20:00.
    words = (
        "P2 top: 300 m² of Wet burlap, two layers laid Mon 19:59 dry; nobody put it "
        "into water 2 h before, and so much did not come off wet"
    )
    assert dry(simulation(600, None, 839, lead_h=2, soak_start=700)) == [words]
    assert dry(simulation(600, None, 839, lead_h=2)) == [words]
    assert dry(simulation(600, None, 840, lead_h=2, soak_start=700)) == []


def test_covers_are_laid_wet_once_washed_for_a_day_after_they_came_off() -> None:
    # Off at 430: washed at 670, wet until 430 + 1440 = 1870.
    for laid, found in ((669, 1), (670, 0), (1870, 0), (1871, 1)):
        assert len(dry(simulation(600, 400, laid, lead_h=2))) == found, laid


def test_what_had_to_be_in_water_before_anybody_came_was_in_it_before() -> None:
    # The day shift begins at 60: 20 minutes of soaking, two hours in water, 200.
    lead = lay(earliest_min=100), soak("P1-top")
    stock = CoverStock(kind="burlap_double", stock_m2=300, soak_lead_h=2)
    for start, found in ((199, 0), (200, 1)):
        laid = visit("lay", start, 60)
        tops, where = (surface(),), site_with(covers=(stock,))
        report = audited([laid], [work(tasks=lead)], tops, where)
        assert len(dry(report, "P1-top")) == found, start


def test_a_check_that_could_see_them_in_water_comes_after_they_went_in() -> None:
    hold = task("hold", kind="hold_point", duration_min=15, latest_min=300)
    soaks = soak("P1-top").model_copy(update={"due_min": 180})  # laid from 300 on
    works = [work(tasks=(lay(), soaks, hold))]

    def unseen(check: int, soaked: int) -> list[str]:
        visits = [visit("hold", check, 15), visit("soak-ahead", soaked, 20)]
        report = audited(visits, works, (surface(),))
        return [f.words for f in report.violations if "it looks at" in f.words]

    # In water from 100 to 120, 08:00; the check may start by 285 at the latest.
    assert unseen(80, 100) == [
        "P1 top (hold point) starts Mon 07:20; the covers it looks at are in water "
        "from Mon 08:00"
    ]
    assert unseen(120, 100) == []
    assert unseen(80, 270) == []


def test_a_check_does_not_wait_for_the_covers_of_a_later_stage() -> None:
    # The next cover goes into water three days ahead of 4000: that is none of it.
    hold = task("hold", kind="hold_point", duration_min=15, latest_min=300)
    later = soak("P1-top").model_copy(update={"due_min": 4000})
    visits = [visit("hold", 80, 15), visit("soak-ahead", 100, 20)]
    report = audited(visits, [work(tasks=(lay(), later, hold))], (surface(),))
    assert not [f for f in report.violations if "it looks at" in f.words]


def with_one_that_lies(stock_m2: float, *visits: Visit) -> AuditReport:
    on = surface(covered_at=MONDAY - timedelta(hours=1))
    works = [
        work(tasks=(), fresh=(), covered_from_min=-60, reserve_at_start_l_m2=0.7),
        work("P2-top", zone_id="B", tasks=(lay("P2-top"),), rewet=None),
    ]
    stock = CoverStock(kind="burlap_double", stock_m2=stock_m2, soak_lead_h=0)
    site = site_with(covers=(stock,))
    return audited(visits, works, [on, second()], site, lead_h=2)


def test_more_that_lies_from_the_start_than_there_is_is_told_but_no_fault() -> None:
    report = with_one_that_lies(200)
    assert [f.words for f in report.findings if f.kind == "covers_short"] == [
        "P1 top needs 300 m² of Wet burlap, two layers Mon 06:00; 200 m² free"
    ]
    assert not report.violations


def test_nothing_more_may_be_laid_while_too_much_lies_there() -> None:
    other = visit(
        "lay", 400, 60, id="P2", task_id="P2-top/lay", surface_id="P2-top",
        water_point_id="tank",
    )  # fmt: skip
    for stock_m2 in (200, 599):
        assert short(with_one_that_lies(stock_m2, other)) == [
            "P2 top needs 300 m² of Wet burlap, two layers Mon 12:40; "
            f"{max(0, stock_m2 - 300)} m² free"
        ]
    assert short(with_one_that_lies(600, other)) == []


def test_a_kind_without_stock_in_the_site_file_is_not_counted() -> None:
    assert audited([visit("lay", 300, 60)]).covers == ()
