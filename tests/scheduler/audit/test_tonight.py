"""The coming night: until when, who is there, what dries, in which order."""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

import pytest

from models.drying.covers import cover_properties
from models.errors import OutOfRangeError
from models.records import (
    AuditReport,
    AutomaticFlow,
    CoverStage,
    Horizon,
    ShiftPattern,
    Site,
    Surface,
    SurfaceWork,
    Tonight,
    Visit,
)
from scheduler.audit.tonight import tonight
from tests.builders import MONDAY, pour, site, site_input, surface
from tests.scheduler.audit.audit_builders import (
    audited,
    lay,
    roster,
    site_with,
    task,
    visit,
    work,
)

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))


def night(
    now_min: int,
    visits: Sequence[Visit] = (),
    works: Sequence[SurfaceWork] | None = None,
    surfaces: Sequence[Surface] | None = None,
    where: Site | None = None,
) -> Tonight:
    given = site_input().model_copy(update={"horizon": WEEK, "site": where or site()})
    report: AuditReport = audited(visits, works, surfaces, given=given, horizon=WEEK)
    return tonight(given, roster(visits, works, WEEK), report, WEEK.at(now_min))


def minute(at: datetime | None) -> int | None:
    return None if at is None else WEEK.minute(at)


# Minute 0 is Monday 06:00; the day shift begins at 07:00, minute 60 of its day.
@pytest.mark.parametrize(
    ("now_min", "until_min", "days_off"),
    [
        pytest.param(600, 1500, 0, id="Mon 16:00 to Tue 07:00"),
        pytest.param(1200, 1500, 0, id="Tue 02:00 to Tue 07:00"),
        pytest.param(1439, 1500, 0, id="Tue 05:59, still Monday's night"),
        pytest.param(1440, 2940, 0, id="Tue 06:00 to Wed 07:00"),
        pytest.param(4 * 1440 + 600, 7 * 1440, 2, id="Fri 16:00 over the weekend"),
        pytest.param(5 * 1440 + 60, 7 * 1440, 1, id="Sat 07:00, Sunday is free"),
    ],
)
def test_the_night_goes_on_to_the_next_morning_somebody_works(
    now_min: int, until_min: int, days_off: int
) -> None:
    # The plan ends on Monday at 06:00, an hour before that shift.
    found = night(now_min)
    assert (minute(found.until_at), found.days_off) == (until_min, days_off)


def test_a_night_shift_is_no_morning() -> None:
    # With Tuesday's and Wednesday's day shifts gone, Thursday's counts.
    day = ShiftPattern(id="day", days=("mon", "thu"), starts=time(7), ends=time(17))
    found = night(600, where=site_with(shifts=(day, *site().shifts[1:])))
    assert minute(found.until_at) == 3 * 1440 + 60
    # Night shifts begin on both days between.
    assert found.days_off == 0


def test_reserve_now_and_at_its_lowest_with_the_visit_that_comes() -> None:
    # Full at 660; at 700 are left 0.8 - 40/600 L/m². A rewet runs from 1060 to
    # 1080: before it 0.8 - 420/600 = 0.1 is left, and from there 480 min last to 1560.
    visits = [
        visit("lay", 300, 60), visit("rewet", 640, 20), visit("rewet", 1060, 20, "owl"),
    ]  # fmt: skip
    found = night(700, visits).surfaces[0]
    assert found.state == "covered"
    assert found.reserve_l_m2 == pytest.approx(0.8 - 40 / 600)
    assert found.reserve_fraction == pytest.approx((0.8 - 40 / 600) / 0.8)
    assert found.lowest_l_m2 == pytest.approx(0.1)
    assert minute(found.lowest_at) == 1080
    assert minute(found.next_wet_at) == 1060
    assert found.dry_min == 0


def test_a_visit_that_is_under_way_is_told() -> None:
    # Laid until 360, so dry from 840 on; the rewet of 845 to 865 is seen at 850.
    visits = [visit("lay", 300, 60), visit("rewet", 845, 20)]
    found = night(850, visits).surfaces[0]
    assert found.state == "being re-wetted"
    assert found.reserve_l_m2 == 0
    assert night(845, visits).surfaces[0].state == "covered"  # it only begins
    assert night(865, visits).surfaces[0].state == "covered"


def test_a_gap_is_cut_to_the_night() -> None:
    # Laid by 360, dry from 840 to the end of the week; seen at 900, morning at 1500.
    found = night(900, [visit("lay", 300, 60)])
    assert [(minute(g.starts_at), minute(g.ends_at)) for g in found.gaps] == [
        (900, 1500)
    ]
    assert found.surfaces[0].dry_min == 600
    assert found.surfaces[0].lowest_fraction == 0
    assert found.surfaces[0].next_wet_at is None


