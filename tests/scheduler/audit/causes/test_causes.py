"""The limit behind a gap, one situation each.

The slab is laid from 300 to 360 and would need a rewet by 840, when nobody works: the
day shift ends at 660 (with overtime at 720), the night shift begins at 960.
"""

from collections.abc import Sequence
from datetime import time, timedelta

import pytest

from models.records import (
    AuditReport,
    CompetingUse,
    Crew,
    Gap,
    HeatBan,
    Link,
    Rules,
    Site,
    SurfaceWork,
    Visit,
    WaterNeed,
)
from tests.builders import MONDAY, site, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    audited,
    lay,
    rewet,
    second,
    site_with,
    task,
    visit,
    work,
)


def first_gap(report: AuditReport) -> Gap:
    return next(gap for gap in report.gaps if gap.surface_id == "P1-top")


def gap_of(
    visits: Sequence[Visit],
    works: Sequence[SurfaceWork] | None = None,
    where: Site | None = None,
    ends_min: int = 940,
) -> Gap:
    """First gap of P1 in a week whose curing ends soon."""
    given = works or [work(ends_min=ends_min)]
    tops = (surface(), second())[: len(given)]
    return first_gap(audited(visits, given, tops, where))


def tap(**fields: object) -> Site:
    point = site().water_points[0].model_copy(update=fields)
    zone = site().zones[0].model_copy(update={"water_points": (point.id,)})
    return site_with(
        water_points=(point, site().water_points[1]), zones=(zone, site().zones[1])
    )


LAID = visit("lay", 300, 60)


def by_day(**fields: object) -> list[SurfaceWork]:
    """Covered at 150, dry from 630 in the shift until curing ends at 650."""
    base: dict[str, object] = {
        "tasks": (lay(earliest_min=0),), "fresh": (), "ends_min": 650,
    }  # fmt: skip
    return [work("P1-top", **(base | fields))]


EARLY = visit("lay", 90, 60)


def test_nobody_on_shift() -> None:
    gap = gap_of([LAID])
    assert (HORIZON.minute(gap.starts_at), gap.minutes) == (840, 100)
    assert gap.limit == "no_crew_on_shift"
    assert gap.words == "no crew on shift Mon 20:00 to 21:40"


def test_a_rested_and_free_crew_that_stays_away_is_a_matter_of_price() -> None:
    gap = gap_of([EARLY], by_day())
    assert gap.limit == "price"
    assert gap.words == "Red gang could rewet Mon 16:30; other costs weighed more"


def test_a_call_out_that_costs_more_than_the_gap_is_named() -> None:
    on_call = site().shifts[2].model_copy(update={"days": ("mon",)})
    where = site_with(shifts=(*site().shifts[:2], on_call))
    gap = gap_of([visit("lay", 300, 60)], where=where.model_copy(
        update={"rules": Rules(rest_h=0)}))  # fmt: skip
    assert gap.limit == "price"
    assert gap.words == (
        "Red gang could be called out to rewet Mon 20:00; leaving it costs less"
    )


def test_a_crew_that_must_rest_first() -> None:
    on_call = site().shifts[2].model_copy(update={"days": ("mon",)})
    where = site_with(shifts=(*site().shifts[:2], on_call))
    gap = gap_of([visit("lay", 300, 60)], where=where)
    assert gap.limit == "rest"
    assert gap.words == ("the crews must rest 11 h; none is rested Mon 20:00 to 21:40")


def test_nobody_with_the_skill() -> None:
    gap = gap_of([EARLY], by_day(rewet=rewet(people=5)))
    assert gap.limit == "no_skill"
    assert gap.words == (
        "rewet takes 5 people (labourer); no such crew on Mon 16:30 to 16:50"
    )


def test_work_that_no_shift_has_time_for() -> None:
    # Begun at 630, a rewet of 110 min would end 20 min after the last overtime at 720.
    gap = gap_of([EARLY], by_day(rewet=rewet(duration_min=110)))
    assert gap.limit == "no_crew_on_shift"
    assert gap.words == (
        "rewet takes 110 min; no crew is on so long Mon 16:30 to 16:50"
    )


def test_words_name_the_longest_stretch_of_the_most_common_reason() -> None:
    # Dry from 840 to 1400: nobody until 960, then for 440 min the night pair, who are
    # two of the four it takes.
    gap = gap_of([LAID], [work(rewet=rewet(people=4), ends_min=1400)])
    assert gap.limit == "no_skill"
    assert gap.words == (
        "rewet takes 4 people (labourer); no such crew on Mon 22:00 to Tue 05:20"
    )


