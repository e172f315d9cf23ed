"""The work list turned into plain numbers, once.

Everything else in this folder counts with indexes into these tables and with whole
minutes: plain ints of time are minutes from the start of the horizon, ``duration`` and
gaps are minutes, and prices say what they are for (``_cost``, ``_cost_per_min``).
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, inf, lcm

from models.records import SurfaceWork, Task, WaterSupply, WorkList
from scheduler.solver.problem.lanes import (
    Lane,
    UnitLimit,
    closes_min,
    gang_shifts_of_unit,
    is_candidate,
    lanes_of,
    limits_of_unit,
    unit_names,
)
from scheduler.solver.problem.low_water import low_water_minutes
from scheduler.solver.problem.minutes import SurfaceMinutes, TableCache, surface_minutes
from scheduler.solver.problem.ordered import ordered
from scheduler.solver.problem.published import (
    PublishedRoster,
    PublishedStop,
    index_published,
    stops_of,
)
from scheduler.solver.settings.settings import DEFAULT, Settings

_UNITS_PER_L = 1_000_000
_MOST_PIECES = 1000  # a share that is no simple fraction is rounded to one
_NOISE = 1e-3  # of a unit: decimal figures that a float holds a hair beside


@dataclass(frozen=True, slots=True)
class Precedence:
    """A job starts no sooner than a gap after another one, and late after a longer.

    The gap is counted from the end of the other, or from its start.
    """

    job: int
    min_gap: int
    max_gap: int | None
    from_start: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """A task, or the pattern of a rewet, which may be done any number of times.

    Attributes
    ----------
    opens : int
        First minute at which it may still start.
    late_cost_most : float
        Lateness costs no more than this.
    half_done : int
        Minutes after its start from which it keeps its surface wet.
    pieces : int
        Of a fresh surface that it keeps wet: a strip for good, other work while it
        lasts.
    group : str
        Jobs of a surface with the same one may run beside each other; "" for none.
    lanes : tuple of int
        Shifts with the people and skills for it and the time to do it, in order.
    points : tuple of int
        Supplies that its zone reaches, nearest first; none if it draws no water.
    """

    index: int
    task: Task
    surface: int
    zone: int
    repeats: bool
    earliest: int
    opens: int
    due: int
    latest: int
    duration: int
    late_cost_per_min: float
    late_cost_most: float
    missed_cost: float
    water_cost: float
    labour_cost: float
    protects: bool
    refills: bool
    seals: bool
    covers: bool
    strip: bool
    half_done: int
    pieces: int
    group: str
    met_by_wetting: bool
    draws: tuple[int, int] | None
    flow_units: int
    after: tuple[Precedence, ...]
    before: tuple[int, ...]
    lanes: tuple[int, ...]
    points: tuple[int, ...]

    @property
    def visit_cost(self) -> float:
        """Price of doing it at all: its people's time and its water."""
        return self.labour_cost + self.water_cost

    def is_beside(self, other: "Job") -> bool:
        """Whether both may go on at once on their surface."""
        return bool(self.group) and self.group == other.group

    @property
    def affects_dryness(self) -> bool:
        """Whether doing it changes when the surface is dry."""
        return self.protects or self.covers

    def allows(self, lane: int) -> bool:
        """Whether a lane may do it."""
        at = bisect_left(self.lanes, lane)
        return at < len(self.lanes) and self.lanes[at] == lane


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """A surface with its clocks and its jobs.

    Fresh it counts as so many equal ``pieces`` that its jobs keep wet. ``low_water``
    are its clocks for the water above the share that is little.
    """

    index: int
    work: SurfaceWork
    zone: int
    minutes: SurfaceMinutes
    low_water: SurfaceMinutes | None
    covered_from: int | None
    jobs: tuple[int, ...]
    pieces: int
    rewet: int | None
    cover_job: int | None


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """Everything the solver knows.

    Attributes
    ----------
    travel : list of list of int
        Between zones; the diagonal is the move to the next surface of a zone.
    walks_on_surface : bool
        Whether that move lies between two jobs on the same surface too.
    gang_shifts_of_unit : tuple of tuple of tuple of int
        For each work unit its lanes, gang shift by gang shift, in order of start.
    limits_of_unit : tuple of tuple of UnitLimit
        On the hours of each work unit, in order of time.
    published : PublishedRoster or None
        The roster that people hold; each change of it has a price.
    settings : Settings
        What steers the search.
    """

    work: WorkList
    horizon: int
    surfaces: tuple[Surface, ...]
    jobs: tuple[Job, ...]
    lanes: tuple[Lane, ...]
    gang_shifts_of_unit: tuple[tuple[tuple[int, ...], ...], ...]
    limits_of_unit: tuple[tuple[UnitLimit, ...], ...]
    supplies: tuple[WaterSupply, ...]
    travel: tuple[tuple[int, ...], ...]
    walks_on_surface: bool
    rest_min: int
    longest_lane: int
    overtime_cost_per_min: float
    travel_cost_per_min: float
    published: PublishedRoster | None
    begun_until: int
    begun: tuple[PublishedStop, ...]
    settings: Settings

    def walk(self, job_from: Job, job_to: Job) -> int:
        """Minutes from one job to the next; as a rule none on the same surface."""
        if job_from.surface == job_to.surface and not self.walks_on_surface:
            return 0
        return self.travel[job_from.zone][job_to.zone]

    def lanes_for(self, job: Job, first: int, last: int) -> Iterator[Lane]:
        """Lanes that may do a job, at work some time from one minute to another."""
        low = first - self.longest_lane
        at = bisect_left(job.lanes, low, key=lambda index: self.lanes[index].starts)
        for index in job.lanes[at:]:
            lane = self.lanes[index]
            if lane.starts > last:
                return
            if lane.closes >= first:
                yield lane

    def start_range(self, job: Job, lane: Lane) -> tuple[int, int]:
        """First and last minute at which a job may start in a shift; may be empty."""
        first = max(job.opens, lane.starts + self.travel[lane.home][job.zone])
        last = min(job.latest, lane.closes) - job.duration
        return first, min(last, self.horizon - 1)


