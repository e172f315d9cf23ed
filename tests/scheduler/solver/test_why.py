"""A roster that stands, played on newer figures: what stands in the way now."""

from datetime import timedelta

from models.records import DryingCurve, Gap, Visit, WorkList
from scheduler.solver.why import why_dry
from tests.scheduler.solver.solver_builders import (
    STARTS_AT,
    duty,
    shift,
    surface,
    work_list,
)


def visit(task_id: str, start: int, minutes: int, **fields: object) -> Visit:
    base: dict[str, object] = {
        "id": f"{task_id}/{start}", "task_id": task_id,
        "surface_id": task_id.split("/")[0], "crew_id": "red", "shift_id": "red/day",
        "starts_at": STARTS_AT + timedelta(minutes=start),
        "ends_at": STARTS_AT + timedelta(minutes=start + minutes),
    }  # fmt: skip
    return Visit.model_validate(base | fields)


def told(work: WorkList, visits: list[Visit], *gap: int, now: int = 0) -> list[str]:
    """Words of a gap of the covered slab S."""
    first, last = (STARTS_AT + timedelta(minutes=minute) for minute in gap)
    dry = Gap(surface_id="S", starts_at=first, ends_at=last, covered=True)
    at = STARTS_AT + timedelta(minutes=now)
    (found,) = why_dry(work, visits, [dry], at)
    assert (found.starts_at, found.ends_at) == (first, last)
    return [reason.words for reason in found.reasons]


#: The cover holds an hour's loss only: planned to last from 30 to 150, dry from 90.
HOT = surface(curve=DryingCurve(step_min=60, loss_l_m2_h=(1.0,) * 48, held_l_m2=1.0))
WETTED = visit("S/rewet", 10, 20, water_point_id="tap")


def test_a_crew_that_could_come_is_named() -> None:
    assert told(work_list(HOT), [WETTED], 90, 150) == [
        "red could come Mon 07:29; no visit is planned"
    ]


def test_nobody_can_come_before_now() -> None:
    assert told(work_list(HOT), [WETTED], 100, 150, now=100) == [
        "red could come Mon 07:40; no visit is planned"
    ]


def test_published_work_keeps_its_crew_busy_even_where_it_breaks_a_rule() -> None:
    # The look began before the shift begins today.
    look = duty("T/look", duration_min=180)
    other = surface("T", tasks=(look,), rewet=None, curve=None)
    work = work_list(HOT, other, shifts=(shift(starts_min=60),))
    visits = [WETTED, visit("T/look", 40, 180)]
    assert told(work, visits, 90, 150) == [
        "red on Slab T (look under the cover) until Mon 09:40"
    ]


def test_work_of_a_crew_that_is_gone_keeps_nobody_busy() -> None:
    look = duty("T/look", duration_min=180)
    other = surface("T", tasks=(look,), rewet=None, curve=None)
    visits = [WETTED, visit("T/look", 40, 180, crew_id="gone")]
    assert told(work_list(HOT, other), visits, 90, 150) == [
        "red could come Mon 07:29; no visit is planned"
    ]


def test_a_published_visit_to_come_is_not_in_its_own_way() -> None:
    visits = [WETTED, visit("S/rewet", 150, 20, water_point_id="tap")]
    work = work_list(HOT, shifts=(shift(starts_min=147),))
    assert told(work, visits, 90, 150, now=90) == [
        "no crew is on shift until Mon 08:27 (red)",
        "red begins Mon 08:27 and walks 3 min",
    ]


def test_without_gaps_nothing_is_asked() -> None:
    assert why_dry(work_list(HOT), [], [], STARTS_AT) == ()