def test_every_crew_at_work_elsewhere() -> None:
    # Dry 630 to 650; a rewet of 20 min must begin by 649, and the gang is on P2 until
    # the end of its overtime.
    works = [
        *by_day(),
        work("P2-top", zone_id="B", tasks=(
            task("long", "P2-top", duration_min=110),), rewet=None, curve=None,
            fresh=()),
    ]  # fmt: skip
    busy = visit("long", 610, 110, task_id="P2-top/long", surface_id="P2-top")
    gap = gap_of([EARLY, busy], works)
    assert gap.limit == "crews_busy"
    assert gap.words == "rewet takes 20 min; every crew is at work Mon 16:30 to 16:50"


def test_no_time_to_walk_between_two_jobs() -> None:
    # Free from 628 to 649 between two jobs in zone B: 21 min for a rewet of 20, but
    # the way there and back takes 8.
    works = [
        *by_day(ends_min=632),
        work("P2-top", zone_id="B", tasks=(
            task("a", "P2-top", duration_min=100),
            task("b", "P2-top", duration_min=60)), rewet=None, curve=None, fresh=()),
    ]  # fmt: skip
    on_second = {"surface_id": "P2-top"}
    visits = [
        EARLY,
        visit("a", 529, 100, "red", task_id="P2-top/a", **on_second),
        visit("b", 652, 60, "red", task_id="P2-top/b", **on_second),
    ]
    gap = gap_of(visits, works)
    assert gap.limit == "travel"
    assert gap.words == "no crew can walk to P1 top in time Mon 16:30 to 16:32"


def test_not_enough_flow() -> None:
    # 30 of 35 L/min are taken from 16:00 to 18:00; a rewet takes 10.
    others = CompetingUse(starts=time(16), ends=time(18), flow_l_min=30)
    gap = gap_of([EARLY], by_day(), tap(flow_l_min=35, competing=(others,)))
    assert gap.limit == "water_flow"
    assert gap.words == "P1 top needs 10 L/min Mon 16:30; Tap at gate has 5 L/min free"


def test_flow_that_another_visit_draws_is_not_free() -> None:
    # Blue wets P2 from 620 to 660 with 30 of the tap's 35 L/min.
    blue = Crew(id="blue", name="Blue gang", people=2, home_zone="A", shifts=("day",))
    soak = task(
        "soak", "P2-top", duration_min=40, kind="soak",
        water=WaterNeed(litres_l=1200, until_min=40),
    )  # fmt: skip
    other = work("P2-top", tasks=(soak,), rewet=None, curve=None, fresh=())
    where = tap(flow_l_min=35)
    beside = visit(
        "soak", 620, 40, crew_id="blue", shift_id="blue/day/2027-05-03",
        task_id="P2-top/soak", surface_id="P2-top", water_point_id="tap",
    )  # fmt: skip
    gap = gap_of(
        [EARLY, beside],
        [*by_day(), other],
        where.model_copy(update={"crews": (*where.crews, blue)}),
    )
    assert gap.limit == "water_flow"
    assert gap.words == "P1 top needs 10 L/min Mon 16:30; Tap at gate has 5 L/min free"


def test_the_way_from_the_gate_takes_its_time() -> None:
    # Dry from 60, when the shift begins, until the gang is there at 63.
    on = surface(covered_at=MONDAY - timedelta(hours=7))
    works = [
        work(
            tasks=(), fresh=(), covered_from_min=-420, reserve_at_start_l_m2=0.1,
            ends_min=63,
        )
    ]  # fmt: skip
    report = audited([], works, [on], lead_h=8)
    assert first_gap(report).minutes == 3
    assert first_gap(report).limit == "travel"


def test_the_day_s_water_is_used_up() -> None:
    # 400 L a day, 240 of them for the laying.
    gap = gap_of([EARLY], by_day(), tap(daily_allotment_l=400))
    assert gap.limit == "water_allotment"
    assert gap.words == (
        "P1 top needs 200 L Mon 16:30; Tap at gate has 160 L left that day"
    )


def test_an_empty_tank() -> None:
    tank = {"capacity_l": 1000.0, "level_l": 300.0}
    gap = gap_of([EARLY], by_day(), tap(**tank))
    assert gap.limit == "tank_empty"
    assert gap.words == "P1 top needs 200 L Mon 16:30; Tap at gate holds 60 L"


