"""A small week played through, its arithmetic above each check."""

from collections.abc import Callable
from datetime import time, timedelta

import numpy as np
import pytest

from models.errors import ContradictionError
from models.records import AuditReport, Crew, HeatBan, Link, Rules, Site, Visit
from tests.builders import MONDAY, site, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    LENGTH,
    STEP_MIN,
    audited,
    cured_after,
    lay,
    rewet,
    second,
    site_with,
    task,
    visit,
    work,
)


def spans(report: AuditReport) -> list[tuple[str, int, int, bool]]:
    return [
        (
            gap.surface_id,
            HORIZON.minute(gap.starts_at),
            HORIZON.minute(gap.ends_at),
            gap.covered,
        )
        for gap in report.gaps
    ]


def kinds(report: AuditReport) -> set[str]:
    return {finding.kind for finding in report.violations}


def test_a_covered_and_rewetted_slab_dries_eight_hours_after_the_last_visit() -> None:
    # Full at 360 (lay) and at 660 (rewet). 0.8 L/m² at 0.1 L/(m² h) is 480 min:
    # dry from 660 + 480 = 1140 to the end of the week at 4320, 3180 min at 1 each.
    # One walk of 3 min into the own zone at 0.2 a minute.
    report = audited([visit("lay", 300, 60), visit("rewet", 640, 20)])
    assert spans(report) == [("P1-top", 1140, LENGTH, True)]
    assert report.dry_min == 3180
    assert report.cost_by_part == {
        "dry": 3180.0, "low_water": 0.0, "late": 0.0, "missed": 0.0, "call_out": 0.0,
        "overtime": 0.0, "travel": pytest.approx(0.6), "labour": 0.0, "water": 0.0,
        "covers_short": 0.0,
    }  # fmt: skip
    # 240 L for laying and 200 for the rewet; two for an hour and one for 20 minutes
    assert report.amount_by_part == {
        "dry": 3180, "low_water": 0, "late": 0, "missed": 0, "call_out": 0,
        "overtime": 0, "travel": 3, "labour": 140, "water": 440, "covers_short": 0,
    }  # fmt: skip
    assert report.violations == ()


def test_a_bare_slab_is_dry_where_its_fresh_stretch_says_so_until_the_cover_is_on() -> (
    None
):
    # Dries from 420; laying runs 480 to 540 and keeps it wet from its middle: bare gap
    # 420 to 510. Full at 540, dry at 540 + 480 = 1020. 90 min at 3, 3300 at 1, and the
    # laying, due at 480, is 60 min late at 1.
    report = audited([visit("lay", 480, 60)])
    assert spans(report) == [
        ("P1-top", 420, 510, False),
        ("P1-top", 1020, LENGTH, True),
    ]
    assert report.cost_by_part["dry"] == 90 * 3 + 3300
    assert report.cost_by_part["late"] == 60


def test_waiting_longer_than_a_hand_over_allows_is_late_by_the_minute() -> None:
    # Laid by 360; the look may wait 30 min and starts at 400, 10 min late, and ends at
    # 410, 5 min after it is due: 15 min at 2.
    look_soon = task(
        "look", kind="inspect", due_min=405, late_cost_per_min=2,
        after=(Link(task_id="P1-top/lay", max_gap_min=30),),
    )  # fmt: skip
    report = audited(
        [visit("lay", 300, 60), visit("look", 400, 10)],
        [work(tasks=(lay(), look_soon))],
    )
    assert report.cost_by_part["late"] == 30
    assert "P1 top (inspect) is 15 min late" in [f.words for f in report.findings]


@pytest.mark.parametrize(("start", "missed"), [(640, 0), (690, 150)])
def test_whoever_wets_a_cover_has_looked_at_it(start: int, missed: int) -> None:
    look = task(
        "look", earliest_min=640, latest_min=690, missed_cost=150, met_by_wetting=True
    )
    report = audited(
        [visit("lay", 300, 60), visit("rewet", start, 20)], [work(tasks=(lay(), look))]
    )
    assert report.cost_by_part["missed"] == missed


