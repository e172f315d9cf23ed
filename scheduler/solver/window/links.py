"""What follows what on a surface, what is late and what is left out."""

from collections import defaultdict
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.problem.problem import Precedence, Problem
from scheduler.solver.window.builder import Draft
from scheduler.solver.window.crews import Placed
from scheduler.solver.window.window import Scene


def keep_links(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """One visit at a time on a surface, links, order of rewets, lateness, duties."""
    by_surface: dict[int, list[Placed]] = defaultdict(list)
    for one in placed:
        by_surface[one.item.job.surface].append(one)
    for index, mine in by_surface.items():
        _one_visit(draft, scene, index, mine)
        _rewets(draft, scene.problem, mine)
        first = {one.item.job.index: one for one in mine if not one.item.job.repeats}
        fixed = {stop.job: stop for stop in scene.fixed_on_surface[index][::-1]}
        for one in mine:
            for link in one.item.job.after:
                if link.job in first:
                    _follow(draft, first[link.job], one, link)
                elif link.job in fixed:
                    _wait(draft, scene.problem, one, fixed[link.job], link)
        for stop in scene.fixed_on_surface[index]:
            for link in scene.problem.jobs[stop.job].after:
                if link.job in first:
                    _keeps_waiting(draft, scene.problem, first[link.job], stop, link)
        for one in mine:
            _price(draft, scene.problem, one)


def _one_visit(draft: Draft, scene: Scene, index: int, placed: list[Placed]) -> None:
    model, window = draft.model, scene.window
    intervals: list[cp_model.IntervalVar] = [
        model.new_optional_fixed_size_interval_var(
            one.start, one.item.job.duration, one.present, ""
        )
        for one in placed
    ]
    for stop in scene.fixed_on_surface[index]:
        duration = scene.problem.jobs[stop.job].duration
        if stop.start < window.end and stop.start + duration > window.start:
            intervals.append(
                model.new_fixed_size_interval_var(stop.start, duration, "")
            )
    if len(intervals) > 1:
        model.add_no_overlap(intervals)


def _rewets(draft: Draft, problem: Problem, placed: list[Placed]) -> None:
    """Rewets come in order, the last ones left out first, after the cover."""
    copies = [one for one in placed if one.item.job.repeats]
    model = draft.model
    for one, other in pairwise(copies):
        model.add_implication(other.present, one.present)
        model.add(other.start >= one.start + one.item.job.duration).only_enforce_if(
            other.present
        )
    cover = next((one for one in placed if one.item.job.covers), None)
    surface = problem.surfaces[placed[0].item.job.surface]
    if cover is None or surface.covered_from is not None:
        return
    laid = cover.start + cover.item.job.duration
    for one in copies:
        model.add_implication(one.present, cover.present)
        model.add(one.start >= laid).only_enforce_if(one.present)


def _follow(draft: Draft, one: Placed, other: Placed, link: Precedence) -> None:
    """Let the second of two free stops wait for the first."""
    model = draft.model
    model.add_implication(other.present, one.present)
    ready = one.start + one.item.job.duration
    model.add(other.start >= ready + link.min_gap).only_enforce_if(other.present)
    if link.max_gap is None or not other.item.job.late_cost_per_min:
        return
    hint = 0
    if one.item.today is not None and other.item.today is not None:
        end = one.item.today.start + one.item.job.duration
        hint = max(0, other.item.today.start - end - link.max_gap)
    most = other.item.last - one.item.first - one.item.job.duration - link.max_gap
    if most > 0:
        late = draft.lateness(
            other.start - ready - link.max_gap, most, hint, other.present
        )
        draft.price(late, other.item.job.late_cost_per_min)


def _wait(
    draft: Draft, problem: Problem, one: Placed, before: Stop, link: Precedence
) -> None:
    """Price the wait for a stop that stands still; its span keeps the least gap."""
    if link.max_gap is None or not one.item.job.late_cost_per_min:
        return
    by = before.start + problem.jobs[before.job].duration + link.max_gap
    if one.item.last > by:
        today = one.item.today
        hint = max(0, today.start - by) if today else 0
        late = draft.lateness(one.start - by, one.item.last - by, hint, one.present)
        draft.price(late, one.item.job.late_cost_per_min)


def _keeps_waiting(
    draft: Draft, problem: Problem, one: Placed, after: Stop, link: Precedence
) -> None:
    """Price the wait of a stop that stands still; its span keeps the least gap."""
    late_cost = problem.jobs[after.job].late_cost_per_min
    if link.max_gap is None or not late_cost:
        return
    wait = after.start - link.max_gap - one.item.job.duration
    if one.item.first < wait:
        today = one.item.today
        hint = max(0, wait - today.start) if today else 0
        late = draft.lateness(
            wait - one.start, wait - one.item.first, hint, one.present
        )
        draft.price(late, late_cost)


def _price(draft: Draft, problem: Problem, one: Placed) -> None:
    """Price what a stop costs by itself: late, left out, water, or a little walking."""
    job, today = one.item.job, one.item.today
    draft.price(
        one.present, 2 * problem.travel_cost_per_min * min(problem.travel[job.zone])
    )
    # Leaving a duty out costs; the constant of the objective does not matter.
    draft.price(one.present, job.water_cost - job.missed_cost)
    by = job.due - job.duration
    if job.late_cost_per_min and one.item.last > by:
        hint = max(0, today.start - by) if today else 0
        late = draft.lateness(one.start - by, one.item.last - by, hint, one.present)
        draft.price(late, job.late_cost_per_min)
