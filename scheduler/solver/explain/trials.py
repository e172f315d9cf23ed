"""What stands in the way of one visit that the roster does not hold.

Every limit is asked for by itself, so that a visit that breaks one alone can be told
from a visit that breaks two. A limit that is new to the roster gets its question here
and its words in ``reasons.py``.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from models.records import Limit, Stretch
from scheduler.solver.explain.covers import covers_fit
from scheduler.solver.explain.water import refused_by
from scheduler.solver.plan.cost import Stop, changes_cost, gang_shift_cost, merged_stops
from scheduler.solver.plan.insertion import gang_shift_with
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.plan.rules import rest_fits, week_fits
from scheduler.solver.problem.lanes import Lane, is_candidate, suits
from scheduler.solver.problem.problem import Job

_COVERS: Limit = "covers"
#: In the order in which a foreman would ask.
LIMITS: tuple[Limit, ...] = (
    "covers",
    "no_crew_on_shift",
    "no_skill",
    "heat_ban",
    "crews_busy",
    "travel",
    "rest",
    "week",
    "water_flow",
    "water_allotment",
    "tank_empty",
    "price",
)


class Try(NamedTuple):
    """A job tried at a minute, by a crew that is there then (None: nobody is).

    ``hurdles`` are the limits it breaks, in the order of ``LIMITS``; ``gain`` is what
    it would spare its surface, ``extra`` what it would cost the crews.
    """

    job: Job
    start: int
    lane: Lane | None
    point: int
    gain: float
    extra: float
    hurdles: tuple[Limit, ...]


class Trials:
    """Tries single visits; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._asked: dict[tuple[int, tuple[str, ...]], list[Lane]] = {}
        self._left_out: dict[Stop, float] = {}

    def of(
        self, job: Job, start: int, gain: float, own: Stop | None, most: float
    ) -> Iterator[Try]:
        """Try a job at a minute with every crew that is there and every water point.

        Parameters
        ----------
        own : Stop or None
            Where the job stands now; the trial would move it.
        most : float
            Trials that break more limits may be left out.
        """
        plan = self.plan
        water = refused_by(plan, job, start, own)
        short = [] if covers_fit(plan, job, start, own) else [_COVERS]
        most -= len(short) + min(map(len, water.values()))
        for lane in self._there(job, start) if most >= 0 else ():
            met, extra = set(short), 0.0
            if lane is None:
                met.add("no_crew_on_shift")
            else:
                at_once = list(_hurdles_then(plan, job, start, lane, own))
                if len(at_once) > most:
                    continue
                met.update(at_once, _hurdles_by_hours(plan, job, start, lane, own))
                extra = self._extra_cost(job, start, lane, own)
                stop = Stop(start, job.index, lane.index, -1)
                extra += _extra_changes(plan, stop, own)
                extra += job.visit_cost if own is None else 0.0
                if gain - extra < LEAST_GAIN:
                    met.add("price")
            for point, refused in water.items():
                hurdles = _in_order(met.union(refused))
                yield Try(job, start, lane, point, gain, extra, hurdles)

    def _extra_cost(self, job: Job, start: int, lane: Lane, own: Stop | None) -> float:
        """Call-out, overtime and walking that the trial would add."""
        plan, today = self.plan, self.plan.gang_shift_costs
        gang_shift = None if own is None else plan.problem.lanes[own.lane].gang_shift
        if own is not None and gang_shift == lane.gang_shift:
            trial = _with_trial(plan, job, start, lane, own)
            more = gang_shift_cost(plan.problem, lane.gang_shift, trial)
            return more.total - today[lane.gang_shift].total
        more = gang_shift_with(plan, lane, Stop(start, job.index, lane.index, -1))
        extra = more.total - today[lane.gang_shift].total
        return extra if own is None else extra + self._without(own)

    def _without(self, own: Stop) -> float:
        """Say what its shift would cost more (that is, less) without a stop."""
        if own not in self._left_out:
            plan = self.plan
            gang_shift = plan.problem.lanes[own.lane].gang_shift
            of_gang_shift = {lane: plan.by_lane[lane] for lane in gang_shift}
            of_gang_shift[own.lane] = [
                one for one in of_gang_shift[own.lane] if one != own
            ]
            without = gang_shift_cost(plan.problem, gang_shift, of_gang_shift).total
            self._left_out[own] = without - plan.gang_shift_costs[gang_shift].total
        return self._left_out[own]

    def _there(self, job: Job, start: int) -> list[Lane] | list[None]:
        """Find the shifts with room for a job at a minute; if none, who is on call."""
        asked, end = self._to_ask(job), start + job.duration
        earliest = start - self.plan.problem.longest_lane
        low = bisect_left(asked, earliest, key=lambda lane: lane.starts)
        high = bisect_right(asked, start, key=lambda lane: lane.starts)
        lanes = [lane for lane in asked[low:high] if end <= lane.closes]
        return [lane for lane in lanes if lane.shift.kind == "shift"] or lanes or [None]

    def _to_ask(self, job: Job) -> list[Lane]:
        """Find whom of each gang and its parties one would ask for a job, in order.

        Those who can do it; where nobody can, the gang.
        """
        takes = job.task.people, job.task.skills
        if takes not in self._asked:
            lanes = self.plan.problem.lanes
            able = {lane.index for lane in lanes if is_candidate(lane, job.task, lanes)}
            self._asked[takes] = [
                lane
                for lane in lanes
                if lane.index in able
                or not (lane.shift.part_of or able.intersection(lane.gang_shift))
            ]
        return self._asked[takes]