def test_water_that_is_promised_to_a_later_visit_is_not_there() -> None:
    # 460 L: 240 for the laying, 200 for a rewet the next morning at 1600; 20 spare.
    works = by_day()
    tank = {"capacity_l": 1000.0, "level_l": 460.0}
    gap = gap_of([EARLY, visit("rewet", 1600, 20)], works, tap(**tank))
    assert gap.limit == "tank_empty"


def test_a_window_that_has_closed() -> None:
    gap = gap_of([EARLY], by_day(rewet=rewet(latest_min=600)))
    assert gap.limit == "window"
    assert gap.words == "rewet may not begin Mon 16:30 to 16:50"


def test_a_bare_slab_waits_for_what_first_keeps_it_wet() -> None:
    # Fog may begin at 420 with a fogger's skill, which only the red gang has; dry
    # from 420 to 480.
    fog = task("fog", kind="fog", effect="protect", duration_min=10, skills=("fogger",))
    where = site_with(crews=(site().crews[0].model_copy(update={"skills": (
        "labourer",)}), site().crews[1]))  # fmt: skip
    gap = gap_of([visit("lay", 480, 60)], [work(tasks=(fog, lay()))], where)
    assert (gap.covered, gap.limit) == (False, "no_skill")


def test_fog_that_had_to_begin_before_the_gap_could_have_closed_it() -> None:
    # Dry from 420 to 480; an hour's fog may end by 480 at the latest, so it begins at
    # 420 at the latest: from 391 on, after the break, it would have helped.
    fog = task("fog", kind="fog", effect="protect", duration_min=60, latest_min=480)
    gap = gap_of([visit("lay", 480, 60)], [work(tasks=(fog, lay(earliest_min=480)))])
    assert gap.limit == "price"
    assert gap.words == "Red gang could fog Mon 12:30; other costs weighed more"


def test_a_long_bare_gap_is_laid_to_the_cover_and_not_to_the_fog_before_it() -> None:
    # Fog may run until 500; the cover has until 1500 and nobody lays it. An hour's
    # laying helps from 361 on, and the break ends at 390.
    fog = task("fog", kind="fog", effect="protect", latest_min=500)
    gap = gap_of([], [work(tasks=(fog, lay()), ends_min=1500)])
    assert gap.words == "Red gang could lay cover Mon 12:30; other costs weighed more"


@pytest.mark.parametrize("ends_min", [841, 940, 4320])
def test_every_gap_of_the_week_has_a_cause_in_words(ends_min: int) -> None:
    report = audited([LAID], [work(ends_min=ends_min)])
    assert all(gap.words and gap.limit for gap in report.gaps)
    assert sum(gap.minutes for gap in report.gaps) == ends_min - 840


def test_no_work_at_all_is_a_closed_window() -> None:
    gap = gap_of([LAID], [work(rewet=None, ends_min=940)])
    assert gap.limit == "window"
    assert gap.words == "no work is planned for that could keep it wet here"


def test_a_missed_duty_is_judged_over_its_whole_window() -> None:
    night = task("look", earliest_min=720, latest_min=940, due_min=940, missed_cost=150)
    report = audited([LAID], [work(tasks=(lay(), night), ends_min=940)])
    (missed,) = report.missed
    assert (missed.task_id, missed.limit) == ("P1-top/look", "no_crew_on_shift")
    assert missed.words == "no crew on shift Mon 18:00 to 21:31"


def test_a_missed_duty_that_follows_a_missed_one_has_the_cause_of_that() -> None:
    ease = task("ease", people=9, missed_cost=600)
    lift = task("lift", missed_cost=600, after=(Link(task_id="P1-top/ease"),))
    report = audited([LAID], [work(tasks=(lay(), ease, lift), ends_min=940)])
    first, second_one = report.missed
    assert first.limit == "no_skill"
    assert (second_one.task_id, second_one.words) == ("P1-top/lift", first.words)


def test_the_heat_ban_keeps_everybody_off() -> None:
    # Dry from 630, 16:30; the ban from 16:00 leaves no time before curing ends.
    ban = HeatBan(starts=time(16), ends=time(18))
    gap = gap_of([EARLY], by_day(), site_with(heat_bans=(ban,)))
    assert gap.limit == "heat_ban"
    assert gap.words == ("nobody works outdoors in the heat ban Mon 16:30 to 16:50")
