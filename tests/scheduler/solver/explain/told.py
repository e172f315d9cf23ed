"""The facts behind a reason, and which sentences of it are known."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from itertools import chain

from models.records import (
    TASK_KINDS,
    CrewShift,
    Reason,
    SurfaceWork,
    Task,
    WorkList,
)
from scheduler.solver.plan.plan import Plan

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
TIME = rf"(?:{'|'.join(DAYS)}) \d\d:\d\d"
LATER = r"(?:\w+ )?\d\d:\d\d"  # of a span: its day only where it is another
NAME = r"crew\d(?: \d)?"
AMOUNT = r"(?:a little less than )?[\d,]+(?:\.\d+)? (?:m²|L/min|L)"
DOING = "|".join(sorted({facts.doing for facts in TASK_KINDS.values()}))
LABELS = r"Slab S\d(?:, Slab S\d)*(?:, \d more)?"

Judged = Callable[["Told", re.Match[str]], None]
SENTENCES: list[tuple[str, Judged]] = []


def says(*pattern: str) -> Callable[[Judged], Judged]:
    """Know a sentence, and what to ask where it is said."""

    def known(judged: Judged) -> Judged:
        SENTENCES.append(("".join(pattern), judged))
        return judged

    return known


@dataclass(frozen=True)
class Visit:
    """A visit in minutes; its crew may not be there any more."""

    surface_id: str
    task: Task
    start: int
    end: int
    shift: CrewShift | None
    point: str


class Facts:
    """A work list and the visits of one roster."""

    def __init__(self, work: WorkList, plan: Plan) -> None:
        problem = plan.problem
        self.work, self.plan = work, plan
        self.visits = [
            Visit(
                problem.surfaces[problem.jobs[stop.job].surface].work.surface_id,
                problem.jobs[stop.job].task,
                stop.start,
                stop.start + problem.jobs[stop.job].task.duration_min,
                problem.lanes[stop.lane].shift if stop.lane >= 0 else None,
                problem.supplies[stop.point].id if stop.point >= 0 else "",
            )
            for stop in plan.stops()
        ]
        self.surfaces = {one.surface_id: one for one in work.surfaces}
        self.shifts = [one for one in work.shifts if one.kind == "shift"]

    def minute(self, time: str) -> int:
        """Minute of a weekday and a time; a work list here is shorter than a week."""
        day, clock = time.split()
        starts_at = self.work.horizon.starts_at
        days = (DAYS.index(day) - starts_at.weekday() + 3) % 7 - 3
        hours, minutes = clock.split(":")
        since = 60 * (int(hours) - starts_at.hour) + int(minutes) - starts_at.minute
        return 1440 * days + since

    def busy(self, name: str) -> list[Visit]:
        """Visits of anybody who is of a crew."""
        mine = (_hands(one) for one in self.work.shifts if one.crew_id == name)
        hands = set(chain.from_iterable(mine))
        return [v for v in self.visits if v.shift and hands & set(_hands(v.shift))]


class Told:
    """A reason that somebody was told.

    Attributes
    ----------
    all_along : bool
        It is said of every minute from ``start`` to ``end``.
    takes : list of Task
        The work that the sentence before spoke of.
    """

    def __init__(
        self,
        facts: Facts,
        surface: SurfaceWork,
        reason: Reason,
        *,
        all_along: bool = True,
    ) -> None:
        self.by, self.work, self.surface = facts, facts.work, surface
        self.reason, self.all_along = reason, all_along
        self.start = self.work.horizon.minute(reason.starts_at)
        self.end = self.work.horizon.minute(reason.ends_at)
        self.tasks = [*surface.tasks, *([surface.rewet] if surface.rewet else [])]
        self.longest = max((t.duration_min for t in self.tasks), default=0)
        self.takes = list(self.tasks)

    @property
    def words(self) -> str:
        """The reason, for whoever reads that a test has failed."""
        return f"{self.start} to {self.end} on {self.surface.surface_id}: {self.reason}"

    def at(self, time: str, day: str = "") -> int:
        """Minute of a time, which may leave out the day of the one before it."""
        return self.by.minute(time if time[0].isalpha() else f"{day} {time}")

    def touches(self, first: int, until: int) -> None:
        """Ask that a stretch matters for a visit that would have helped here."""
        assert first < self.end + self.longest, self.words
        assert until > self.start - self.longest, self.words

    def on_between(self, first: int, until: int) -> list[CrewShift]:
        """Shifts in which somebody works some time of a stretch."""
        return [
            shift
            for shift in self.by.shifts
            if shift.starts_min < until and shift.ends_min > first
        ]


def able(shift: CrewShift, task: Task) -> bool:
    """Whether a crew has the people and the skills."""
    return task.people <= shift.people and set(task.skills) <= set(shift.skills)


def number(amount: str) -> float:
    """The number in an amount, a hair less where that is said."""
    value = float(re.sub(r"[^\d.]", "", amount.split(" m²")[0].split(" L")[0]))
    return value - 0.01 if amount.startswith("a little less") else value


def _hands(shift: CrewShift) -> tuple[str, ...]:
    return shift.hands or (shift.crew_id,)
