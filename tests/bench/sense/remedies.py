"""What would end a gap: jobs, the teams that could do them, covers and water left."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from math import ceil
from typing import Literal

from models.records import CoverNeed, SurfaceWork, Task, Team
from tests.bench.sense.course import first_dry_min
from tests.bench.sense.stock import Stock
from tests.bench.sense.week import Week

#: How hands are put to a job: as many as it takes, fewer for longer, or two gangs.
Staffing = Literal["plain", "fewer", "two"]
_SET_UP_MIN = 6  # hose out, covers or tools at hand; the method table's typical figure
_DAY_MIN = 1440


@dataclass(frozen=True)
class Remedy:
    """Jobs of a surface, one after the other, that would end a gap.

    ``fixed_min`` is the only minute at which they may start; None for any.
    """

    name: Literal["re-wet", "lay", "fog"]
    work: SurfaceWork
    tasks: tuple[Task, ...]
    fixed_min: int | None = None

    @property
    def waits_min(self) -> tuple[int, ...]:
        """Wait before each task but the first."""
        return tuple(
            max((link.min_gap_min for link in task.after), default=0)
            for task in self.tasks[1:]
        )

    @property
    def minutes(self) -> int:
        """From start to end with the people asked for."""
        return sum(task.duration_min for task in self.tasks) + sum(self.waits_min)

    @property
    def people(self) -> int:
        """Most that one of the tasks takes."""
        return max(task.people for task in self.tasks)

    @property
    def litres_l(self) -> float:
        """Water of all tasks."""
        return sum(task.water.litres_l for task in self.tasks if task.water)

    @property
    def need(self) -> CoverNeed | None:
        """Covers that it takes from the stock."""
        ids = {task.id for task in self.tasks}
        return next((n for n in self.work.cover_needs if n.laid_by in ids), None)

    def safe(self, start: int, minutes: int, length_min: int) -> list[tuple[int, int]]:
        """Stretches that are wet with it: while somebody works there, and after."""
        found, at = [], float(start)
        stretch = (minutes - sum(self.waits_min)) / (self.minutes - sum(self.waits_min))
        for task, wait in zip(self.tasks, (*self.waits_min, 0), strict=True):
            until = at + task.duration_min * stretch
            if task.protects:
                kept_from = at + task.half_done_min * stretch
                found.append((round(kept_from), round(until)))
            at = until + wait
        if self.name != "fog":
            end, until_min = start + minutes, min(length_min, self.work.ends_min)
            if self.tasks[-1].refills:
                until_min = first_dry_min(self.work, end, length_min)
            found.append((end, max(end, until_min)))
        return found


def remedies(
    week: Week, surface_id: str, first: int, until: int, bare: bool
) -> Iterator[Remedy]:
    """Yield what would end a gap, or a part of it."""
    work, done = week.works[surface_id], week.done(surface_id)
    if not bare:
        if work.rewet is not None:
            yield Remedy("re-wet", work, (work.rewet,))
        for task in work.tasks:
            again = task.kind in {"soak", "top_up"} and task.refills
            if again and task.id not in done:
                yield Remedy("re-wet", work, (task,))
        return
    cover = next((task for task in work.tasks if task.covers), None)
    if cover is not None:
        chain: list[Task] = []
        wanted: str | None = cover.id
        while wanted:
            task = week.tasks[wanted]
            chain.insert(0, task)
            wanted = task.after[0].task_id if task.after else None
        left = tuple(
            task
            for task in chain
            if task.id not in done or done[task.id].start_min >= until - 1
        )
        if left and left[0].earliest_min < until:
            yield Remedy("lay", work, left)
    for task in work.tasks:
        open_then = task.earliest_min < until and first < task.latest_min
        if task.kind == "fog" and task.id not in done and open_then:
            yield Remedy("fog", work, (task,), task.earliest_min)


def soonest_min(week: Week, remedy: Remedy) -> int:
    """First minute at which a remedy may begin: its window, and what comes before."""
    done, task = week.done(remedy.work.surface_id), remedy.tasks[0]
    after = [
        done[link.task_id].end_min + link.min_gap_min
        for link in task.after
        if link.task_id in done
    ]
    return max([0, task.earliest_min, *after])


def redone(week: Week, remedy: Remedy) -> set[str]:
    """Visits of the roster whose place it takes, being the same work done sooner."""
    own = {task.id for task in remedy.tasks}
    jobs = week.on[remedy.work.surface_id]
    return {j.visit.id for j in jobs if j.task.id in own and not j.is_rewet}


def staffed(
    week: Week, remedy: Remedy, how: Staffing
) -> Iterator[tuple[tuple[Team, ...], int]]:
    """Yield teams that could do a remedy, and how long they take together."""
    skills = {skill for task in remedy.tasks for skill in task.skills}
    able = [team for team in week.teams.values() if skills <= set(team.skills)]
    if how == "two":
        for one, other in combinations(able, 2):
            have = one.people + other.people
            apart = not set(one.hands) & set(other.hands)
            if apart and have >= remedy.people and remedy.name != "fog":
                yield (one, other), _takes_min(remedy, have)
        return
    fewest = 1 if remedy.name == "re-wet" else 2
    for team in able:
        if team.people >= remedy.people:
            yield (team,), remedy.minutes
        elif how == "fewer" and remedy.name != "fog" and team.people >= fewest:
            yield (team,), _takes_min(remedy, team.people)


def _takes_min(remedy: Remedy, have: int) -> int:
    """Minutes with other people than asked for; at best twice as fast."""
    minutes = sum(remedy.waits_min)
    for task in remedy.tasks:
        slower = max(task.people / have, 0.5)
        work = max(1.0, (task.duration_min - _SET_UP_MIN) * slower)
        minutes += _SET_UP_MIN + ceil(work)
    return minutes


class Supplies:
    """Covers and water that the roster and what was put in leave."""

    def __init__(self, week: Week) -> None:
        self.week, self.stock = week, Stock(week)
        self.reach = {zone.id: zone.water_points for zone in week.site.zones}
        self.extra: dict[str, list[tuple[int, float]]] = defaultdict(list)

    def allow(self, remedy: Remedy, start: int) -> bool:
        """Whether there are covers and water for it."""
        need = remedy.need
        if need and not self.stock.enough(remedy.work.surface_id, need, start):
            return False
        return remedy.litres_l == 0 or self._point(remedy, start) is not None

    def take(self, remedy: Remedy, start: int) -> None:
        """Draw its water."""
        point = self._point(remedy, start) if remedy.litres_l else None
        if point is not None:
            self.extra[point].append((start, remedy.litres_l))

    def _point(self, remedy: Remedy, start: int) -> str | None:
        """Name the first point with that much left for a day; flow is not asked."""
        for name in self.reach[remedy.work.zone_id]:
            point = self.week.water[name]
            until = start + _DAY_MIN
            spent = sum(litres for at, litres in self.extra[name] if at <= until)
            left = [float("inf")]
            if point.level_l is not None and start < len(point.level_l):
                left.append(float(point.level_l[max(0, start) : until].min()))
            if point.point.daily_allotment_l is not None:
                used = sum(
                    float((point.drawn_l + point.automatic_l)[a:b].sum())
                    for a, b in point.days
                    if a <= start < b
                )
                left.append(point.point.daily_allotment_l - used)
            if min(left) - spent >= remedy.litres_l:
                return name
        return None
