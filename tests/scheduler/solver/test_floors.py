"""What no roster can avoid: never more than any roster has, exact where it is plain."""

import pytest
from hypothesis import HealthCheck, given, settings

from models.records import Link, Stretch, SurfaceWork, WorkList
from scheduler.solver.floors import floors
from scheduler.solver.improve.local_search import local_search
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.start.dispatch import best_start
from tests.bench.instances import Size, instance
from tests.scheduler.solver.optimum import best_plan
from tests.scheduler.solver.small_weeks import weeks
from tests.scheduler.solver.solver_builders import (
    duty,
    rewet,
    shift,
    surface,
    tap,
    work_list,
)


def least(work: WorkList) -> list[int]:
    return [floor.dry_min for floor in floors(prepare(work))]


def bare(*tasks: object, **fields: object) -> SurfaceWork:
    """Bare and drying from 15 on."""
    base: dict[str, object] = {
        "tasks": tasks, "covered_from_min": None,
        "fresh": (Stretch(from_min=15, until_min=600),),
    }  # fmt: skip
    return surface("S", **(base | fields))


def lay(**fields: object) -> object:
    return duty("S/lay", effect="wet", covers=True, **({"earliest_min": 105} | fields))


def test_without_crews_all_of_the_dryness_stays() -> None:
    # Half of the cover's water lasts to 60; dry from there to 600.
    work = work_list(surface(reserve_at_start_l_m2=0.5), shifts=())
    assert least(work) == [540]


def test_what_no_crew_can_help_is_the_time_until_it_comes() -> None:
    # The crew comes at 200, walks for 3 minutes and is half done after 10 more; T holds
    # out until then for 120.
    late = shift(starts_min=200)
    work = work_list(
        surface("S"), surface("T", reserve_at_start_l_m2=1), shifts=(late,)
    )
    assert least(work) == [213, 213 - 120]


def test_a_bare_surface_is_dry_until_the_earliest_cover() -> None:
    # From 15 to 120: laid from 105 to 135 it is half covered by then.
    assert least(work_list(bare(lay()))) == [105]


def test_work_that_comes_first_takes_its_time() -> None:
    # The check may begin at 60 and takes 30; 20 min later the cover may be laid, and
    # is half laid after 15 more.
    check = duty("S/check", earliest_min=60)
    after = (Link(task_id="S/check", min_gap_min=20),)
    laid = lay(earliest_min=0, after=after)
    assert least(work_list(bare(check, laid))) == [60 + 30 + 20 + 15 - 15]


def test_fog_keeps_a_bare_surface_damp_as_long_as_it_may_run() -> None:
    # Fog of 30 min may run from 20 to 80: of 105 bare minutes 60 can be spared.
    fog = duty("S/fog", effect="protect", earliest_min=20, latest_min=80)
    assert least(work_list(bare(fog, lay()))) == [105 - 60]


def test_a_seal_ends_it() -> None:
    # Sprayed from 45 to 75 it is half safe by 60.
    spray = duty("S/spray", effect="seal", earliest_min=45)
    assert least(work_list(bare(spray, curve=None, rewet=None))) == [60 - 15]


def test_a_cover_that_nobody_can_wet_again_dries_once() -> None:
    # Laid from 105 to 135 and half done at 120, it is dry from 255 to the end of curing
    # at 400; laid at 265 at the latest it would be bare for longer.
    work = work_list(bare(lay(), rewet=None, ends_min=400))
    assert least(work) == [105 + 400 - 255]


def test_a_break_and_a_point_without_the_flow_are_no_help() -> None:
    pause = (Stretch(from_min=0, until_min=300),)
    resting = work_list(surface(), shifts=(shift(breaks=pause),))
    assert least(resting) == [310]  # and half of the work from 300 on
    assert least(work_list(surface(), supplies=(tap(flow_l_min=15),))) == [600]


def test_people_that_no_crew_has_are_no_help() -> None:
    assert least(work_list(surface(rewet=rewet("S", people=3)))) == [600]


def dry_min(plan: Plan) -> list[int]:
    return [sum(dry.minutes for dry in cost.stretches) for cost in plan.surface_costs]


@pytest.mark.parametrize("seed", range(8))
def test_no_roster_of_a_site_is_dry_for_less(seed: int) -> None:
    size = Size(4, days=2, tightness=0.4 + seed / 10, rain=seed % 2 == 0)
    work = instance(size, seed)
    plan = best_start(prepare(work))
    local_search(plan)
    for floor, found in zip(least(work), dry_min(plan), strict=True):
        assert floor <= found


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(weeks(most_surfaces=1, most_crews=2))
def test_not_even_the_best_roster_of_one_surface_is_dry_for_less(
    work: WorkList,
) -> None:
    plan = best_plan(work, rewets=2)
    assert least(work)[0] <= dry_min(plan)[0]
