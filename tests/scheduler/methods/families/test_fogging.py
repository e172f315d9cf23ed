"""Fog stints: where, how long, by how many."""

from datetime import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import HeatBan, Task
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import by_name, frosty, hour, work_of


def stints(
    *fog: tuple[float, float], area_m2: float = 300, method: str = "burlap_double"
) -> list[Task]:
    """Stints where fog is needed between hours; placing ends at 5, cover at 8."""
    some = site_input(pour(area_m2=area_m2, method=method))
    work = work_of(some, fog=tuple((hour(a), hour(b)) for a, b in fog))
    return [t for name, t in by_name(work).items() if name.startswith("fog-")]


def test_hours_with_a_fixed_start_cut_at_breaks() -> None:
    """Needed 11:00 to 14:00 local; the gang's break is 12:00 to 12:30."""
    found = [(t.earliest_min, t.latest_min) for t in stints((5, 8))][:4]
    assert found == [(300, 360), (360, 390), (390, 450), (450, 480)]
    assert all(t.due_min == t.latest_min for t in stints((5, 8)))
    assert all(t.earliest_min + t.duration_min == t.due_min for t in stints((5, 8)))


def test_stints_end_at_a_heat_ban_and_begin_anew_behind_it() -> None:
    """Needed 11:00 to 14:00; nobody works from 12:40 to 13:05, minutes 400 to 425.

    The twenty minutes from the break's end, and those in the ban, are less than a
    stint otherwise may be.
    """
    some = site_input(pour())
    ban = HeatBan(starts=time(12, 40), ends=time(13, 5))
    hot = some.site.model_copy(update={"heat_bans": (ban,)})
    work = work_of(some.model_copy(update={"site": hot}), fog=((hour(5), hour(8)),))
    assert [(b.from_min, b.until_min) for b in work.heat_bans[:1]] == [(400, 425)]
    found = [t for name, t in by_name(work).items() if name.startswith("fog-")]
    edges = {m for t in found for m in (t.earliest_min, t.latest_min)}
    assert {400, 425} <= edges
    assert not [t for t in found if t.earliest_min < 400 < t.latest_min]
    assert not [t for t in found if t.earliest_min < 425 < t.latest_min]


# Common advice, from memory: no fog near frost; none at +2 °C or below.
@pytest.mark.parametrize(("air_c", "fogged"), [(2.0, False), (2.1, True)])
def test_nobody_fogs_near_frost(air_c: float, fogged: bool) -> None:
    """Needed 11:00 to 14:00; the hour from 12:00 local, minute 360, is cold."""
    cold = frosty(site_input(pour()), 6, air_c=air_c)
    work = work_of(cold, fog=((hour(5), hour(8)),))
    found = [t for name, t in by_name(work).items() if name.startswith("fog-")]
    there = [t for t in found if t.earliest_min < 420 and t.latest_min > 360]
    assert bool(there) is fogged
    assert {300, 420} <= {t.earliest_min for t in found} | ({420} if fogged else set())


def test_fog_goes_on_for_four_hours_where_the_cover_is_late() -> None:
    """Ready at 480, late from 510, until 480 + 240."""
    found = stints()
    assert (found[0].earliest_min, found[-1].latest_min) == (510, 720)


def test_people_by_area_and_a_nozzle_each() -> None:
    """300 m² at 150 a person are two; 1.9 L/min a nozzle for an hour are 228 L."""
    first = stints((5, 8))[0]
    assert (first.people, first.skills) == (2, ("fogger",))
    assert first.water is not None
    assert first.water.litres_l == 228
    assert (first.effect, first.missed_cost) == ("protect", 0)


def test_no_more_people_than_the_gang_has() -> None:
    assert stints((5, 8), area_m2=3000)[0].people == 4


def test_nobody_fogs_struck_faces() -> None:
    wall = pour(
        element="wall", area_m2=10, formed_area_m2=50, strike_at=hour(49),
        formed_method="burlap_double",
    )  # fmt: skip
    work = work_of(site_input(wall), fog=((hour(49), hour(52)),))
    assert not [n for n in by_name(work, "P1-faces") if n.startswith("fog-")]


@settings(deadline=None, max_examples=40)
@given(st.integers(30, 47), st.integers(1, 18))
def test_stints_cover_every_needed_minute_until_the_cover_can_be_on(
    first: int, count: int
) -> None:
    """In steps of ten minutes; bare from 300, late from 510."""
    needed = range(first * 10, min((first + count) * 10, 510))
    fogged = {
        minute
        for task in stints((first / 6, (first + count) / 6))
        for minute in range(task.earliest_min, task.latest_min)
    }
    assert set(needed) <= fogged


@settings(deadline=None, max_examples=40)
@given(st.integers(30, 47), st.integers(1, 18))
def test_stints_never_overlap(first: int, count: int) -> None:
    found = stints((first / 6, (first + count) / 6))
    ends = [t.latest_min for t in found]
    starts = [t.earliest_min for t in found]
    assert all(a <= b for a, b in zip(ends, starts[1:], strict=False))
    assert all(t.duration_min >= 10 for t in found)
