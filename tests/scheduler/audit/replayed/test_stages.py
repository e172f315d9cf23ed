"""Covers that follow one another, as the audit counts them."""

from collections.abc import Callable
from datetime import timedelta

from models.drying.covers import cover_properties
from models.records import (
    AuditReport,
    CoverKind,
    CoverStage,
    CoverStock,
    DryingCurve,
    MethodKey,
    Site,
    SteamCycle,
    Surface,
    SurfaceWork,
    Task,
    TracePoint,
)
from scheduler.audit.replayed.stages import by_step, cover_at
from tests.builders import MONDAY, burlap, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    LENGTH,
    audited,
    grid,
    lay,
    site_with,
    task,
    visit,
    work,
)

CHANGE_MIN = 1000


def then(
    minute: int = CHANGE_MIN, held_l_m2: float = 1.6, method: MethodKey = "ponding"
) -> CoverStage:
    """A cover that holds twice as much as the first, without a leak."""
    cover = cover_properties("pond").model_copy(
        update={"held_l_m2": held_l_m2, "leak_mm_d": 0}
    )
    return CoverStage(
        method=method,
        cover=cover,
        starts_at=MONDAY + timedelta(minutes=minute),
        reason="for the test",
    )


def staged() -> Surface:
    return surface(later=(then(),))


