"""What holds on every site: promises of the solver on small sites drawn by lot."""

import pytest
from hypothesis import HealthCheck, given, settings

from models.records import CrewShift, Roster, WorkList
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.simulator import simulate
from tests.scheduler.solver.optimum import best_plan
from tests.scheduler.solver.reordered_weeks import reordered
from tests.scheduler.solver.small_weeks import crews, weeks
from tests.scheduler.solver.solver_builders import tap

SHORT = Effort(work=0.01)
few = settings(
    max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
fewer = settings(few, max_examples=4)


def dry_min(roster: Roster) -> float:
    return next(part.amount for part in roster.objective if part.name == "dry")


@few
@given(weeks())
def test_the_simulator_finds_no_rule_broken_and_the_same_costs(work: WorkList) -> None:
    roster = solve(work, SHORT)
    played = simulate(work, roster)
    assert played.violations == []
    assert played.total == pytest.approx(roster.cost)
    assert played.dry_min == dry_min(roster)
    assert sum(gap.minutes for gap in roster.gaps) == played.dry_min


@fewer
@given(reordered())
def test_a_second_run_on_the_list_in_another_order_writes_the_same_bytes(
    pair: tuple[WorkList, WorkList],
) -> None:
    one, other = (solve(work, SHORT).model_dump_json() for work in pair)
    assert one == other


tiny = weeks(most_surfaces=2, most_crews=2)


@few
@given(tiny, crews("one more"))
def test_one_crew_more_never_makes_the_optimum_dearer(
    work: WorkList, more: CrewShift
) -> None:
    helped = work.model_copy(update={"shifts": (*work.shifts, more)})
    best, better = best_plan(work, rewets=2), best_plan(helped, rewets=2)
    assert better.cost <= best.cost + 1e-6


@few
@given(tiny)
def test_one_tap_more_never_makes_the_optimum_dearer(work: WorkList) -> None:
    points = {zone: (*ids, "more") for zone, ids in work.water_points.items()}
    helped = work.model_copy(
        update={
            "supplies": (*work.supplies, tap(id="more", flow_l_min=25)),
            "water_points": points,
        }
    )
    best, better = best_plan(work, rewets=2), best_plan(helped, rewets=2)
    assert better.cost <= best.cost + 1e-6
