"""What stands in the way of one visit that the roster does not hold.

Every limit is asked for by itself, so that a visit that breaks one alone can be told
from a visit that breaks two. A limit that is new to the roster gets its question here
and its words in ``reasons.py``.
"""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from models.records import Limit
from scheduler.solver.explain.covers import covers_fit
from scheduler.solver.explain.crew_times import FREE, CrewTimes
from scheduler.solver.explain.water import refused_by
from scheduler.solver.plan.cost import Stop, changes_cost, gang_shift_cost
from scheduler.solver.plan.insertion import gang_shift_with
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.plan.rules import broken_limits, rest_fits
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job

#: In the order in which a foreman would ask.
LIMITS: tuple[Limit, ...] = (
    "window",
    "covers",
    "no_crew_on_shift",
    "shift_ends",
    "no_skill",
    "heat_ban",
    "crews_busy",
    "travel",
    "rest",
    "week",
    "day",
    "call_out",
    "water_flow",
    "water_allotment",
    "tank_empty",
    "price",
    "unplanned",
)
#: Of these no rule is broken: the visit was not worth it, or has been overlooked.
POSSIBLE: frozenset[Limit] = frozenset({"price", "unplanned"})

Gain = Callable[[int], float]


class Trial(NamedTuple):
    """A job tried at a minute by whoever is there.

    Attributes
    ----------
    limits : tuple of Limit
        What it breaks by the crew and the water point that break least, in the order of
        ``LIMITS``; ``price`` or ``unplanned`` where it breaks no rule.
    own : Stop or None
        The stop that it would move.
    lanes : tuple of Lane
        Crews that are free for it.
    point : int
        That water point; -1 if it draws none.
    loss : float
        What the visit would cost more than it saves, if it breaks no rule.
    first : Job or None
        What has to be done before the job and is not done by then; or the job itself,
        where that is what another one waits for.
    """

    job: Job
    start: int
    limits: tuple[Limit, ...]
    own: Stop | None = None
    lanes: tuple[Lane, ...] = ()
    point: int = -1
    loss: float = 0.0
    first: Job | None = None


class Trials:
    """Tries single visits; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._left_out: dict[Stop, float] = {}

    def of(
        self,
        job: Job,
        start: int,
        crews: CrewTimes,
        own: Stop | None,
        dry_until: int,
        gain: Gain,
    ) -> Trial:
        """Try a job at a minute with every crew that is there and every water point.

        Parameters
        ----------
        crews : CrewTimes
            Of that job.
        own : Stop or None
            Where the job stands now; the trial would move it.
        dry_until : int
            Work on the surface from here on is in the way only if nothing else is.
        gain : callable
            Tells what the job at a minute would spare its surface.
        """
        broken = set(self._by_surface(job, start, own, dry_until))
        lanes: list[Lane] = []
        if (together := crews.limit(start)) is not None:
            broken.add(together)
        else:
            free = [lane for lane, state in crews.asked(start) if state == FREE]
            hours = {
                lane: tuple(dict.fromkeys(self._by_hours(job, start, lane, own)))
                for lane in free
            }
            least = min(hours.values(), key=len)
            lanes = [lane for lane in free if hours[lane] == least]
            broken.update(least)
        water = refused_by(self.plan, job, start, own)
        point = min(water, key=lambda each: len(water[each]))
        broken.update(water[point])
        loss = 0.0
        if not broken and in_the_way(self.plan, job, start, own) is not None:
            broken.add("window")
        if not broken:
            extra, lane = min(
                ((self._extra(job, start, each, own), each) for each in lanes),
                key=lambda one: (one[0], one[1].index),
            )
            lanes, loss = [lane], extra - gain(start)
            broken = {"price"} if loss > -LEAST_GAIN else {"unplanned"}
        limits = tuple(limit for limit in LIMITS if limit in broken)
        return Trial(job, start, limits, own, tuple(lanes), point, loss)

    def _by_surface(
        self, job: Job, start: int, own: Stop | None, dry_until: int
    ) -> Iterator[Limit]:
        """Name what keeps everybody from a job at a minute."""
        plan, end = self.plan, start + job.duration
        allowed = job.opens <= start <= job.latest - job.duration
        other = in_the_way(plan, job, start, own)
        if not allowed or (other is not None and other.start < dry_until):
            yield "window"
        if not covers_fit(plan, job, start, own):
            yield "covers"
        bans = plan.problem.work.heat_bans
        if any(b.from_min < end and start < b.until_min for b in bans):
            yield "heat_ban"

    def _by_hours(
        self, job: Job, start: int, lane: Lane, own: Stop | None
    ) -> Iterator[Limit]:
        """Name what a crew's other shifts leave it no hours for."""
        plan = self.plan
        elsewhere = own is None or own.lane != lane.index
        if elsewhere and _is_amid(plan, lane, start, start + job.duration):
            return  # what rest and hours are counted by stays as it is
        trial = _with_trial(plan, job, start, lane, own)
        if not all(rest_fits(plan.problem, unit, trial) for unit in lane.work_units):
            yield "rest"
        for unit in lane.work_units:
            yield from (
                limit.record.kind for limit in broken_limits(plan.problem, unit, trial)
            )

    def _extra(self, job: Job, start: int, lane: Lane, own: Stop | None) -> float:
        """Say what a visit costs besides its surface: crews, water, changes."""
        stop = Stop(start, job.index, lane.index, -1)
        extra = self._extra_crews(job, start, lane, own)
        extra += _extra_changes(self.plan, stop, own)
        return extra + (job.visit_cost if own is None else 0.0)

    def _extra_crews(self, job: Job, start: int, lane: Lane, own: Stop | None) -> float:
        """Call-out, overtime and walking that the trial would add."""
        plan, today = self.plan, self.plan.gang_shift_costs
        if own is not None and own.lane in lane.gang_shift:
            trial = _with_trial(plan, job, start, lane, own)
            more = gang_shift_cost(plan.problem, lane.gang_shift, trial)
            return more.total - today[lane.gang_shift].total
        more = gang_shift_with(plan, lane, Stop(start, job.index, lane.index, -1))
        extra = more.total - today[lane.gang_shift].total
        return extra if own is None else extra + self._without(own)

    def _without(self, own: Stop) -> float:
        """Say what its shift would cost more (that is, less) without a stop."""
        if own.lane < 0:  # of a crew that is not there any more
            return 0.0
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


def in_the_way(plan: Plan, job: Job, start: int, own: Stop | None) -> Stop | None:
    """Find other work on the surface then, beside which the job may not be done."""
    end, jobs = start + job.duration, plan.problem.jobs
    others = (
        stop
        for stop in plan.by_surface[job.surface]
        if stop != own and not job.is_beside(jobs[stop.job])
    )
    return next((x for x in others if x.start < end and start < plan.end(x)), None)


def _is_amid(plan: Plan, lane: Lane, start: int, end: int) -> bool:
    """Whether a crew has stops on a shift before and after a stretch."""
    stops = plan.by_lane[lane.index]
    return (
        len(lane.gang_shift) == 1
        and bool(stops)
        and stops[0].start <= start
        and end <= plan.end(stops[-1])
    )


def _with_trial(
    plan: Plan, job: Job, start: int, lane: Lane, own: Stop | None
) -> list[list[Stop]]:
    """Give the stops by lane as the trial would have them."""
    by_lane = list(plan.by_lane)
    if own is not None and own.lane >= 0:
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
