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


def simulation(
    stock_m2: float, lift_start: int | None, other_start: int, lead_h: float = 0
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
    return audited(visits, WORKS, (surface(), second()), site_with(covers=(stock,)))


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


def test_covers_in_water_for_the_next_surface_are_taken_already() -> None:
    # Ready at 670; two hours in water end at 790. Laid at 700, they soak from 580.
    assert short(simulation(300, 400, 789, lead_h=2)) == [
        "P2 top needs 300 m² of Wet burlap, two layers Mon 19:09, in water from Mon "
        "17:09; 0 m² free"
    ]
    assert short(simulation(300, 400, 790, lead_h=2)) == []


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
