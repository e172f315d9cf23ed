"""Dry time that better use of idle hands would have saved, counted once each."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np

from models.records import Team
from tests.bench.sense.course import Floats
from tests.bench.sense.hands import Hands
from tests.bench.sense.remedies import Remedy, Supplies
from tests.bench.sense.week import Week


@dataclass(frozen=True)
class Found:
    """A remedy that would pay, and what it takes the place of.

    Attributes
    ----------
    saved_min, worth : float
        Dry minutes that it saves and their price.
    net : float
        The same less what is lost with the visits in its place.
    """

    remedy: Remedy
    teams: tuple[Team, ...]
    start_min: int
    minutes: int
    saved_min: float
    worth: float
    net: float
    out: frozenset[str]


class Leftover:
    """What is still dry and who is still idle, as remedies are put in one by one."""

    def __init__(self, week: Week) -> None:
        self.week, self.hands, self.supplies = week, Hands(week), Supplies(week)
        self.left: dict[str, Floats] = {
            sid: course.thirsty.copy() for sid, course in week.courses.items()
        }

    def gaps(self) -> list[tuple[str, int, int, bool, float]]:
        """Gaps that are left: surface, from, until, bare, price; the dearest first."""
        found = []
        for sid, course in self.week.courses.items():
            for first, until, bare in course.stretches():
                still = self.left[sid][first:until] > 0
                edges = np.flatnonzero(np.diff(still, prepend=False, append=False))
                for a, b in zip(edges[::2], edges[1::2], strict=True):
                    here = slice(first + int(a), first + int(b))
                    worth = float((course.cost * (self.left[sid] > 0))[here].sum())
                    found.append((sid, here.start, here.stop, bare, worth))
        return sorted(found, key=lambda gap: (-gap[4], gap[0], gap[1]))

    def saves(
        self, remedy: Remedy, start: int, minutes: int, first: int, until: int
    ) -> tuple[float, float]:
        """Minutes of a gap and their price that a remedy would save."""
        saved, worth = 0.0, 0.0
        for a, b in self._safe(remedy, start, minutes, first, until):
            sid = remedy.work.surface_id
            still = self.left[sid][a:b]
            saved += float(still.sum())
            worth += float((self.week.courses[sid].cost[a:b] * (still > 0)).sum())
        return saved, worth

    def _safe(
        self, remedy: Remedy, start: int, minutes: int, first: int, until: int
    ) -> Iterator[tuple[int, int]]:
        for a, b in remedy.safe(start, minutes, self.week.length_min):
            if max(a, first) < min(b, until):
                yield max(a, first), min(b, until)

    def put_in(
        self, found: Found, first: int, until: int, out: Collection[str]
    ) -> None:
        """Make a remedy part of the week, in the place of some visits."""
        work, start = found.remedy.work, found.start_min
        self.hands.take_out(out)
        for team in found.teams:
            self.hands.put_in(team, start, start + found.minutes, work)
        self.supplies.take(found.remedy, start)
        for a, b in self._safe(found.remedy, start, found.minutes, first, until):
            self.left[work.surface_id][a:b] = 0
