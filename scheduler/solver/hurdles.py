"""What stands in the way of one visit that the roster does not hold.

Every limit is asked for by itself, so that a visit that breaks one alone can be told
from a visit that breaks two. A limit that is new to the roster gets its question here
and its words in ``reasons.py``.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from models.records import Limit, Stretch
from scheduler.solver.cost import Stop, changes_cost, merged, turn_cost
from scheduler.solver.cover_words import covers_fit
from scheduler.solver.lanes import Lane, is_asked, suits
from scheduler.solver.plan import LEAST_GAIN, Plan
from scheduler.solver.prepare import Job
from scheduler.solver.rules import rest_fits, week_fits
from scheduler.solver.water_words import refused_by

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


def tries(
    plan: Plan, job: Job, start: int, gain: float, own: Stop | None
) -> Iterator[Try]:
    """Try a job at a minute with every crew that is there and every water point.

    Parameters
    ----------
    own : Stop or None
        Where the job stands now; the trial would move it.
    """
    water = refused_by(plan, job, start, own)
    short: set[Limit] = set() if covers_fit(plan, job, start, own) else {"covers"}
    for lane in _there(plan, job, start):
        met, extra = set(short), 0.0
        if lane is None:
            met.add("no_crew_on_shift")
        else:
            trial = _with_trial(plan, job, start, lane, own)
            met.update(_crew_hurdles(plan, job, start, lane, own, trial))
            extra = _extra_cost(plan, lane, own, trial)
            extra += _extra_changes(plan, Stop(start, job.index, lane.index, -1), own)
            extra += job.water_cost if own is None else 0.0
            if gain - extra < LEAST_GAIN:
                met.add("price")
        for point, refused in water.items():
            hurdles = tuple(one for one in LIMITS if one in met or one in refused)
            yield Try(job, start, lane, point, gain, extra, hurdles)


def _there(plan: Plan, job: Job, start: int) -> list[Lane] | list[None]:
    """Find the shifts with room for a job at a minute; if none, who is on call."""
    lanes = [
        lane
        for lane in plan.problem.lanes
        if lane.starts <= start and start + job.duration <= lane.closes
        if _would_be_asked(plan, job, lane)
    ]
    return [lane for lane in lanes if lane.shift.kind == "shift"] or lanes or [None]


def _would_be_asked(plan: Plan, job: Job, lane: Lane) -> bool:
    """Whether one would ask this one of a gang and its parties for a job.

    Those who can do it; where nobody can, the gang.
    """
    lanes = plan.problem.lanes
    able = [i for i in lane.turn if is_asked(lanes[i], job.task, lanes)]
    return lane.index in able or not (able or lane.shift.part_of)


def _crew_hurdles(
    plan: Plan,
    job: Job,
    start: int,
    lane: Lane,
    own: Stop | None,
    trial: list[list[Stop]],
) -> Iterator[Limit]:
    end = start + job.duration
    if not suits(lane, job.task):
        yield "no_skill"
    if any(b.from_min < end and start < b.until_min for b in bans_of(plan)):
        yield "heat_ban"
    others = [stop for stop in merged(plan.by_lane, lane.beside) if stop != own]
    if in_the_way(plan, lane, others, start, end):
        yield "crews_busy"
    elif not _walks_fit(plan, job, start, lane, others):
        yield "travel"
    if not all(rest_fits(plan.problem, hand, trial) for hand in lane.hands):
        yield "rest"
    if not all(week_fits(plan.problem, hand, trial) for hand in lane.hands):
        yield "week"


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


def _extra_cost(
    plan: Plan, lane: Lane, own: Stop | None, trial: list[list[Stop]]
) -> float:
    """Call-out, overtime and walking that the trial would add."""
    problem = plan.problem
    turns = dict.fromkeys([lane.turn])
    if own is not None:
        turns[problem.lanes[own.lane].turn] = None
    extra = 0.0
    for turn in turns:
        extra += turn_cost(problem, turn, trial).total - plan.turn_costs[turn].total
    return extra


def _extra_changes(plan: Plan, stop: Stop, own: Stop | None) -> float:
    """Price of what the trial would change of a published roster."""
    index = plan.problem.jobs[stop.job].surface
    others = [one for one in plan.by_surface[index] if one != own]
    surface = plan.problem.surfaces[index]
    changes = changes_cost(plan.problem, surface, sorted([*others, stop]))
    return changes - plan.surface_costs[index].changes
