"""Visits of a published roster as they happened, and what of them has begun."""

from datetime import timedelta

import pytest

from models.records import Entry, Found, WorkDone, WorkFailed, WorkStarted
from scheduler.happened.so_far import SoFar
from scheduler.happened.visits import as_happened
from tests.scheduler.happened.happened_builders import at, entry, published, visit
from tests.scheduler.solver.solver_builders import work_list

LOOK, WET = visit("S/look", 3), visit("S/rewet", 10, 1)
HELD = published(LOOK, WET)


def done(number: int, hours: float, **fields: object) -> Entry:
    values = WorkDone.model_validate({"work": "rewet"} | fields)
    return entry(number, "S", hours, values)


def starts(*entries: Entry, place_of: dict[str, str] | None = None) -> dict[str, float]:
    seen = as_happened(HELD, entries, place_of or {})
    hour = timedelta(hours=1)
    return {one.visit.id: (one.visit.starts_at - at(0)) / hour for one in seen}


def test_without_an_entry_a_visit_stands_as_planned() -> None:
    assert starts() == {"S/look": 3, "S/rewet/1": 10}


def test_done_at_says_when_it_ended_started_when_it_began() -> None:
    assert starts(done(1, 11, visit_id="S/rewet/1"))["S/rewet/1"] == 10.5
    began = done(1, 12, visit_id="S/rewet/1", started_at=at(9))
    assert starts(began)["S/rewet/1"] == 9
    only = entry(1, "S", 9.25, WorkStarted(work="rewet", visit_id="S/rewet/1"))
    assert starts(only)["S/rewet/1"] == 9.25


def test_an_identity_finds_its_visit_whatever_its_place_is_now() -> None:
    moved = done(1, 8, identity_id="i-7", visit_id="S/look")
    assert starts(moved, place_of={"i-7": "S/rewet/1"}) == {
        "S/look": 3,
        "S/rewet/1": 7.5,
    }


def test_a_wetting_nobody_had_planned_is_one_more() -> None:
    now = starts(done(1, 20.5))
    assert now == {"S/look": 3, "S/rewet/1": 10, "S/rewet/entry 1": 20}
    refilled = entry(1, "S", 20.5, Found(condition="dry", litres_l=90))
    assert starts(refilled) == now
    only_seen = entry(1, "S", 20.5, Found(condition="dry"))
    assert starts(only_seen) == starts()


def test_what_the_roster_was_planned_with_is_in_it_already() -> None:
    seen = as_happened(HELD, [done(3, 20.5)], {}, taken_up=3)
    assert [one.visit.id for one in seen] == ["S/look", "S/rewet/1"]


def test_work_that_failed_is_not_done() -> None:
    failed = entry(1, "S", 3, WorkFailed(work="inspect", visit_id="S/look"))
    seen = as_happened(HELD, [failed], {})
    assert [one.visit.id for one in seen if one.is_failed] == ["S/look"]


@pytest.mark.parametrize(
    ("hours", "begun"),
    [
        (3, []),
        (3.02, ["S/look"]),
        (10.5, ["S/look", "S/rewet"]),
        (40, ["S/look", "S/rewet"]),
    ],
)
def test_what_started_before_has_begun(hours: float, begun: list[str]) -> None:
    work = work_list(*HELD.surfaces).model_copy(update={"horizon": HELD.horizon})
    now = SoFar(at(hours), HELD).of(work)
    assert [one.task_id for one in now.begun] == begun
    assert now.begun_until_min == round(hours * 60)
    told = now.published
    assert told is not None
    assert {v.task_id for v in told.visits} == {"S/look", "S/rewet"} - set(begun)


def test_what_was_not_due_yet_is_not_taken_as_done_unless_written() -> None:
    (surface,) = HELD.surfaces
    late = surface.tasks[0].model_copy(update={"earliest_min": 5 * 60})
    slipped = surface.model_copy(update={"tasks": (late,)})
    work = work_list(slipped).model_copy(update={"horizon": HELD.horizon})
    assert SoFar(at(4), HELD).of(work).begun == ()
    written = entry(1, "S", 3.5, WorkDone(work="inspect", visit_id="S/look"))
    (kept,) = SoFar(at(4), HELD, (written,)).of(work).begun
    assert (kept.task_id, kept.start_min) == ("S/look", 180)


def test_a_duty_whose_time_is_past_goes_where_nobody_missed_it() -> None:
    (surface,) = HELD.surfaces
    over = surface.tasks[0].model_copy(update={"latest_min": 120})
    work = work_list(surface.model_copy(update={"tasks": (over,)}))
    work = work.model_copy(update={"horizon": HELD.horizon})
    held = HELD.model_copy(update={"visits": ()})
    assert SoFar(at(4), held).of(work).surfaces[0].tasks == ()
    assert SoFar(at(1), held).of(work).surfaces[0].tasks == (over,)
