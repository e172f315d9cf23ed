"""Rules 7a to 7e: lesser work that stands where a dry surface could have been served.

A visit may give way if its loss, by the roster's own prices, costs less than is saved.
"""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from models.records import Task, Team
from scheduler.audit.replayed.jobs import Job
from tests.bench.sense.leftover import Found, Leftover
from tests.bench.sense.remedies import (
    Remedy,
    Staffing,
    redone,
    remedies,
    soonest_min,
    staffed,
)
from tests.bench.sense.verdict import Case, Verdict

#: Work that may wait for a dry surface.
LESSER = frozenset(
    {"inspect", "loosen", "check_coverage", "read_temperature", "check_level"}
)
_LEAST_GAP_COST = 100.0
_LEAST_NET = 50.0
_LEAST_GAP_MIN = 5
_STEP_MIN, _STEPS = 5, 150


@dataclass(frozen=True)
class Way:
    """How room is made: whose place is taken, and how the job is then done."""

    rule: str
    title: str
    staffing: Staffing = "plain"
    looks_nearby: bool = False
    pausing: bool = False


_WAYS = (
    Way("7a", "looks near a dry surface come first", looks_nearby=True),
    Way("7b", "any lesser work comes first"),
    Way("7c", "... fewer people for longer", "fewer"),
    Way("7d", "... two gangs on one job", "two"),
    Way("7e", "... pausing for the break", "fewer", pausing=True),
)


class Prices:
    """What leaving a visit out costs, by the roster's own prices."""

    def __init__(self, left: Leftover) -> None:
        self.week = left.week
        self._known: dict[str, float | None] = {}

    def of(self, job: Job) -> float | None:
        """Price of its loss; None where it is not to be left out."""
        name = job.visit.id
        if name not in self._known:
            self._known[name] = self._of(job)
        return self._known[name]

    def _of(self, job: Job) -> float | None:
        if job.task.kind not in {"fog", *LESSER} and not job.is_rewet:
            return None
        sid = job.work.surface_id
        others = [one for one in self.week.on[sid] if one is not job]
        if job.task.protects:
            drier = self.week.follow(sid, others).cost - self.week.courses[sid].cost
            looks = (task.missed_cost for task in job.work.tasks if _meets(job, task))
            return float(drier.sum()) + sum(looks)
        after = [link.task_id for one in others for link in one.task.after]
        return job.task.missed_cost * (1 + (job.task.id in after))


def _meets(job: Job, look: Task) -> bool:
    in_time = look.earliest_min <= job.start_min < look.latest_min
    return look.met_by_wetting and job.task.refills and in_time


def room_for_more(left: Leftover) -> list[Verdict]:
    """7a: looks and checks in a zone never come before a dry surface there.

    7b: nor does lesser work elsewhere; 7c to 7e ask the same with fewer people for
    longer, two gangs on one job, and laying that pauses for the break. The limit is on
    all of them together.
    """
    prices = Prices(left)
    return [_verdict(left, prices, way) for way in _WAYS]


def _verdict(left: Leftover, prices: Prices, way: Way) -> Verdict:
    week, cases, saved_min, net = left.week, [], 0.0, 0.0
    for sid, first, until, bare, worth in left.gaps():
        if worth < _LEAST_GAP_COST:
            continue
        found = [
            one
            for remedy in remedies(week, sid, first, until, bare)
            for one in _places(left, prices, remedy, (first, until), way)
        ]
        if found:
            best = max(found, key=lambda one: one.net)
            left.put_in(best, first, until, best.out | redone(week, best.remedy))
            saved_min, net = saved_min + best.saved_min, net + best.net
            state = "bare" if bare else "dry"
            words = f"{week.label(sid)} {state} {week.span(first, until)}: "
            cases.append(Case(best.net, words + _words(left, best)))
    return Verdict(
        way.rule, way.title, tuple(cases), net, week.dry_cost or None,
        f"{saved_min:.0f} min", told=True,
    )  # fmt: skip


def _places(
    left: Leftover, prices: Prices, remedy: Remedy, gap: tuple[int, int], way: Way
) -> Iterator[Found]:
    """Yield places for a remedy, each better than the one before."""
    week = left.week
    own = redone(week, remedy)
    on = week.courses[remedy.work.surface_id].on_min or 0
    first = max(soonest_min(week, remedy), on if remedy.name == "re-wet" else 0)
    least = _LEAST_NET
    pausing = way.pausing and remedy.name == "lay"
    for teams, work_min in staffed(week, remedy, way.staffing):
        last = gap[1] - (_LEAST_GAP_MIN if own else work_min)
        for start in range(first, last + 1, max(_STEP_MIN, (last - first) // _STEPS)):
            minutes = work_min
            if pausing:
                minutes = left.hands.with_breaks_min(teams[0], start, work_min)
            saved, worth = left.saves(remedy, start, minutes, *gap)
            if worth <= least:
                continue
            out = _out(left, remedy, teams, start, minutes, pausing, own)
            if out is None or not (out or way.pausing):
                continue
            if way.looks_nearby and not _only_looks(out, remedy):
                continue
            net = worth - _loss(prices, out)
            if net > least and left.supplies.allow(remedy, start):
                least = net
                names = frozenset(job.visit.id for job in out)
                yield Found(remedy, teams, start, minutes, saved, worth, net, names)


def _out(
    left: Leftover,
    remedy: Remedy,
    teams: Sequence[Team],
    start: int,
    minutes: int,
    pausing: bool,
    own: Collection[str],
) -> list[Job] | None:
    """Give the visits in whose place it would stand; None if it cannot stand there."""
    found: dict[str, Job] = {}
    for team in teams:
        there = left.hands.in_the_way(
            team, remedy.work, start, minutes, pausing=pausing
        )
        if there is None:
            return None
        found |= {job.visit.id: job for job in there if job.visit.id not in own}
    return list(found.values())


def _loss(prices: Prices, out: Sequence[Job]) -> float:
    costs = [prices.of(job) for job in out]
    return sum(float("inf") if cost is None else cost for cost in costs)


def _only_looks(out: Sequence[Job], remedy: Remedy) -> bool:
    zone = remedy.work.zone_id
    return all(job.task.kind in LESSER and job.work.zone_id == zone for job in out)


def _words(left: Leftover, found: Found) -> str:
    jobs = [left.hands.jobs[name] for name in sorted(found.out)]
    titles = Counter(job.task.title.lower() for job in jobs)
    instead = ", ".join(f"{n} × {title}" for title, n in titles.most_common(3))
    who = " and ".join(team.name for team in found.teams)
    at = left.week.at(found.start_min)
    return (
        f"{found.remedy.name} by {who} {at}, {found.minutes} min, saves "
        f"{found.saved_min:.0f} min; in its place: {instead or 'nothing'}"
    )
