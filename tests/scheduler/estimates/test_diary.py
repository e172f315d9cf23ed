"""When somebody can come, and at what price."""

import numpy as np

from models.records import Task
from scheduler.estimates.diary import Diary
from tests.scheduler.estimates.advise_builders import (
    call,
    rewet,
    shift,
    supply,
    surface_work,
    task,
    work_list,
)


def free_starts(diary: Diary, one: Task, first: int, last: int) -> list[int]:
    prices = diary.prices(one, first, last)
    return [first + int(i) for i in np.flatnonzero(prices == 0)]


def test_a_visit_waits_for_the_walk_and_spares_the_break() -> None:
    diary = Diary(work_list(surface_work()), surface_work(), frozenset())
    look = task("look", duration_min=60)
    starts = free_starts(diary, look, 0, 800)
    # From 60 + 5 on; ends by the break at 360; from 390; ends by 660.
    assert starts == [*range(65, 301), *range(390, 601)]


def test_overtime_is_paid_by_the_minute() -> None:
    diary = Diary(work_list(surface_work()), surface_work(), frozenset())
    look = task("look", duration_min=60)
    prices = diary.prices(look, 600, 700)
    assert prices[0] == 0
    assert prices[10] == 20  # ends 10 min after the shift, at 2 a minute
    assert prices[60] == 120
    assert np.isinf(prices[61])  # overtime ends an hour after the shift


def test_skills_and_people_are_asked_for() -> None:
    pair = shift(people=2, skills=("labourer",))
    diary = Diary(work_list(surface_work(), shifts=[pair]), surface_work(), frozenset())
    assert free_starts(diary, task("look", people=2), 100, 100) == [100]
    assert free_starts(diary, task("look", people=3), 100, 100) == []
    assert free_starts(diary, task("look", skills=("sprayer",)), 100, 100) == []


def test_a_stretch_on_call_is_open_only_where_it_was_called() -> None:
    called = work_list(surface_work(), shifts=[call(900, 1100)])
    closed = Diary(called, surface_work(), frozenset())
    assert np.isinf(closed.prices(task("look"), 950, 950)[0])
    opened = Diary(called, surface_work(), frozenset({"red/call/900"}))
    assert opened.prices(task("look"), 950, 950)[0] == 0


def test_a_crew_rests_between_its_shifts() -> None:
    # Off at 600 + 10; 660 min of rest: no call before 1270.
    both = work_list(surface_work(), shifts=[shift(), call(900, 1400)])
    diary = Diary(both, surface_work(), frozenset({"red/call/900"}))
    diary.book(task("look"), 600)
    prices = diary.prices(task("other"), 900, 1390)
    assert 900 + int(np.flatnonzero(np.isfinite(prices))[0]) == 1270


def test_a_surface_has_one_visit_at_a_time() -> None:
    diary = Diary(work_list(surface_work()), surface_work(), frozenset())
    diary.book(task("look", duration_min=30), 100)
    starts = free_starts(diary, task("other", duration_min=20), 70, 140)
    assert starts == [*range(70, 81), *range(130, 141)]


def test_a_visit_goes_where_there_is_water() -> None:
    weak = work_list(surface_work(), supplies=[supply(flow_l_min=10)])
    # 200 L in 14 min are 14.3 L/min.
    assert (
        free_starts(Diary(weak, surface_work(), frozenset()), rewet(), 100, 200) == []
    )
    diary = Diary(work_list(surface_work()), surface_work(), frozenset())
    assert diary.book(rewet(), 100).water_point_id == "tap"
