"""What a roster costs, exactly: per surface and per shift, so that changes are cheap.

The parts and their prices are those of ``models/records/objective.py``; the audit sums
them on its own. Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.minutes import SurfaceMinutes
from scheduler.solver.problem.problem import Job, Problem, Surface


class Stop(NamedTuple):
    """A job given to a lane at a minute, with its water point (-1 for none)."""

    start: int
    job: int
    lane: int
    point: int


@dataclass(frozen=True, slots=True)
class DryStretch:
    """A stretch in which a share of a surface is dry, and what it costs."""

    start: int
    end: int
    covered: bool
    minutes: int
    cost: float
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class SurfaceCost:
    """What one surface adds to the objective, and where it is dry."""

    dry_cost: float
    low_water_cost: float
    late_cost: float
    missed_cost: float
    labour_cost: float
    water_cost: float
    changes_cost: float
    stretches: tuple[DryStretch, ...]

    @property
    def curing_cost(self) -> float:
        """What the surface suffers, whatever was published."""
        wet_cost = self.dry_cost + self.low_water_cost
        return wet_cost + self.late_cost + self.missed_cost

    @property
    def total(self) -> float:
        """Sum of the parts."""
        return self.curing_cost + self.labour_cost + self.water_cost + self.changes_cost


@dataclass(frozen=True, slots=True)
class GangShiftCost:
    """What a gang on one shift adds to the objective, its parties with it."""

    call_out_cost: float
    overtime_min: int
    travel_min: int
    total: float


ByLane = Sequence[list[Stop]] | Mapping[int, list[Stop]]
"""Stops of each lane, in order of start."""


def merged_stops(by_lane: ByLane, lanes: Sequence[int]) -> list[Stop]:
    """Put the stops of some lanes together, in order of start."""
    if len(lanes) == 1:
        return by_lane[lanes[0]]
    return sorted(stop for lane in lanes for stop in by_lane[lane])


def surface_cost(
    problem: Problem, surface: Surface, stops: Sequence[Stop]
) -> SurfaceCost:
    """Cost of one surface; its stops in order of start."""
    stretches = tuple(dry_stretches(problem, surface, stops))
    dry = sum(stretch.cost for stretch in stretches)
    low = sum(stretch.cost for stretch in low_water_stretches(problem, surface, stops))
    late = late_cost(problem, surface, stops)
    missed = sum(job.missed_cost for job in missed_duties(problem, surface, stops))
    jobs = problem.jobs
    labour = sum(jobs[stop.job].labour_cost for stop in stops)
    water = sum(jobs[stop.job].water_cost for stop in stops)
    changes = changes_cost(problem, surface, stops)
    return SurfaceCost(dry, low, late, missed, labour, water, changes, stretches)


def missed_duties(
    problem: Problem, surface: Surface, stops: Sequence[Stop]
) -> list[Job]:
    """Duties of a surface that nobody does, nor meets by wetting it in their time."""
    jobs = problem.jobs
    done = {stop.job for stop in stops}
    left = [
        jobs[number]
        for number in surface.jobs
        if number not in done and jobs[number].missed_cost > 0
    ]
    if not any(job.met_by_wetting for job in left):
        return left
    wetted = [stop.start for stop in stops if jobs[stop.job].refills]
    return [
        job
        for job in left
        if not (
            job.met_by_wetting
            and any(job.earliest <= start < job.latest for start in wetted)
        )
    ]


def changes_cost(problem: Problem, surface: Surface, stops: Sequence[Stop]) -> float:
    """Price of what a surface's visits change of a published roster."""
    published = problem.published
    if published is None:
        return 0.0
    return published.change_cost * published.changed(surface.jobs, surface.rewet, stops)


def late_minutes(problem: Problem, stops: Sequence[Stop]) -> list[tuple[Job, int]]:
    """Jobs of a surface that end after they are due or wait too long, and by how much.

    A job that repeats counts for itself each time; what follows it counts from the
    first.
    """
    jobs = problem.jobs
    ends: dict[int, int] = {}
    for stop in stops:
        ends.setdefault(stop.job, stop.start + jobs[stop.job].duration)
    found = []
    for stop in stops:
        job = jobs[stop.job]
        late = max(0, stop.start + job.duration - job.due)
        for link in job.after:
            if link.max_gap is not None and link.job in ends:
                late += max(0, stop.start - ends[link.job] - link.max_gap)
        if late:
            found.append((job, late))
    return found