def test_a_late_duty_costs_less_than_one_left_out() -> None:
    # Due at 405 and done at 700: 295 min at 2 would be 590; left out it would cost 150,
    # so late at most 95 % of that.
    look = task("look", due_min=405, late_cost_per_min=2, missed_cost=150)
    report = audited(
        [visit("lay", 300, 60), visit("look", 690, 10)], [work(tasks=(lay(), look))]
    )
    assert report.cost_by_part["late"] == 142.5
    assert report.amount_by_part["late"] == 295


def test_a_slab_nobody_covers_is_one_bare_gap_and_missed_work() -> None:
    # 4320 - 420 = 3900 min at 3; the laying costs 600 to leave out.
    report = audited([])
    assert spans(report) == [("P1-top", 420, LENGTH, False)]
    assert report.cost_by_part["dry"] == 3 * 3900
    assert report.cost_by_part["missed"] == 600
    assert report.missed_task_ids == ("P1-top/lay",)


def test_what_follows_a_laying_that_is_missed_falls_away_with_it() -> None:
    # The laying costs 600, the look 150 and the lifting 600 to leave out: people are
    # told of the laying alone, and it is no cheaper than missing all three.
    look = task(
        "look", kind="inspect", missed_cost=150,
        after=(Link(task_id="P1-top/lay"),),
    )  # fmt: skip
    lift = task(
        "lift", kind="remove_cover", missed_cost=600,
        after=(Link(task_id="P1-top/look"),),
    )  # fmt: skip
    report = audited([], [work(tasks=(lay(), look, lift))])
    assert report.missed_task_ids == ("P1-top/lay",)
    assert report.fallen_task_ids == ("P1-top/look", "P1-top/lift")
    assert report.amount_by_part["missed"] == 1
    assert report.cost_by_part["missed"] == 600 + 150 + 600


@pytest.mark.parametrize(("latest", "missed"), [(369, ()), (370, ("P1-top/look",))])
def test_a_look_whose_time_is_over_before_the_cover_is_on_is_not_told(
    latest: int, missed: tuple[str, ...]
) -> None:
    # Laid by 360; the look takes ten minutes and so could end at 370.
    look = task(
        "look", kind="inspect", missed_cost=150, latest_min=latest, due_min=300,
        after=(Link(task_id="P1-top/lay"),),
    )  # fmt: skip
    report = audited([visit("lay", 300, 60)], [work(tasks=(lay(), look))])
    assert report.missed_task_ids == missed
    assert report.fallen_task_ids == ()
    assert report.cost_by_part["missed"] == 150


def test_steam_that_the_enclosure_comes_too_late_for_is_told_all_the_same() -> None:
    # Laid by 360; begun at 359 at the latest the steam would be on by 369.
    on = task(
        "on", kind="start_steam", missed_cost=600, latest_min=369, due_min=300,
        after=(Link(task_id="P1-top/lay"),),
    )  # fmt: skip
    watch = task(
        "watch", kind="steam_watch", missed_cost=150,
        after=(Link(task_id="P1-top/on"),),
    )  # fmt: skip
    report = audited([visit("lay", 300, 60)], [work(tasks=(lay(), on, watch))])
    assert report.missed_task_ids == ("P1-top/on",)
    assert report.fallen_task_ids == ("P1-top/watch",)
    assert report.amount_by_part["missed"] == 1


def test_a_sealed_slab_never_dries() -> None:
    # Sprayed 430 to 490: bare and dry from 420 to the middle of that, 460, only.
    spray = task(
        "spray", kind="spray_compound", duration_min=60, effect="seal",
        skills=("sprayer",),
    )  # fmt: skip
    report = audited(
        [visit("spray", 430, 60)], [work(tasks=(spray,), curve=None, rewet=None)],
    )  # fmt: skip
    assert spans(report) == [("P1-top", 420, 460, False)]
    assert [phase.kind for phase in report.surfaces[0].phases] == [
        "fresh", "exposed", "fogged", "sealed",
    ]  # fmt: skip