def units_up(litres: float) -> int:
    """Millionths of a litre, not less: what is drawn is never counted short."""
    return ceil(litres * _UNITS_PER_L - _NOISE)


def units_down(litres: float) -> int:
    """Millionths of a litre, not more: what there is, is never counted long."""
    return floor(litres * _UNITS_PER_L + _NOISE)


def prepare(work: WorkList, settings: Settings = DEFAULT) -> Problem:
    """Turn the records into tables of numbers, whatever order they come in.

    Parameters
    ----------
    settings : Settings
        What steers the search for this problem.
    """
    work = ordered(work)
    horizon = work.horizon.length_min
    zones = {zone_id: index for index, zone_id in enumerate(work.zone_ids)}
    supply_index = {supply.id: index for index, supply in enumerate(work.supplies)}
    shifts = [s for s in work.shifts if s.starts_min < horizon and closes_min(s) > 0]
    lanes = lanes_of(shifts, zones, work.heat_bans)
    gang_shifts = gang_shifts_of_unit(lanes)
    jobs: list[Job] = []
    surfaces: list[Surface] = []
    cache, crews = TableCache(), _CandidateLanes(lanes)
    for index, surface in enumerate(work.surfaces):
        zone = zones[surface.zone_id]
        points = tuple(supply_index[p] for p in work.water_points[surface.zone_id])
        own = _jobs_of(surface, index, zone, points, len(jobs), crews, work, horizon)
        jobs += own
        covering = [job.index for job in own if job.covers]
        surfaces.append(
            Surface(
                index=index,
                work=surface,
                zone=zone,
                minutes=surface_minutes(surface, horizon, cache),
                low_water=low_water_minutes(surface, work, cache),
                covered_from=surface.covered_from_min,
                jobs=tuple(job.index for job in own),
                pieces=_pieces(surface),
                rewet=next((job.index for job in own if job.repeats), None),
                cover_job=covering[0] if covering else None,
            )
        )
    places = {job.task.id: job.index for job in jobs}, lanes, supply_index
    return Problem(
        work=work,
        horizon=horizon,
        surfaces=tuple(surfaces),
        jobs=tuple(jobs),
        lanes=lanes,
        gang_shifts_of_unit=gang_shifts,
        limits_of_unit=limits_of_unit(
            work.hours_limits, unit_names(shifts), gang_shifts, lanes
        ),
        supplies=work.supplies,
        travel=work.travel_min,
        walks_on_surface=work.walks_on_surface,
        rest_min=work.rest_min,
        longest_lane=max((lane.closes - lane.starts for lane in lanes), default=0),
        overtime_cost_per_min=work.costs.overtime_cost_per_min,
        travel_cost_per_min=work.costs.travel_cost_per_min,
        published=index_published(work, *places),
        begun_until=work.begun_until_min,
        begun=tuple(stops_of(work.begun, *places)),
        settings=settings,
    )