def _in_order(limits: set[Limit]) -> tuple[Limit, ...]:
    if len(limits) > 1:
        return tuple(one for one in LIMITS if one in limits)
    return tuple(limits)


def _hurdles_then(
    plan: Plan, job: Job, start: int, lane: Lane, own: Stop | None
) -> Iterator[Limit]:
    """Name what keeps a crew from a job at that minute."""
    end = start + job.duration
    if not suits(lane, job.task):
        yield "no_skill"
    if any(b.from_min < end and start < b.until_min for b in bans_of(plan)):
        yield "heat_ban"
    near = _around(plan, job, start, lane, own)
    if in_the_way(plan, lane, near, start, end):
        yield "crews_busy"
    elif not _walks_fit(plan, job, start, lane, near):
        yield "travel"


def _hurdles_by_hours(
    plan: Plan, job: Job, start: int, lane: Lane, own: Stop | None
) -> Iterator[Limit]:
    """Name what a crew's other shifts leave it no hours for."""
    elsewhere = own is None or own.lane != lane.index
    if elsewhere and _is_amid(plan, lane, start, start + job.duration):
        return  # what rest and weeks are counted by stays as it is
    trial = _with_trial(plan, job, start, lane, own)
    if not all(rest_fits(plan.problem, unit, trial) for unit in lane.work_units):
        yield "rest"
    if not all(week_fits(plan.problem, unit, trial) for unit in lane.work_units):
        yield "week"


def _around(
    plan: Plan, job: Job, start: int, lane: Lane, own: Stop | None
) -> list[Stop]:
    """Find the stops of a crew that could be in the way of a job at a minute."""
    if len(lane.sharing_people) > 1:  # of several parties at once
        return [
            stop
            for stop in merged_stops(plan.by_lane, lane.sharing_people)
            if stop != own
        ]
    stops, end = plan.by_lane[lane.index], start + job.duration
    at, after = (bisect_left(stops, (minute,)) for minute in (start, end))
    near = stops[max(0, at - 2) : after + 2]
    return [stop for stop in near if stop != own]


def _is_amid(plan: Plan, lane: Lane, start: int, end: int) -> bool:
    """Whether a crew has stops on a shift before and after a stretch."""
    stops = plan.by_lane[lane.index]
    return (
        len(lane.gang_shift) == 1
        and bool(stops)
        and stops[0].start <= start
        and end <= plan.end(stops[-1])
    )


def in_the_way(
    plan: Plan, lane: Lane, stops: list[Stop], start: int, end: int
) -> list[tuple[int, Stop | None]]:
    """Find what a crew is at in a stretch: ends, with their stops; None: a break."""
    found: list[tuple[int, Stop | None]] = [
        (plan.end(stop), stop)
        for stop in stops
        if stop.start < end and plan.end(stop) > start
    ]
    pauses = ((b.from_min, b.until_min) for b in lane.shift.breaks)
    return found + [(b, None) for a, b in pauses if a < end and b > start]


def bans_of(plan: Plan) -> Sequence[Stretch]:
    """Stretches in which heat keeps everybody off."""
    return plan.problem.work.heat_bans


def _walks_fit(
    plan: Plan, job: Job, start: int, lane: Lane, others: list[Stop]
) -> bool:
    """Whether the ways to it and on from it leave the crew in time."""
    problem = plan.problem
    if start < lane.starts + problem.travel[lane.home][job.zone]:
        return False
    for stop in others:
        other = problem.jobs[stop.job]
        before = stop.start < start
        walk = problem.walk(other, job) if before else problem.walk(job, other)
        spare = start - plan.end(stop) if before else stop.start - start - job.duration
        if spare < walk:
            return False
    return True


def _with_trial(
    plan: Plan, job: Job, start: int, lane: Lane, own: Stop | None
) -> list[list[Stop]]:
    """Give the stops by lane as the trial would have them."""
    by_lane = list(plan.by_lane)
    if own is not None:
        by_lane[own.lane] = [stop for stop in by_lane[own.lane] if stop != own]
    added = Stop(start, job.index, lane.index, -1)
    by_lane[lane.index] = sorted([*by_lane[lane.index], added])
    return by_lane


def _extra_changes(plan: Plan, stop: Stop, own: Stop | None) -> float:
    """Price of what the trial would change of a published roster."""
    if plan.problem.published is None:
        return 0.0
    index = plan.problem.jobs[stop.job].surface
    others = [one for one in plan.by_surface[index] if one != own]
    surface = plan.problem.surfaces[index]
    changes = changes_cost(plan.problem, surface, sorted([*others, stop]))
    return changes - plan.surface_costs[index].changes_cost