def test_fog_keeps_a_bare_slab_wet_while_it_runs() -> None:
    fog = task("fog", kind="fog", duration_min=100, effect="protect")
    report = audited([visit("fog", 400, 100)], [work(tasks=(fog,), rewet=None)])
    assert spans(report) == [("P1-top", 500, LENGTH, False)]


def test_dryness_after_the_end_of_curing_does_not_count() -> None:
    report = audited(
        [visit("lay", 300, 60)], [work(ends_min=1000)], given=cured_after(1)
    )
    assert spans(report) == [("P1-top", 840, 1000, True)]
    assert report.surfaces[0].phases[-1].kind == "done"


def test_rain_fills_a_cover_that_takes_it() -> None:
    # Full at 360, empty at 840. Rain of 0.5 L/(m² h) from 900 to 960 nets 0.4 L/m²:
    # wet from the second minute of it, 901, and at 0.1 L/(m² h) for 240 min after it.
    rain = np.zeros(LENGTH // STEP_MIN)
    rain[90:96] = 0.5
    held = audited(
        [visit("lay", 300, 60)], [work(curve=None, rewet=None)], rain_l_m2_h=rain
    )
    assert spans(held) == [
        ("P1-top", 840, 901, True),
        ("P1-top", 1200, LENGTH, True),
    ]


def test_a_cover_reported_on_starts_with_what_is_left_of_its_last_wetting() -> None:
    # Wetted 180 min before the week: 0.8 - 0.3 = 0.5 L/m² left, 300 min.
    on = surface(
        covered_at=MONDAY - timedelta(hours=5), wetted_at=MONDAY - timedelta(hours=3)
    )
    works = [work(covered_from_min=-300, reserve_at_start_l_m2=0.5, tasks=(), fresh=())]
    report = audited([], works, [on], lead_h=6)
    assert report.violations == ()
    assert spans(report) == [("P1-top", 300, LENGTH, True)]


BASE = [visit("lay", 300, 60), visit("rewet", 640, 20)]
LAID = visit("lay", 300, 60)
LOOK = task("look")
BLUE = Crew(id="blue", name="Blue gang", people=2, home_zone="A", shifts=("day",))
SIDE_BY_SIDE = [
    work(tasks=(LOOK,)),
    work("P2-top", zone_id="B", tasks=(task("look", "P2-top"),)),
]
WET_AT_B = second().model_copy(update={"covered_at": MONDAY, "wetted_at": MONDAY})


def point(name: str, **fields: object) -> Site:
    """The site with one of its water points changed."""
    points = tuple(
        p.model_copy(update=fields) if p.id == name else p for p in site().water_points
    )
    return site_with(water_points=points)


def pair(start: int, other_start: int) -> AuditReport:
    """The red gang looks at P1 and then at P2, four minutes away."""
    other = visit(
        "look", other_start, 10, id="P2", task_id="P2-top/look", surface_id="P2-top"
    )
    tops = (surface(), second())
    return audited([visit("look", start, 10), other], SIDE_BY_SIDE, tops)


def look(start: int, crew: str = "red", **fields: object) -> AuditReport:
    """One look; the fields are those of its task."""
    works = [work(tasks=(task("look", "P1-top", **fields),))]
    return audited([visit("look", start, 10, crew)], works)


def look_after_laying(start: int, min_gap_min: int) -> AuditReport:
    """Laid from 300 to 360, then looked at."""
    linked = task("look", after=(Link(task_id="P1-top/lay", min_gap_min=min_gap_min),))
    visits = [visit("lay", 300, 60), visit("look", start, 10)]
    return audited(visits, [work(tasks=(lay(), linked))])


def two_crews_at_once() -> AuditReport:
    """Blue looks at P1 while red still lays there."""
    blue = visit("look", 350, 10, crew_id="blue", shift_id="blue/day/2027-05-03")
    return audited(
        [visit("lay", 300, 60), blue],
        [work(tasks=(lay(), LOOK))],
        where=site_with(crews=(*site().crews, BLUE)),
    )


def two_days(rest_h: float) -> AuditReport:
    """Work until 660, then from 1504 on: 844 minutes apart, 14.07 h."""
    return audited(
        [visit("look", 650, 10), visit("late", 1504, 10)],
        [work(tasks=(LOOK, task("late")))],
        where=site_with(rules=Rules(rest_h=rest_h)),
    )


def tap_at_b() -> AuditReport:
    """P2 is wetted from the tap that zone B does not reach."""
    works = [
        work(),
        work(
            "P2-top", zone_id="B", tasks=(), fresh=(), covered_from_min=0,
            reserve_at_start_l_m2=0.8, rewet=rewet("P2-top"),
        ),
    ]  # fmt: skip
    to_b = visit("rewet", 400, 20, task_id="P2-top/rewet", surface_id="P2-top")
    return audited([to_b], works, (surface(), WET_AT_B))


def without_laying() -> AuditReport:
    """A look that follows the laying, which nobody does."""
    linked = task("look", after=(Link(task_id="P1-top/lay"),))
    return audited([visit("look", 392, 10)], [work(tasks=(lay(), linked))])


def on_its_cover(kind: str, start: int, *visits: Visit) -> AuditReport:
    """A visit to the cover that no link ties to it, beside others."""
    tasks = (
        lay(), task("visit", kind=kind), task("lift", kind="remove_cover"),
    )  # fmt: skip
    # Cured after 144 min, at 444: nothing here is lifted too soon.
    return audited(
        [visit("visit", start, 10), *visits],
        [work(tasks=tasks)],
        given=cured_after(0.1),
    )


def laid(start: int = 300, minutes: int = 60, **fields: object) -> AuditReport:
    """The laying alone."""
    return audited([visit("lay", start, minutes, "red", **fields)])


def hose(reach_m: float) -> Site:
    """A tap 50 m from zone A."""
    return point("tap", x_m=30, y_m=40, reach_m=reach_m)


def hot_look(start: int) -> AuditReport:
    """Ten minutes of work; nobody works from 460 to 550, 13:40 to 15:10."""
    ban = HeatBan(starts=time(13, 40), ends=time(15, 10))
    looks = work(tasks=(task("look"),))
    where = site_with(heat_bans=(ban,))
    return audited([visit("look", start, 10)], [looks], where=where)


def from_tank(level_l: float) -> AuditReport:
    """240 L for the laying out of a tank that nothing fills."""
    return audited(
        [visit("lay", 300, 60, water_point_id="tank")],
        where=point("tank", level_l=level_l, refill_l_min=0),
    )


def base_with(where: Site) -> AuditReport:
    """Laying and a rewet: 4 and 10 L/min, 440 L together."""
    return audited(BASE, where=where)


PLANTED: dict[str, tuple[str, Callable[[], AuditReport]]] = {
    "a crew in two places": ("overlap", lambda: pair(300, 305)),
    "two crews on one surface": ("overlap", two_crews_at_once),
    "three minutes for a walk of four": ("travel", lambda: pair(100, 113)),
    "two minutes from the gate for three": ("travel", lambda: look(62)),
    "before the shift": ("shift", lambda: look(30)),
    "past the overtime": ("shift", lambda: look(711)),
    "a crew nobody has": ("shift", lambda: look(300, "grey")),
    "into the break": ("break", lambda: look(351)),
    "into the heat ban": ("heat_ban", lambda: hot_look(451)),
    "too little rest": ("rest", lambda: two_days(845 / 60)),
    "nobody who can spray": ("skill", lambda: look(1000, "owl", skills=("sprayer",))),
    "three people of two": ("people", lambda: look(1000, "owl", people=3)),
    "before it may": ("window", lambda: laid(299)),
    "after the latest": ("window", lambda: look(195, latest_min=204)),
    "a rewet before the cover": (
        "order", lambda: audited([visit("rewet", 200, 20), visit("lay", 300, 60)]),
    ),
    "too soon after the work before": ("order", lambda: look_after_laying(419, 60)),
    "without the work before": ("order", without_laying),
    "a look under a cover that is off": (
        "order",
        lambda: on_its_cover("inspect", 515, LAID, visit("lift", 500, 10)),
    ),
    "the same work twice": (
        "order", lambda: audited([visit("lay", 300, 60), visit("lay", 400, 60)]),
    ),
    "work nobody asked for": (
        "order", lambda: audited([*BASE, visit("dance", 500, 10)]),
    ),
    "an hour's work in fifty-nine minutes": ("duration", lambda: laid(300, 59)),
    "more than flows": (
        "water_flow", lambda: base_with(point("tap", flow_l_min=9.9)),
    ),
    "a tap out of reach": ("water_flow", tap_at_b),
    "a hose too short": ("water_flow", lambda: base_with(hose(49))),
    "water from nowhere": ("water_flow", lambda: laid(water_point_id=None)),
    "more than the day allows": (
        "water_allotment", lambda: base_with(point("tap", daily_allotment_l=439)),
    ),
    "more than the tank holds": ("tank_level", lambda: from_tank(239)),
}  # fmt: skip


@pytest.mark.parametrize("case", PLANTED)
def test_a_planted_violation_is_found_and_nothing_else(case: str) -> None:
    kind, report = PLANTED[case]
    assert kinds(report()) == {kind}


#: Kinds of work that nobody can do without a cover (from the words of the trade).
@pytest.mark.parametrize(
    "kind", ["inspect", "soak", "loosen", "top_up", "drain", "check_coverage"]
)
@pytest.mark.parametrize("visits", [(LAID,), ()])
def test_a_visit_to_a_cover_that_is_not_there_is_refused(
    kind: str, visits: tuple[Visit, ...]
) -> None:
    # At 280 the laying from 300 to 360 has not begun, if there is one at all.
    assert "order" in kinds(on_its_cover(kind, 280, *visits))
    assert kinds(on_its_cover(kind, 393, LAID)) == set()


AT_THE_LIMIT: dict[str, Callable[[], AuditReport]] = {
    "four minutes for a walk of four": lambda: pair(100, 114),
    "three minutes from the gate": lambda: look(63),
    "to the end of overtime": lambda: look(710),
    "up to the break": lambda: look(350),
    "up to the heat ban": lambda: hot_look(450),
    "as much rest as is due": lambda: two_days(844 / 60),
    "from the first minute": laid,
    "to the latest minute": lambda: look(195, latest_min=205),
    "as long after as asked": lambda: look_after_laying(420, 60),
    "a hose just long enough": lambda: base_with(hose(50)),
    "all that flows": lambda: base_with(point("tap", flow_l_min=10)),
    "all the day allows": lambda: base_with(point("tap", daily_allotment_l=440)),
    "all the tank holds": lambda: from_tank(240),
}


@pytest.mark.parametrize("case", AT_THE_LIMIT)
def test_at_the_limit_nothing_is_found(case: str) -> None:
    assert kinds(AT_THE_LIMIT[case]()) == set()


def test_work_on_another_site_is_refused() -> None:
    with pytest.raises(ContradictionError, match="P9-top: work on no surface"):
        audited([], [work(), work("P9-top")])


def test_findings_come_in_order_of_time() -> None:
    starts = [finding.starts_at for finding in laid(480).findings]
    assert starts == sorted(starts)
    assert len(starts) > 3


def test_the_order_in_which_visits_are_listed_changes_nothing() -> None:
    assert audited(BASE) == audited(list(reversed(BASE)))