class _CandidateLanes:
    """Which lanes one asks for a task; many tasks take the same people and skills."""

    def __init__(self, lanes: Sequence[Lane]) -> None:
        self._lanes = lanes
        self._longest = max((lane.closes - lane.starts for lane in lanes), default=0)
        self._asked: dict[tuple[int, tuple[str, ...]], list[Lane]] = {}
        self._cache: dict[tuple[int, ...], tuple[int, ...]] = {}

    def between(self, task: Task, first: int, last: int) -> list[Lane]:
        """Lanes to ask that may be at work between two minutes, in order of start."""
        takes = task.people, task.skills
        if takes not in self._asked:
            self._asked[takes] = [
                lane for lane in self._lanes if is_candidate(lane, task, self._lanes)
            ]
        asked = self._asked[takes]
        low = bisect_left(asked, first - self._longest, key=lambda lane: lane.starts)
        high = bisect_right(asked, last, key=lambda lane: lane.starts)
        return asked[low:high]

    def intern(self, able: tuple[int, ...]) -> tuple[int, ...]:
        """Lanes as other jobs have them alike: hundreds, kept once."""
        return self._cache.setdefault(able, able)


def _pieces(surface: SurfaceWork) -> int:
    """Fewest equal pieces of a surface of which every job keeps a whole number wet."""
    shares = [
        Fraction(task.share_fraction).limit_denominator(_MOST_PIECES)
        for task in surface.tasks
    ]
    return lcm(*(share.denominator for share in shares))


def _jobs_of(
    surface: SurfaceWork,
    index: int,
    zone: int,
    points: tuple[int, ...],
    first: int,
    crews: "_CandidateLanes",
    work: WorkList,
    horizon: int,
) -> list[Job]:
    tasks = [*surface.tasks, *([surface.rewet] if surface.rewet is not None else [])]
    place = {task.id: first + offset for offset, task in enumerate(tasks)}
    home_travel, pieces = work.travel_min, _pieces(surface)
    jobs = []
    for task in tasks:
        repeats = task is surface.rewet
        latest = min(task.latest_min, surface.ends_min) if repeats else task.latest_min
        opens = max(task.earliest_min, work.begun_until_min, 0)
        able = tuple(
            lane.index
            for lane in crews.between(task, opens, latest)
            if max(opens, lane.starts + home_travel[lane.home][zone])
            <= min(min(latest, lane.closes) - task.duration_min, horizon - 1)
        )
        water = task.water
        jobs.append(
            Job(
                index=place[task.id],
                task=task,
                surface=index,
                zone=zone,
                repeats=repeats,
                earliest=task.earliest_min,
                opens=opens,
                due=task.due_min,
                latest=latest,
                duration=task.duration_min,
                late_cost_per_min=task.late_cost_per_min,
                late_cost_most=task.late_cost_most if work.lateness_capped else inf,
                missed_cost=0.0 if repeats else task.missed_cost,
                water_cost=water.litres_l * work.costs.litre_cost if water else 0.0,
                labour_cost=task.worker_min * work.costs.worker_minute_cost,
                protects=task.protects,
                refills=task.refills,
                seals=task.seals,
                covers=task.covers,
                strip=task.strip,
                half_done=task.half_done_min,
                pieces=round(task.share_fraction * pieces),
                group=task.job,
                met_by_wetting=task.met_by_wetting,
                draws=(water.from_min, water.until_min) if water else None,
                flow_units=units_up(water.flow_l_min) if water else 0,
                after=tuple(
                    Precedence(
                        place[link.task_id],
                        link.min_gap_min,
                        link.max_gap_min,
                        link.from_start,
                    )
                    for link in task.after
                ),
                before=tuple(
                    place[other.id]
                    for other in tasks
                    if any(link.task_id == task.id for link in other.after)
                ),
                lanes=crews.intern(able),
                points=points if water else (),
            )
        )
    return jobs
