"""Every reason told is true, and every minute of a gap has one.

On rosters as they are made, and on the same visits when the sun burns hotter than it
was planned for and a gang stays away.
"""

from collections import Counter

import pytest
from hypothesis import HealthCheck, given, settings

from models.records import DryingCurve, WorkList
from scheduler.solver.dry_runs import dry_runs
from scheduler.solver.explain.explain import Explainer
from scheduler.solver.improve.local_search import local_search
from scheduler.solver.objective import left_jobs
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.start.dispatch import best_start
from tests.scheduler.solver.explain.true_reasons import Judge
from tests.scheduler.solver.hard_weeks import hard_weeks
from tests.scheduler.solver.small_weeks import weeks


class Seen:
    """What the examples of a test have shown: one that sees no gap proves nothing."""

    def __init__(self) -> None:
        self.gaps, self.stretches = 0, 0
        self.limits: Counter[str] = Counter()

    def look(self, work: WorkList, plan: Plan) -> None:
        """Judge every reason of a plan."""
        judge, explainer = Judge(work, plan), Explainer(plan)
        at = work.horizon.at
        for surface in plan.problem.surfaces:
            stops = plan.by_surface[surface.index]
            for start, end, covered in dry_runs(plan, surface, stops):
                reasons = explainer.why_dry(surface, start, end, covered=covered)
                edges = [reasons[0].starts_at, *(one.ends_at for one in reasons)]
                assert edges[0] == at(start)
                assert edges[-1] == at(end)
                assert edges == sorted(set(edges))
                assert [one.starts_at for one in reasons] == edges[:-1]
                judge.judge(surface.work.surface_id, reasons)
                self.gaps += 1
                self.stretches += len(reasons)
        for job, _ in left_jobs(plan):
            judge.judge_missed(job.task, *explainer.why_missed(job))
        self.limits += Counter({k: n for k, n in judge.seen.items() if " " not in k})


def made(work: WorkList) -> Plan:
    """A roster by rules, with single visits mended: much is left to be explained."""
    plan = best_start(prepare(work))
    local_search(plan)
    return plan


def shaken(work: WorkList, plan: Plan) -> tuple[WorkList, Plan]:
    """The same visits under a sun half as hot again, the last gang gone home."""
    surfaces = tuple(
        surface.model_copy(update={"curve": _hotter(surface.curve)})
        for surface in work.surfaces
    )
    gang = work.shifts[-1].crew_id.split()[0]
    shifts = tuple(one for one in work.shifts if one.crew_id.split()[0] != gang)
    now = work.model_copy(update={"surfaces": surfaces, "shifts": shifts})
    found = Plan(prepare(now))
    lanes = {lane.shift.id: lane.index for lane in found.problem.lanes}
    found.place(
        stop._replace(lane=lanes.get(plan.problem.lanes[stop.lane].shift.id, -1))
        for stop in plan.stops()
    )
    return now, found


def _hotter(curve: DryingCurve | None) -> DryingCurve | None:
    if curve is None:
        return None
    loss = tuple(1.5 * each for each in curve.loss_l_m2_h)
    return curve.model_copy(update={"loss_l_m2_h": loss})


def examples(count: int) -> settings:
    return settings(
        max_examples=count, deadline=None, suppress_health_check=list(HealthCheck)
    )


@pytest.mark.slow
def test_what_is_said_of_hard_weeks_is_true() -> None:
    planned, replayed = Seen(), Seen()

    @examples(60)
    @given(hard_weeks())
    def on_every_week(work: WorkList) -> None:
        plan = made(work)
        planned.look(work, plan)
        replayed.look(*shaken(work, plan))

    on_every_week()
    # Of 15 limits: most of them, or the weeks have become too easy to tell anything.
    assert planned.gaps > 150
    assert planned.stretches > 220
    assert len(planned.limits) >= 11
    assert replayed.gaps > 180
    assert len(replayed.limits) >= 10


def test_what_is_said_of_crowded_hours_is_true() -> None:
    seen = Seen()

    @examples(40)
    @given(weeks())
    def on_every_week(work: WorkList) -> None:
        plan = made(work)
        seen.look(work, plan)
        seen.look(*shaken(work, plan))

    on_every_week()
    assert seen.gaps > 150
    assert len(seen.limits) >= 7
