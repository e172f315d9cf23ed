"""Findings on water from points whose minutes are written down, not played.

The point gives 30 L/min; its first day is the minutes 0 to 1079, its second the rest.
"""

from collections.abc import Mapping

import numpy as np
import pytest

from models.local_clock import WeekClock
from models.records import AutomaticFlow, Finding, Floats, Site, WaterPoint
from scheduler.audit.checks.water import check_water
from scheduler.audit.replayed.jobs import jobs_of
from scheduler.audit.replayed.water import WaterSimulation
from tests.builders import site
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    rewet,
    roster,
    site_with,
    task,
    visit,
    work,
)

CLOCK = WeekClock("Europe/Berlin", HORIZON)
DAYS = ((0, 1080), (1080, 2520))
Minutes = Mapping[tuple[int, int], float]
"""A figure for some minutes; nothing in the others."""


def series(values: Minutes, otherwise: float = 0) -> Floats:
    found = np.full(2520, float(otherwise))
    for (first, last), value in values.items():
        found[first:last] = value
    return found


def findings(
    drawn: Minutes | None = None,
    timers: Minutes | None = None,
    others: Minutes | None = None,
    level: Minutes | None = None,
    **fields: object,
) -> list[Finding]:
    """What is found where so much is drawn; 100 L in the tank but where it is said."""
    base: dict[str, object] = {
        "id": "tank", "name": "Hall tank", "kind": "tank", "flow_l_min": 30,
    }  # fmt: skip
    point = WaterPoint.model_validate(base | fields)
    automatic, taken = series(timers or {}), series(others or {})
    simulated = WaterSimulation(
        point=point,
        drawn_l=series(drawn or {}),
        automatic_l=automatic,
        free_l_min=np.maximum(0, point.flow_l_min - taken - automatic),
        others_l=taken,
        level_l=None if level is None else series(level, 100),
        days=DAYS,
    )
    return check_water(site(), [simulated], (), CLOCK)


def spans(found: list[Finding]) -> list[tuple[str, int, int, int]]:
    """Kind, first minute, minute after the last, and minutes that count."""
    minute = HORIZON.minute
    return [(f.kind, minute(f.starts_at), minute(f.ends_at), f.minutes) for f in found]


def words(found: list[Finding]) -> list[str]:
    return [finding.words for finding in found]


def test_a_stretch_of_too_much_flow_is_told_by_its_worst_minute() -> None:
    # Others leave 20 from 610 on; 40 in the last minute, 07:00 + 9 h 19 min.
    drawn = {(600, 605): 31.0, (605, 610): 30.0, (610, 619): 21.0, (619, 620): 40.0}
    found = findings(drawn, others={(610, 700): 10})
    assert spans(found) == [
        ("water_flow", 600, 605, 5),
        ("water_flow", 610, 620, 10),
    ]
    assert words(found) == [
        "Hall tank: 31 L/min drawn Mon 16:00; 30 L/min flow",
        "Hall tank: 40 L/min drawn Mon 16:19; 20 L/min flow",
    ]
    assert {finding.water_point_id for finding in found} == {"tank"}


def test_each_day_has_its_own_allotment_to_the_minute() -> None:
    # 10 × 10 on the first day and 10 × 10 on the second, around midnight.
    around = {(1070, 1090): 10.0}
    assert findings(around, daily_allotment_l=100) == []
    found = findings(around, daily_allotment_l=99)
    assert spans(found) == [
        ("water_allotment", 0, 1080, 1080),
        ("water_allotment", 1080, 2520, 1440),
    ]
    assert words(found)[1] == (
        "Hall tank: 100 L drawn on Tue 4 May; 99 L a day are allowed"
    )


def test_visits_may_draw_nothing_where_timers_draw_more_than_the_day_allows() -> None:
    found = findings({(600, 601): 0.5}, {(100, 110): 10}, daily_allotment_l=50)
    assert [kind for kind, *_ in spans(found)] == ["water_allotment", "automatic_short"]