def changing(first: float = 0.1, later: float = 0.05) -> DryingCurve:
    """The pond loses as many litres, so half the share."""
    change = CHANGE_MIN // 10
    losses = [first] * change + [later] * (LENGTH // 10 - change)
    return DryingCurve(step_min=10, loss_l_m2_h=tuple(losses), held_l_m2=0.8)


def fill() -> Task:
    return task("fill", kind="fill_pond", duration_min=30, effect="wet")


def changed(curve: DryingCurve | None = None) -> SurfaceWork:
    return work(tasks=(lay(), fill()), curve=curve or changing())


def replayed(*fills: int, of: Surface | None = None) -> AuditReport:
    visits = [visit("lay", 300, 60), *(visit("fill", start, 30) for start in fills)]
    return audited(visits, [changed()], [of or staged()])


def clocks(report: AuditReport) -> list[str]:
    return [f.words for f in report.findings if f.kind == "drying_clock"]


def litres(points: tuple[TracePoint, ...], minute: int) -> list[float]:
    at = HORIZON.at(minute)
    return [round(p.reserve_l_m2, 6) for p in points if p.at == at]


def test_a_step_has_the_cover_that_began_by_then() -> None:
    on = grid()
    held = by_step([surface(later=(then(995),)), surface()], on, lambda c: c.held_l_m2)
    assert held[:100, 0].tolist() == [0.8] * 100
    assert set(held[100:, 0]) == {1.6}
    assert set(held[:, 1]) == {0.8}


def test_the_cover_of_an_instant() -> None:
    of = surface(later=(then(100),))
    assert cover_at(of, HORIZON.at(99)).kind == "burlap_double"
    assert cover_at(of, HORIZON.at(100)).kind == "pond"


def test_a_share_falls_by_what_the_cover_in_place_holds() -> None:
    # Filled at 1000, burlap lasts 480 minutes; twice the litres last 960.
    report = replayed(970)
    assert clocks(report) == []
    gap = next(gap for gap in report.gaps if gap.starts_at > HORIZON.at(1000))
    assert HORIZON.minute(gap.starts_at) == 1000 + 960


def test_a_curve_that_does_not_know_of_the_change_is_found() -> None:
    works = [changed(curve=changing(later=0.1))]
    report = audited([visit("lay", 300, 60)], works, [staged()])
    assert clocks(report) == [
        "P1 top: its cover loses 0.050000 L/(m² h) Mon 22:40; the work says 0.100000"
    ]


def test_a_leak_counts_with_the_weather(loses: Callable[[float], None]) -> None:
    loses(0.05)
    leaky = burlap().model_copy(update={"leak_mm_d": 1.2})  # 0.05 L/m² an hour
    works = [work()]
    assert clocks(audited([visit("lay", 300, 60)], works, [surface(cover=leaky)])) == []


def test_what_was_learned_of_a_cover_counts(loses: Callable[[float], None]) -> None:
    loses(0.0625)
    fast = burlap().model_copy(update={"loss_factor": 1.6})  # 0.1 L/m² an hour
    works = [work()]
    assert clocks(audited([visit("lay", 300, 60)], works, [surface(cover=fast)])) == []


def test_points_are_in_litres_of_the_cover_that_lies_there() -> None:
    points = replayed(970).surfaces[0].points
    # At 970 the burlap, full at 360, is empty for 130 minutes; filling ends at 1000.
    assert litres(points, 970) == [0.0]
    assert litres(points, 1000) == [0.0, 0.0, 1.6]
    assert litres(points, 1470) == [round(1.6 * (1 - 470 / 960), 6)]
    of_burlap = [p.held_l_m2 for p in points if p.at < HORIZON.at(1000)]
    of_pond = [p.held_l_m2 for p in points if p.at > HORIZON.at(1000)]
    assert set(of_burlap) == {None}
    assert set(of_pond) == {1.6}


def test_a_change_without_a_visit_keeps_the_share() -> None:
    # Wetted at 930 it has lost 70 of 480 minutes by 1000.
    share = 1 - 70 / 480
    visits = [visit("lay", 300, 60), visit("fill", 900, 30)]
    points = audited(visits, [changed()], [staged()]).surfaces[0].points
    assert litres(points, 1000) == [round(0.8 * share, 6), round(1.6 * share, 6)]


def test_a_cover_that_holds_no_water_loses_none_of_the_share() -> None:
    dry = surface(later=(then(held_l_m2=0),))
    works = [changed(curve=changing(later=0.0))]
    visits = [visit("lay", 300, 60), visit("fill", 900, 30)]
    report = audited(visits, works, [dry])
    assert clocks(report) == []
    points = report.surfaces[0].points
    assert litres(points, LENGTH) == [round(0.8 * (1 - 70 / 480), 6)]


def phases(report: AuditReport) -> list[tuple[str, int, int]]:
    return [
        (p.kind, HORIZON.minute(p.starts_at), HORIZON.minute(p.ends_at))
        for p in report.surfaces[0].phases
    ]


def test_a_pond_is_a_phase_of_its_own() -> None:
    assert phases(replayed(970))[-2:] == [
        ("covered", 360, 1000), ("ponded", 1000, LENGTH),
    ]  # fmt: skip


def test_blankets_are_a_phase_of_their_own() -> None:
    blankets = CoverStage(
        method="insulated_blankets",
        cover=cover_properties("insulated_blankets"),
        starts_at=MONDAY + timedelta(minutes=1000),
        reason="frost",
    )
    works = [work(curve=changing(later=0.0))]
    report = audited([visit("lay", 300, 60)], works, [surface(later=(blankets,))])
    assert phases(report)[-2:] == [
        ("covered", 360, 1000), ("insulated", 1000, LENGTH),
    ]  # fmt: skip


def test_steam_is_a_phase_of_its_own_once_the_enclosure_is_on() -> None:
    minutes = (400, 500, 900, 1000)
    times = [HORIZON.at(m) for m in minutes]
    steam = SteamCycle(
        starts_at=times[0], hold_from_at=times[1], hold_until_at=times[2],
        ends_at=times[3], hold_c=60,
    )  # fmt: skip
    on = audited([visit("lay", 300, 60)], [work()], [surface(steam=steam)])
    assert phases(on)[-3:] == [
        ("covered", 360, 400), ("steamed", 400, 1000), ("covered", 1000, LENGTH),
    ]  # fmt: skip


def in_use(report: AuditReport) -> dict[str, list[tuple[int, float]]]:
    return {
        trace.kind: [(HORIZON.minute(u.at), u.area_m2) for u in trace.in_use]
        for trace in report.covers
    }


def stocks(*kinds: CoverKind) -> Site:
    owned = (
        CoverStock(kind=kind, stock_m2=500, soak_lead_h=2, turnaround_h=4)
        for kind in kinds
    )
    return site_with(covers=tuple(owned))


def blankets(minute: int) -> CoverStage:
    return CoverStage(
        method="insulated_blankets",
        cover=cover_properties("insulated_blankets"),
        starts_at=HORIZON.at(minute),
        reason="frost",
    )


def swap(earliest_min: int) -> Task:
    return task(
        "change-1/lay", kind="change_cover", earliest_min=earliest_min,
        duration_min=60, effect="wet",
    )  # fmt: skip


def test_covers_are_free_again_once_the_next_lies_there() -> None:
    # Soaked 180 to 300, lifted with the change at 970 to 1030, free at 1030 + 240.
    works = [work(tasks=(lay(), swap(940)), curve=changing(later=0.0))]
    visits = [visit("lay", 300, 60), visit("change-1/lay", 970, 60)]
    tops = [surface(later=(blankets(1000),))]
    site = stocks("burlap_double", "insulated_blankets")
    used = in_use(audited(visits, works, tops, site))
    assert used["burlap_double"] == [(0, 0), (180, 300), (1270, 0)]
    assert used["insulated_blankets"] == [(0, 0), (970, 300), (LENGTH, 0)]
    used = in_use(audited(visits[:1], works, tops, site))
    assert used["burlap_double"] == [(0, 0), (180, 300), (LENGTH, 0)]
    assert used["insulated_blankets"] == [(0, 0)]


def test_a_pond_stands_on_the_burlap_it_is_filled_over() -> None:
    visits = [visit("lay", 300, 60), visit("fill", 1000, 30)]
    site = stocks("burlap_double", "pond")
    used = in_use(audited(visits, [changed()], [staged()], site))
    assert used["burlap_double"] == [(0, 0), (180, 300), (LENGTH, 0)]
    assert used["pond"] == [(0, 0), (1000, 300), (LENGTH, 0)]


def test_a_first_cover_that_would_be_changed_at_once_is_not_taken() -> None:
    # The lay task may begin at 300; blankets planned for 419 are laid instead.
    site = stocks("burlap_double", "insulated_blankets")
    for minute, first, second in ((419, [(0, 0)], 300), (420, [(0, 0), (180, 300)], 0)):
        tops = [surface(later=(blankets(minute),))]
        used = in_use(audited([visit("lay", 300, 60)], [work()], tops, site))
        assert used["burlap_double"][:2] == first
        assert (300, 300) in used["insulated_blankets"] or second == 0


def test_a_coat_that_seals_lets_the_cover_before_it_go() -> None:
    compound = CoverStage(
        method="compound_white",
        cover=cover_properties("compound_white"),
        starts_at=HORIZON.at(1000),
        reason="a day old",
    )
    coats = [
        task(f"coat{n}", kind="spray_compound", earliest_min=960 + n, effect=effect)
        for n, effect in ((1, "seal"), (2, "none"))
    ]
    works = [work(tasks=(lay(), *coats))]
    tops = [surface(later=(compound,))]
    visits = [visit("lay", 300, 60), visit("coat1", 970, 10)]
    used = in_use(audited(visits, works, tops, stocks("burlap_double")))
    assert used["burlap_double"] == [(0, 0), (180, 300), (1220, 0)]
