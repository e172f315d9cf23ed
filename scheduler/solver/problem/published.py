"""The roster that people hold already: its visits, and what changes them.

Whoever holds a sheet has to hear of every visit that is no longer as it stands there.
Work done once is compared visit by visit; re-wettings, of which there may be any
number, are compared by who comes about when. The audit counts alike, in
``scheduler/audit/published.py``. Plain ints of time are minutes from the start of the
horizon.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from models.records import PublishedVisit, WorkList
from scheduler.solver.problem.lanes import Lane


@dataclass(frozen=True, slots=True)
class PublishedStop:
    """A published visit in the solver's numbers; lane -1 if there is none now."""

    start: int
    job: int
    lane: int
    point: int
    crew: str


@dataclass(frozen=True, slots=True, eq=False)
class PublishedRoster:
    """The visits of a published roster that start within both horizons.

    Attributes
    ----------
    first, until : int
        Stretch that both rosters plan; nobody was told anything about the rest.
    begun_until : int
        What has begun is no news and keeps nothing that is to come.
    by_job : dict
        Visits in order of start.
    obsolete : int
        Visits of work that is no more: dropped, whatever the roster.
    tolerance : int
        A visit that starts no further from its published minute is kept. [min]
    change_cost : float
        Price of each visit that is not.
    cost : float
        Of the published roster, without what it changed itself.
    """

    first: int
    until: int
    begun_until: int
    by_job: Mapping[int, tuple[PublishedStop, ...]]
    obsolete: int
    tolerance: int
    change_cost: float
    cost: float
    crew_of_lane: Mapping[int, str]

    @property
    def visits(self) -> list[PublishedStop]:
        """All visits of work that there still is, in order of start, then job."""
        found = (visit for own in self.by_job.values() for visit in own)
        return sorted(found, key=lambda visit: (visit.start, visit.job))

    def includes(self, start: int) -> bool:
        """Whether the published roster planned this minute too."""
        return self.first <= start < self.until

    def is_near(self, visit: PublishedStop, start: int) -> bool:
        """Whether a start is about that of a published visit."""
        return abs(start - visit.start) <= self.tolerance

    def changed(
        self,
        jobs: Sequence[int],
        rewet: int | None,
        stops: Sequence[tuple[int, int, int, int]],
    ) -> int:
        """Count the changes on a surface.

        Parameters
        ----------
        jobs, rewet
            Of the surface.
        stops : sequence of Stop
            Start, job, lane (-1: of nobody yet) and water point of each of its visits.
        """
        now: dict[int, list[tuple[int, str]]] = defaultdict(list)
        for start, job, lane, _ in stops:
            if start < self.begun_until:
                continue
            now[job].append((start, self.crew_of_lane.get(lane, "")))
        return sum(
            self._rewets(self.by_job.get(job, ()), now[job])
            if job == rewet
            else self._once(self.by_job.get(job, ()), now[job])
            for job in jobs
            if job in now or job in self.by_job
        )

    def _once(
        self, published: Sequence[PublishedStop], now: Sequence[tuple[int, str]]
    ) -> int:
        """Count what is moved, of another crew or dropped; or what is added."""
        if not published:
            return sum(self.includes(start) for start, _ in now)
        kept = any(
            crew == visit.crew and self.is_near(visit, start)
            for visit in published
            for start, crew in now
        )
        return not kept

    def _rewets(
        self, published: Sequence[PublishedStop], now: Sequence[tuple[int, str]]
    ) -> int:
        """Count those that their crew leaves out, and those that nobody was told of."""
        left_out = sum(
            not any(
                crew == visit.crew and self.is_near(visit, start) for start, crew in now
            )
            for visit in published
        )
        added = sum(
            self.includes(start)
            and not any(self.is_near(visit, start) for visit in published)
            for start, _ in now
        )
        return left_out + added


def index_published(
    work: WorkList,
    jobs: Mapping[str, int],
    lanes: Sequence[Lane],
    points: Mapping[str, int],
) -> PublishedRoster | None:
    """Find the jobs, lanes and water points, by their ids, of what was published."""
    published = work.published
    if published is None:
        return None
    stops = stops_of(published.visits, jobs, lanes, points)
    by_job: dict[int, list[PublishedStop]] = defaultdict(list)
    for stop in stops:
        by_job[stop.job].append(stop)
    return PublishedRoster(
        first=published.from_min,
        until=published.until_min,
        begun_until=work.begun_until_min,
        by_job={job: tuple(own) for job, own in by_job.items()},
        obsolete=len(published.visits) - len(stops),
        tolerance=work.costs.change_beyond_min,
        change_cost=work.costs.change_cost,
        cost=published.cost,
        crew_of_lane={lane.index: lane.shift.crew_id for lane in lanes},
    )


def stops_of(
    visits: Iterable[PublishedVisit],
    jobs: Mapping[str, int],
    lanes: Sequence[Lane],
    points: Mapping[str, int],
) -> list[PublishedStop]:
    """Give visits of work that there still is, in order of start."""
    return [
        PublishedStop(
            start=visit.start_min,
            job=jobs[visit.task_id],
            lane=_lane_of(visit, lanes),
            point=points.get(visit.water_point_id or "", -1),
            crew=visit.crew_id,
        )
        for visit in sorted(visits, key=lambda v: (v.start_min, v.task_id, v.crew_id))
        if visit.task_id in jobs
    ]


def _lane_of(visit: PublishedVisit, lanes: Sequence[Lane]) -> int:
    """Find the crew's shift that it was in, or else one that is at work then."""
    own = [
        lane
        for lane in lanes
        if lane.shift.crew_id == visit.crew_id
        and lane.starts <= visit.start_min < lane.closes
    ]
    own.sort(key=lambda lane: (lane.shift.id != visit.shift_id, lane.index))
    return own[0].index if own else -1
