"""Who could come when: the gaps that shifts, breaks, bans, walks and jobs leave."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from models.records import SurfaceWork, Team
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.windows import CrewWindow
from tests.bench.sense.week import Week

_NEVER = 1 << 40
_WALKS_WITHIN_MIN = 60  # no walk on a site is longer
Span = tuple[int, int]


@dataclass(frozen=True, order=True)
class Spell:
    """A hand at work; without a job it is one that a rule has put in."""

    start_min: int
    end_min: int
    zone_id: str
    surface_id: str
    visit_id: str


class Hands:
    """The hands of a week and what each is busy with; rules put in and take out."""

    def __init__(self, week: Week) -> None:
        self.week = week
        self.jobs = {job.visit.id: job for job in week.jobs}
        self.busy: dict[str, list[Spell]] = {
            hand: [] for team in week.teams.values() for hand in team.hands
        }
        for job in week.jobs:
            for hand in self._hands(job.visit.crew_id):
                self.busy[hand].append(
                    Spell(
                        job.start_min, job.end_min, job.work.zone_id,
                        job.work.surface_id, job.visit.id,
                    )
                )  # fmt: skip
        for spells in self.busy.values():
            spells.sort()

    def _hands(self, crew_id: str) -> tuple[str, ...]:
        team = self.week.teams.get(crew_id)
        return team.hands if team else ()

    def take_out(self, visit_ids: Collection[str]) -> None:
        """Let everybody be free of some visits."""
        for hand, spells in self.busy.items():
            self.busy[hand] = [s for s in spells if s.visit_id not in visit_ids]

    def put_in(self, team: Team, start: int, end: int, work: SurfaceWork) -> None:
        """Let a team be busy with something that the roster does not have."""
        for hand in team.hands:
            new = Spell(start, end, work.zone_id, work.surface_id, f"+{start}")
            self.busy[hand] = sorted([*self.busy[hand], new])

    def openings(
        self,
        team: Team,
        work: SurfaceWork,
        minutes: int,
        within: Span,
        *,
        overtime: bool,
        without: Collection[str] = (),
    ) -> Iterator[Span]:
        """Yield first and last start of a job that leaves all others as they are."""
        for window in self._shifts(team):
            closes = window.closes_min if overtime else window.ends_min
            walk = self.week.walk_min(team.home_zone, work.zone_id)
            first = max(within[0], window.starts_min + walk)
            spans = _cut([(first, min(within[1], closes - minutes))])
            for hand in team.hands:
                free = list(self._free(hand, window, closes, work, minutes, without))
                spans = _meet(spans, free)
            for pause in (*window.breaks, *self.week.bans):
                spans = _around(spans, pause, minutes)
            for job in self.week.on[work.surface_id]:
                if job.task.protects and job.visit.id not in without:
                    spans = _around(spans, (job.start_min, job.end_min), minutes)
            yield from spans

    def _shifts(self, team: Team) -> Iterator[CrewWindow]:
        for window in self.week.windows:
            if window.crew.id == team.id and not window.pattern.on_call:
                yield window

    def _free(
        self,
        hand: str,
        window: CrewWindow,
        closes: int,
        work: SurfaceWork,
        minutes: int,
        without: Collection[str],
    ) -> Iterator[Span]:
        since, zone, surface = window.starts_min, window.crew.home_zone, ""
        for spell in self.busy[hand]:
            if spell.end_min <= window.starts_min or spell.visit_id in without:
                continue
            to = self._walk(zone, surface, work)
            back = self._walk(spell.zone_id, spell.surface_id, work)
            yield since + to, spell.start_min - back - minutes
            if spell.start_min > closes:
                return
            since, zone, surface = spell.end_min, spell.zone_id, spell.surface_id
        yield since + self._walk(zone, surface, work), _NEVER

    def _walk(self, zone: str, surface_id: str, work: SurfaceWork) -> int:
        stays = surface_id == work.surface_id
        return 0 if stays else self.week.walk_min(zone, work.zone_id)

    def with_breaks_min(self, team: Team, start: int, minutes: int) -> int:
        """Length of a job that stops for its team's breaks and goes on after them."""
        window = self._window(team, start)
        for first, until in window.breaks if window else ():
            minutes += until - first if start <= first < start + minutes else 0
        return minutes

    def _window(self, team: Team, minute: int) -> CrewWindow | None:
        return next((w for w in self._shifts(team) if w.takes(minute, minute)), None)

    def in_the_way(
        self, team: Team, work: SurfaceWork, start: int, minutes: int, *, pausing: bool
    ) -> list[Job] | None:
        """Give the visits that keep a team from a job; None if it could not anyhow.

        With ``pausing`` its breaks are in ``minutes`` and keep it from nothing.
        """
        window = self._window(team, start)
        if window is None:
            return None
        walk = self.week.walk_min(team.home_zone, work.zone_id)
        end = start + minutes
        if start < window.starts_min + walk or end > window.closes_min:
            return None
        for first, until in window.breaks:
            last = start + 1 if pausing else end
            if first < last and start < until:
                return None
        if any(first < end and start < until for first, until in self.week.bans):
            return None
        found: dict[str, Job] = {}
        for hand in team.hands:
            for spell in self.busy[hand]:
                if spell.start_min >= end + _WALKS_WITHIN_MIN:
                    break
                to = self._walk(spell.zone_id, spell.surface_id, work)
                if spell.start_min < end + to and start < spell.end_min + to:
                    if spell.visit_id not in self.jobs:
                        return None
                    found[spell.visit_id] = self.jobs[spell.visit_id]
        for job in self.week.on[work.surface_id]:
            if job.start_min < end and start < job.end_min:
                found[job.visit.id] = job
        return list(found.values())


def _cut(spans: list[Span]) -> list[Span]:
    return [span for span in spans if span[0] <= span[1]]


def _meet(spans: list[Span], others: list[Span]) -> list[Span]:
    return _cut([(max(a, c), min(b, d)) for a, b in spans for c, d in others])


def _around(spans: list[Span], taken: Span, minutes: int) -> list[Span]:
    before = [(a, min(b, taken[0] - minutes)) for a, b in spans]
    after = [(max(a, taken[1]), b) for a, b in spans]
    return sorted(set(_cut(before + after)))
