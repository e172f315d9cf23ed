"""Lateness by the minute, up to the price of leaving the work out."""

from collections import defaultdict
from typing import NamedTuple

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import late_minutes, price_of_lateness
from scheduler.solver.problem.problem import Job
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.subproblem import Subproblem


class LateWay(NamedTuple):
    """A number of minutes late, if something is done: at most, and now."""

    late: cp_model.LinearExprT
    most: int
    hint: int
    present: cp_model.IntVar


class Lateness:
    """Minutes by which the jobs of one surface are late, and what that costs.

    A job may be late in several ways: past due, or after too long a wait. Their sum is
    priced, but never above the price of leaving the job out; then it is let off.
    """

    def __init__(
        self, builder: ModelBuilder, subproblem: Subproblem, index: int
    ) -> None:
        self.builder = builder
        current = [
            item.current for item in subproblem.items if item.job.surface == index
        ]
        stops = [
            *subproblem.fixed_on_surface[index],
            *(stop for stop in current if stop),
        ]
        self.now_min = {
            job.index: late
            for job, late in late_minutes(subproblem.problem, sorted(stops))
        }
        self._ways: dict[int, list[LateWay]] = defaultdict(list)
        self._jobs: dict[int, Job] = {}

    def add(self, job: Job, way: LateWay) -> None:
        """Note one way in which a job may be late."""
        if job.late_cost_per_min and way.most > 0:
            self._ways[job.index].append(way)
            self._jobs[job.index] = job

    def price(self) -> None:
        """Charge for all that was noted."""
        for number, ways in self._ways.items():
            job = self._jobs[number]
            now = self.now_min.get(number, 0)
            # What stands still and is late by itself has used up part of the most.
            standing = max(0, now - sum(way.hint for way in ways))
            most = job.late_cost_most - job.late_cost_per_min * standing
            let_off: list[cp_model.IntVar] = []
            if job.late_cost_per_min * sum(way.most for way in ways) > most:
                let_off = [
                    self.builder.flag(
                        price_of_lateness(job, now) < (job.late_cost_per_min * now)
                    )
                ]
                self.builder.price(let_off[0], max(0.0, most))
            for way in ways:
                off = bool(let_off) and self.builder.hinted(let_off[0])
                hint = 0 if off else way.hint
                late = self.builder.lateness(
                    way.late, way.most, hint, way.present, *(~one for one in let_off)
                )
                self.builder.price(late, job.late_cost_per_min)
