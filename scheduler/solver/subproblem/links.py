"""What follows what on a surface, what is late and what is left out."""

from collections import defaultdict
from itertools import combinations, pairwise

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.problem.problem import Job, Precedence, Problem
from scheduler.solver.subproblem.lateness import Lateness, LateWay
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem


def constrain_links(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """One job at a time on a surface, links, order of rewets, lateness, duties."""
    by_surface: dict[int, list[PlacedItem]] = defaultdict(list)
    for one in placed:
        by_surface[one.item.job.surface].append(one)
    for index, mine in by_surface.items():
        _one_job(builder, subproblem, index, mine)
        _rewets(builder, subproblem.problem, mine)
        lateness = Lateness(builder, subproblem, index)
        first = {one.item.job.index: one for one in mine if not one.item.job.repeats}
        fixed = {stop.job: stop for stop in subproblem.fixed_on_surface[index][::-1]}
        for one in mine:
            for link in one.item.job.after:
                if link.job in first:
                    _follow(builder, lateness, first[link.job], one, link)
                elif link.job in fixed:
                    _wait(lateness, subproblem.problem, one, fixed[link.job], link)
        for stop in subproblem.fixed_on_surface[index]:
            for link in subproblem.problem.jobs[stop.job].after:
                if link.job in first:
                    _keeps_waiting(
                        lateness, subproblem.problem, first[link.job], stop, link
                    )
        for one in mine:
            _price(builder, lateness, subproblem.problem, one)
        lateness.price()
        _price_inspections(builder, subproblem, index, mine)


def _one_job(
    builder: ModelBuilder, subproblem: Subproblem, index: int, placed: list[PlacedItem]
) -> None:
    """Keep a surface to one job at a time, but for those that may be beside another."""
    model, neighbourhood = builder.model, subproblem.neighbourhood
    alone: list[cp_model.IntervalVar] = []
    grouped: list[tuple[str, cp_model.IntervalVar]] = []

    def keep(job: Job, interval: cp_model.IntervalVar) -> None:
        if job.group:
            grouped.append((job.group, interval))
        else:
            alone.append(interval)

    for one in placed:
        job = one.item.job
        keep(
            job,
            model.new_optional_fixed_size_interval_var(
                one.start, job.duration, one.present, ""
            ),
        )
    for stop in subproblem.fixed_on_surface[index]:
        job = subproblem.problem.jobs[stop.job]
        if (
            stop.start < neighbourhood.end
            and stop.start + job.duration > neighbourhood.start
        ):
            keep(job, model.new_fixed_size_interval_var(stop.start, job.duration, ""))
    if len(alone) > 1:
        model.add_no_overlap(alone)
    if alone:
        for _, interval in grouped:
            model.add_no_overlap([*alone, interval])
    for (group, interval), (other_group, other) in combinations(grouped, 2):
        if group != other_group:
            model.add_no_overlap([interval, other])


def _rewets(builder: ModelBuilder, problem: Problem, placed: list[PlacedItem]) -> None:
    """Rewets come in order, the last ones left out first, after the cover."""
    copies = [one for one in placed if one.item.job.repeats]
    model = builder.model
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


def _follow(
    builder: ModelBuilder,
    lateness: Lateness,
    one: PlacedItem,
    other: PlacedItem,
    link: Precedence,
) -> None:
    """Let the second of two free stops wait for the first."""
    model = builder.model
    model.add_implication(other.present, one.present)
    ready = one.start + (0 if link.from_start else one.item.job.duration)
    model.add(other.start >= ready + link.min_gap).only_enforce_if(other.present)
    if link.max_gap is None:
        return
    hint = 0
    if one.item.current is not None and other.item.current is not None:
        end = one.item.current.start + one.item.job.duration
        hint = max(0, other.item.current.start - end - link.max_gap)
    most = other.item.last - one.item.first - one.item.job.duration - link.max_gap
    late = other.start - ready - link.max_gap
    lateness.add(other.item.job, LateWay(late, most, hint, other.present))


def _wait(
    lateness: Lateness,
    problem: Problem,
    one: PlacedItem,
    before: Stop,
    link: Precedence,
) -> None:
    """Price the wait for a stop that stands still; its span keeps the least gap."""
    if link.max_gap is None:
        return
    by = before.start + problem.jobs[before.job].duration + link.max_gap
    lateness.add(one.item.job, _past(one, by))


def _past(one: PlacedItem, by: int) -> LateWay:
    """Tell by how much a stop starts after a minute."""
    current = one.item.current
    hint = max(0, current.start - by) if current else 0
    return LateWay(one.start - by, one.item.last - by, hint, one.present)


def _keeps_waiting(
    lateness: Lateness, problem: Problem, one: PlacedItem, after: Stop, link: Precedence
) -> None:
    """Price the wait of a stop that stands still; its span keeps the least gap."""
    if link.max_gap is None:
        return
    wait = after.start - link.max_gap - one.item.job.duration
    current = one.item.current
    hint = max(0, wait - current.start) if current else 0
    way = LateWay(wait - one.start, wait - one.item.first, hint, one.present)
    lateness.add(problem.jobs[after.job], way)


def _price(
    builder: ModelBuilder, lateness: Lateness, problem: Problem, one: PlacedItem
) -> None:
    """Price what a stop costs by itself: late, left out, water, or a little walking."""
    job = one.item.job
    builder.price(
        one.present, 2 * problem.travel_cost_per_min * min(problem.travel[job.zone])
    )
    # Leaving a duty out costs; the constant of the objective does not matter.
    missed_cost = 0.0 if job.met_by_wetting else job.missed_cost
    builder.price(one.present, job.visit_cost - missed_cost)
    lateness.add(job, _past(one, job.due - job.duration))


def _price_inspections(
    builder: ModelBuilder, subproblem: Subproblem, index: int, placed: list[PlacedItem]
) -> None:
    """Price the inspections that nobody does, nor meets by wetting in their time."""
    problem = subproblem.problem
    jobs, fixed = problem.jobs, subproblem.fixed_on_surface[index]
    standing = {stop.job for stop in fixed}
    for number in problem.surfaces[index].jobs:
        job = jobs[number]
        if not job.met_by_wetting or number in standing:
            continue
        if any(
            jobs[stop.job].refills and job.earliest <= stop.start < job.latest
            for stop in fixed
        ):
            continue
        ways = [one.present for one in placed if one.item.job is job]
        for one in placed:
            if one.item.job.refills:
                ways += [
                    slot.literal
                    for slot in one.slots
                    if job.earliest <= slot.low and slot.high < job.latest
                ]
        if ways:
            missed = builder.flag(not any(builder.hinted(way) for way in ways))
            builder.at_least_one([*ways, missed])
            builder.price(missed, job.missed_cost)