def price_of_lateness(job: Job, late_min: int) -> float:
    """Price of minutes that a job is late, less than that of leaving it out."""
    return min(job.late_cost_per_min * late_min, job.late_cost_most)


def late_cost(problem: Problem, surface: Surface, stops: Sequence[Stop]) -> float:
    """Price of lateness on one surface."""
    if not surface.jobs:
        return 0.0
    return sum(
        price_of_lateness(job, late) for job, late in late_minutes(problem, stops)
    )


def dry_stretches(
    problem: Problem, surface: Surface, stops: Sequence[Stop]
) -> list[DryStretch]:
    """Stretches in which a surface is dry, in order; those that cost nothing too."""
    on, end_of_time = covered_between(problem, surface, stops)
    bare_until = end_of_time if on is None else min(on, end_of_time)
    found: list[DryStretch] = []
    seen, left = 0, surface.pieces  # minutes dealt with; pieces that nobody keeps wet
    for minute, pieces in _kept_pieces(problem, stops):
        if minute >= bare_until:
            break
        if minute > seen:
            _add_bare(found, surface, seen, minute, left)
            seen = minute
        left -= pieces
    _add_bare(found, surface, seen, bare_until, left)
    if on is not None and on < end_of_time:
        _add_covered(found, problem, surface.minutes, stops, (on, end_of_time))
    return found


def low_water_stretches(
    problem: Problem, surface: Surface, stops: Sequence[Stop]
) -> list[DryStretch]:
    """Stretches in which a surface's cover has little water left, or none."""
    found: list[DryStretch] = []
    if surface.low_water is not None:
        on, end_of_time = covered_between(problem, surface, stops)
        if on is not None and on < end_of_time:
            _add_covered(found, problem, surface.low_water, stops, (on, end_of_time))
    return found


def covered_between(
    problem: Problem, surface: Surface, stops: Sequence[Stop]
) -> tuple[int | None, int]:
    """Give the minutes at which the cover goes on and at which nothing counts more."""
    end_of_time, on = surface.minutes.counted_until, surface.covered_from
    for stop in stops:
        job = problem.jobs[stop.job]
        if job.covers:
            end = stop.start + job.duration
            on = end if on is None else min(on, end)
        if job.seals:
            end_of_time = min(end_of_time, stop.start + job.duration)
    return on, end_of_time


def _add_covered(
    found: list[DryStretch],
    problem: Problem,
    clock: SurfaceMinutes,
    stops: Sequence[Stop],
    covered: tuple[int, int],
) -> None:
    """Add the dry stretches between two minutes under a cover that dries by a clock."""
    on, end_of_time = covered
    wet_until = on if on > 0 else clock.dry_at_start
    rain = clock.late_rain(on) if on > 0 else None
    for kept_from, until in _kept_damp(problem, clock, stops, on):
        if kept_from > wet_until:
            dry_until = min(kept_from, end_of_time)
            _add_dried_out(found, clock, wet_until, dry_until, on, rain)
        wet_until = max(wet_until, until)
    _add_dried_out(found, clock, wet_until, end_of_time, on, rain)


def _kept_damp(
    problem: Problem, clock: SurfaceMinutes, stops: Sequence[Stop], on: int
) -> list[tuple[int, int]]:
    """Stretches that stops keep a cover wet from when it is on, in order of time."""
    dry_at, found = clock.dry_at, []
    for stop in stops:
        job = problem.jobs[stop.job]
        end = stop.start + job.duration
        if job.protects and end >= on:
            until = dry_at[min(end, problem.horizon)] if job.refills else end
            found.append((stop.start + job.half_done, max(end, until)))
    found.sort()
    return found


def _kept_pieces(problem: Problem, stops: Sequence[Stop]) -> list[tuple[int, int]]:
    """Minutes at which more pieces of a fresh surface are kept wet, or fewer."""
    changes: list[tuple[int, int]] = []
    for stop in stops:
        job = problem.jobs[stop.job]
        if job.protects:
            changes.append((stop.start + job.half_done, job.pieces))
            if not job.strip:
                changes.append((stop.start + job.duration, -job.pieces))
    changes.sort()
    return changes