def test_the_worst_surface_stands_first() -> None:
    # P1 covered and dry from 840; P2 bare and dry from 420; P3 covered at 720, lasts
    # to 1200 and is dry 300 min less the night's end at 1500.
    names = ("P1", "P2", "P3")
    tops = [surface(pour(name)) for name in names]
    works = [
        work(),
        work("P2-top"),
        work("P3-top", tasks=(lay("P3-top", latest_min=2000),)),
    ]
    third = visit("lay", 660, 60, id="P3", task_id="P3-top/lay", surface_id="P3-top")
    found = night(700, [visit("lay", 300, 60), third], works, tops)
    assert [(s.surface_id, s.dry_min) for s in found.surfaces] == [
        ("P2-top", 800), ("P1-top", 660), ("P3-top", 300),
    ]  # fmt: skip
    assert [s.state for s in found.surfaces] == ["bare", "covered", "fogged"]
    assert found.surfaces[0].reserve_l_m2 is None


def test_surfaces_that_are_over_or_sealed_are_not_open() -> None:
    spray = task("spray", kind="spray_compound", duration_min=60, effect="seal")
    sealed = work(tasks=(spray,), curve=None, rewet=None)
    found = night(700, [visit("spray", 430, 60)], [sealed])
    assert (found.surfaces, found.sealed) == ((), 1)
    over = night(700, [visit("lay", 300, 60)], [work(ends_min=600)])
    assert (over.surfaces, over.sealed) == ((), 0)


def test_a_timer_is_no_seal_its_surface_is_listed() -> None:
    start = task("start", kind="commission", duration_min=60, effect="seal")
    flow = AutomaticFlow(
        water_point_id="tap", from_min=700, until_min=2000, flow_l_min=5
    )
    timed = work(tasks=(lay(), start), automatic=(flow,))
    found = night(700, [visit("lay", 300, 60), visit("start", 430, 60)], [timed])
    assert found.sealed == 0
    (listed,) = found.surfaces
    assert (listed.state, listed.reserve_fraction) == ("on a timer", 1)


def test_a_pond_is_shown_in_its_own_litres() -> None:
    # At 0.1 L/(m² h) the 1.6 L/m² of the shallow pond last 960 min from 600 on.
    pond = cover_properties("pond").model_copy(
        update={"held_l_m2": 1.6, "leak_mm_d": 0}
    )
    stage = CoverStage(
        method="ponding", cover=pond, starts_at=WEEK.at(500), reason="for the test"
    )
    fill = task("fill", kind="fill_pond", duration_min=30, effect="wet")
    works = [work(tasks=(lay(), fill), rewet=None)]
    visits = [visit("lay", 300, 60), visit("fill", 570, 30)]
    open_now = night(700, visits, works, [surface(later=(stage,))]).surfaces[0]
    assert open_now.state == "ponded"
    assert open_now.reserve_l_m2 == pytest.approx(1.6 * (1 - 100 / 960))
    assert open_now.reserve_fraction == pytest.approx(1 - 100 / 960)
    assert open_now.lowest_fraction == pytest.approx(1 - 900 / 960)


def test_a_surface_under_blankets_needs_no_water() -> None:
    under = surface(
        method="insulated_blankets", cover=cover_properties("insulated_blankets")
    )
    works = [work(curve=None, rewet=None)]
    found = night(700, [visit("lay", 300, 60)], works, [under])
    assert (found.surfaces, found.sealed) == ((), 1)


def test_a_surface_placed_in_the_night_is_open() -> None:
    late = surface(pour(placing_starts_at=WEEK.at(700), placing_ends_at=WEEK.at(1000)))
    found = night(600, works=[work(fresh=())], surfaces=[late])
    assert [s.state for s in found.surfaces] == ["bare"]


def test_who_is_there_comes_before_who_can_be_called() -> None:
    friday = 4 * 1440
    visits = [visit("rewet", friday + 1000, 20, "owl")]
    found = night(friday + 700, visits)
    assert [(c.crew_id, c.on_call, c.visits) for c in found.crews] == [
        ("owl", False, 1), ("red", True, 0), ("red", True, 0),
    ]  # fmt: skip
    assert found.crews[0].people == 2


def test_water_is_that_of_dusk_and_what_the_night_draws() -> None:
    # Dusk at 20:00 is minute 840. The tank holds 4000, takes no more; a rewet at 600
    # draws 200 and 2 L/min refill it by 720. The one at 1000 is the night's.
    visits = [
        visit("rewet", 600, 20, "red", water_point_id="tank"),
        visit("rewet", 1000, 20, "owl", water_point_id="tank"),
    ]
    found = night(610, visits)
    tank = next(w for w in found.water if w.water_point_id == "tank")
    assert minute(found.dusk_at) == 840
    assert (tank.level_l, tank.drawn_l) == (4000, 200)
    assert tank.allotment_left_l is None


def test_after_dusk_the_night_begins_now() -> None:
    assert minute(night(1000).dusk_at) == 1000


@pytest.mark.parametrize("now_min", [-1, 7 * 1440])
def test_a_time_outside_the_plan_is_refused(now_min: int) -> None:
    with pytest.raises(OutOfRangeError, match="hours from the start of the plan"):
        night(now_min)