def test_a_tank_lacks_what_it_is_short_of_at_its_lowest() -> None:
    found = findings(level={(600, 601): -5, (601, 603): -2, (700, 702): -1})
    assert spans(found) == [("tank_level", 600, 603, 3), ("tank_level", 700, 702, 2)]
    assert words(found) == [
        "Hall tank runs empty Mon 16:00, 5 L short",
        "Hall tank runs empty Mon 17:40, 1 L short",
    ]


def test_a_timer_is_short_of_flow_where_it_asks_for_more_than_others_leave() -> None:
    # 30 less 12 and less 40: the timer's 18 are just enough in the first ten minutes.
    others = {(100, 110): 12.0, (110, 115): 40.0, (130, 135): 40.0}
    found = findings(timers={(100, 120): 18, (130, 140): 18}, others=others)
    assert spans(found) == [("automatic_short", 110, 135, 10)]
    assert words(found) == ["Hall tank: a timer draws 18 L/min Mon 07:50; 0 L/min flow"]


def test_a_timer_is_short_where_the_tank_is_empty_in_minutes_of_its_draw() -> None:
    found = findings(timers={(100, 120): 10}, level={(110, 200): 0, (300, 301): 0})
    assert spans(found) == [("automatic_short", 110, 120, 10)]
    assert words(found)[0].endswith("Mon 07:50; the tank is empty then")


def test_a_timer_is_short_once_the_day_s_allotment_is_used() -> None:
    # 10 a minute of 100 L: the eleventh minute is too much; the next day is new.
    runs = {(100, 105): 10.0, (200, 206): 10.0, (1080, 1090): 10.0}
    found = findings(timers=runs, daily_allotment_l=100)
    assert spans(found) == [("automatic_short", 205, 206, 1)]
    assert words(found)[0].endswith("100 L a day are allowed")


def reach(where: Site, zone_id: str, point_id: str | None = "tank") -> list[Finding]:
    """What is found of one rewet, apart from what is drawn."""
    works = [work(zone_id=zone_id, rewet=rewet(), tasks=(task("look"),))]
    visits = [
        visit("look", 500, 10),
        visit("rewet", 600, 20, water_point_id=point_id),
    ]
    jobs, _ = jobs_of(roster(visits, works), CLOCK)
    return check_water(where, (), jobs, CLOCK)


@pytest.mark.parametrize(
    ("fields", "lacks"),
    [
        # Zone B lies at 120, 0: the tank is 30 m east and 40 m north of it, 50 m away.
        ({"x_m": 150, "y_m": 40, "reach_m": 48}, 2),
        ({"x_m": 150, "y_m": 40, "reach_m": 50}, 0),
        ({"x_m": 150, "y_m": 40, "reach_m": 60}, 0),
        ({"x_m": 150, "y_m": 40}, 0),
        ({"x_m": 150, "reach_m": 10}, 0),
        ({"y_m": 40, "reach_m": 10}, 0),
    ],
)
def test_a_hose_is_measured_from_its_point_to_the_zone(
    fields: dict[str, float], lacks: int
) -> None:
    tap, tank = site().water_points
    where = site_with(water_points=(tap, tank.model_copy(update=fields)))
    found = reach(where, "B")
    assert [finding.words.partition(" lacks ")[2] for finding in found] == (
        [f"{lacks} m of hose from tank"] if lacks else []
    )


def test_a_draw_from_nowhere_or_out_of_reach_names_the_visit() -> None:
    (nowhere,) = reach(site(), "A", None)
    assert "is given no water point" in nowhere.words
    (far,) = reach(site(), "B", "tap")
    assert far.words.endswith("cannot reach tap from zone B")
    assert spans([far]) == [("water_flow", 600, 620, 0)]
    assert (far.surface_id, far.crew_id, far.water_point_id) == ("P1-top", "red", "tap")


def test_a_timer_out_of_reach_is_told_for_as_long_as_it_runs() -> None:
    timer = AutomaticFlow(
        water_point_id="tap", from_min=100, until_min=160, flow_l_min=10
    )
    works = [work(zone_id="B", automatic=(timer,)), work(zone_id="A")]
    (found,) = check_water(site(), (), (), CLOCK, works)
    assert spans([found]) == [("water_flow", 100, 160, 0)]
    assert (found.surface_id, found.water_point_id) == ("P1-top", "tap")