def _add_bare(
    found: list[DryStretch], surface: Surface, start: int, end: int, pieces: int
) -> None:
    if start >= end or pieces <= 0:
        return
    clock = surface.minutes
    minutes = clock.fresh_count[end] - clock.fresh_count[start]
    if minutes:
        cost = clock.fresh_sum[end] - clock.fresh_sum[start]
        share = pieces / surface.pieces
        found.append(DryStretch(start, end, False, minutes, share * cost, share))


def _add_dried_out(
    found: list[DryStretch],
    clock: SurfaceMinutes,
    start: int,
    end: int,
    on: int,
    rain: tuple[int, list[float], list[int]] | None,
) -> None:
    if start >= end:
        return
    minutes = clock.covered_count[end] - clock.covered_count[start]
    cost = clock.covered_sum[end] - clock.covered_sum[start]
    if rain is not None and start < rain[0]:
        meets, more_cost, more = rain
        a, b = start - on, min(end, meets) - on
        cost += more_cost[b] - more_cost[a]
        minutes += more[b] - more[a]
    if minutes:
        found.append(DryStretch(start, end, True, minutes, cost))


def gang_shift_cost(
    problem: Problem, gang_shift: Sequence[int], by_lane: ByLane
) -> GangShiftCost:
    """Call-out, overtime and walking of a gang on one shift.

    On call a gang has no parties. Where it has, overtime lasts until the last of them
    is done, and parties that go the same way together walk it once.
    """
    lanes = [problem.lanes[index] for index in gang_shift]
    if len(gang_shift) == 1:
        return _lane_cost(problem, lanes[0], by_lane[gang_shift[0]])
    stops = [stop for index in gang_shift for stop in by_lane[index]]
    if not stops:
        return GangShiftCost(0.0, 0, 0, 0.0)
    sequences = dict.fromkeys(own for lane in lanes for own in lane.lanes_by_unit)
    walks: dict[tuple[Stop | None, Stop], int] = {}
    for own in sequences:
        walks.update(_walks(problem, lanes[0], merged_stops(by_lane, own)))
    ends = max(stop.start + problem.jobs[stop.job].duration for stop in stops)
    return gang_shift_total(problem, lanes[0], 0.0, ends, sum(walks.values()))


def _lane_cost(problem: Problem, lane: Lane, stops: Sequence[Stop]) -> GangShiftCost:
    """Cost of a gang shift that is one lane; stops in order of start."""
    if not stops:
        return GangShiftCost(0.0, 0, 0, 0.0)
    jobs = problem.jobs
    last = jobs[stops[0].job]
    travel = problem.travel[lane.home][last.zone]
    for stop in stops[1:]:
        job = jobs[stop.job]
        travel += problem.walk(last, job)
        last = job
    call_out = lane.call_out_cost
    if per_min := lane.shift.call_out_per_min:
        more = beyond_shift_min(problem, lane, stops) - lane.shift.call_out_paid_min
        call_out += per_min * max(0, more)
    ends = stops[-1].start + last.duration
    return gang_shift_total(problem, lane, call_out, ends, travel)


def _walks(
    problem: Problem, lane: Lane, stops: Sequence[Stop]
) -> Iterator[tuple[tuple[Stop | None, Stop], int]]:
    """Give the walks of one work unit, by where they lead from (None: home) and to."""
    before: Stop | None = None
    for stop in stops:
        job = problem.jobs[stop.job]
        if before is None:
            minutes = problem.travel[lane.home][job.zone]
        else:
            minutes = problem.walk(problem.jobs[before.job], job)
        yield (before, stop), minutes
        before = stop


def gang_shift_total(
    problem: Problem, lane: Lane, call_out: float, ends: int, travel: int
) -> GangShiftCost:
    """Cost of a gang shift with its last end and its walks."""
    overtime = max(0, ends - lane.ends)
    total = (
        call_out
        + overtime * problem.overtime_cost_per_min
        + travel * problem.travel_cost_per_min
    )
    return GangShiftCost(call_out, overtime, travel, total)


def beyond_shift_min(problem: Problem, lane: Lane, stops: Sequence[Stop]) -> int:
    """Overtime of a shift; all of a call-out, from leaving home to the last end.

    Stops in order of start.
    """
    if not stops:
        return 0
    jobs = problem.jobs
    end = stops[-1].start + jobs[stops[-1].job].duration
    if lane.shift.kind == "shift":
        return max(0, end - lane.ends)
    first = stops[0]
    return end - first.start + problem.travel[lane.home][jobs[first.job].zone]
