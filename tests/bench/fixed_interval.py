"""What people do today: covers wetted by the clock, all other work as it falls due.

Specifications write "keep wet, every so many hours"; so each cover is wetted that long
after its last wetting while somebody is on shift, whatever is left in it. Covers are
laid when the surface is ready by whoever is on hand, first come, first served. Nobody
is called out and nothing is topped up ahead of a night. It keeps every rule and shares
no code with the solver.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from models.records import CoverNeed, CrewShift, SurfaceWork, Task, WorkList
from tests.bench.dispatcher import Dispatched, Tap

INTERVALS_H = (2, 3, 4)
_STEP_MIN = 5
#: Covers are put into water on the day before they are laid (common practice). [min]
_SOAKED_BEFORE_MIN = 12 * 60
#: Who has not seen them in water by then checks all the same. [min]
_LAST_CHECK_MIN = 60
_NEVER = 1 << 40
_SLACK_M2 = 1e-6


@dataclass
class _Spot:
    """A surface and what has been done on it."""

    work: SurfaceWork
    wetted_min: int | None
    ends: dict[str, int] = field(default_factory=dict)
    busy_until: int = 0

    def opens_min(self, task: Task) -> int:
        """From when a task is thought of: soaking the day before, then the check."""
        if task.kind == "soak_ahead":
            return max(task.earliest_min, task.due_min - _SOAKED_BEFORE_MIN)
        last = task.latest_min - task.duration_min
        for need in self.work.cover_needs:
            soaks = next((t for t in self.work.tasks if t.id == need.soaked_by), None)
            if need.checked_by != task.id or soaks is None or soaks.id in self.ends:
                continue
            if soaks.due_min <= last:
                return max(task.earliest_min, last - _LAST_CHECK_MIN)
        return task.earliest_min

    def is_soaked_unseen(self, task: Task, start: int) -> bool:
        """Whether a soaking would come after a check that could have seen it."""
        for need in self.work.cover_needs:
            if need.soaked_by == task.id and need.checked_by in self.ends:
                check = next(t for t in self.work.tasks if t.id == need.checked_by)
                over = start + task.duration_min
                return over <= check.latest_min - check.duration_min
        return False


@dataclass(frozen=True)
class _Held:
    """Covers of one kind out of the stock; until when is not known while they lie."""

    need: CoverNeed
    surface_id: str
    from_min: int


class FixedInterval:
    """Walks through the week; duties are served in the order in which they fall due."""

    def __init__(self, work: WorkList, interval_min: int) -> None:
        self.work, self.interval_min = work, interval_min
        self.zone = {zone: index for index, zone in enumerate(work.zone_ids)}
        self.spots = {s.surface_id: _spot(s) for s in work.surfaces}
        # The smallest party that is enough goes; the gang is kept for what takes it.
        self.shifts = sorted(
            (shift for shift in work.shifts if shift.kind == "shift"),
            key=lambda shift: (shift.people, shift.starts_min, shift.id),
        )
        closes = (shift.ends_min + shift.overtime_max_min for shift in self.shifts)
        length = max([work.horizon.length_min, *closes]) + 1
        self.taps = {supply.id: Tap(supply, length) for supply in work.supplies}
        self.stock = {supply.kind: supply.stock_m2 for supply in work.covers}
        self.held = [
            _Held(need, surface.surface_id, 0)
            for surface in work.surfaces
            for need in surface.cover_needs
            if need.laid_by is None
        ]
        #: Of each hand: where it is, since when, on what, and in which shift.
        self.where: dict[str, tuple[int, int, str, int]] = {}
        self.visits: list[Dispatched] = []

    def run(self) -> list[Dispatched]:
        """Give out the week's work."""
        for now in range(0, self.work.horizon.length_min, _STEP_MIN):
            open_shifts = [s for s in self.shifts if s.starts_min <= now < s.ends_min]
            if not open_shifts:
                continue
            for _, _, spot, task in sorted(self._due(now), key=lambda one: one[:2]):
                if spot.busy_until <= now:
                    for shift in open_shifts:
                        if self._take(spot, task, shift, now):
                            break
        return self.visits

    def _due(self, now: int) -> Iterator[tuple[int, str, _Spot, Task]]:
        """Yield what may be done now, with the minute from which it was wanted."""
        for spot in self.spots.values():
            for task in spot.work.tasks:
                open_now = spot.opens_min(task) <= now <= task.latest_min
                if open_now and task.id not in spot.ends:
                    yield task.earliest_min, task.id, spot, task
            rewet = spot.work.rewet
            if rewet is None or spot.wetted_min is None:
                continue
            due = spot.wetted_min + self.interval_min
            if due <= now < spot.work.ends_min and rewet.earliest_min <= now:
                yield due, rewet.id, spot, rewet

    def _take(self, spot: _Spot, task: Task, shift: CrewShift, now: int) -> bool:
        """Send a shift's crew, if it can and may."""
        if task.people > shift.people or not set(task.skills) <= set(shift.skills):
            return False
        start = max(self._there_min(shift, spot, now), task.earliest_min)
        for link in task.after:
            if link.task_id not in spot.ends:
                return False
            start = max(start, spot.ends[link.task_id] + link.min_gap_min)
        dry = False
        for need in spot.work.cover_needs:
            if need.laid_by == task.id and need.soaked_by in spot.ends:
                soaked = spot.ends[need.soaked_by] + need.soak_lead_min
                start = max(start, soaked)
            elif need.laid_by == task.id and need.soaked_by is not None:
                dry |= start >= need.in_water_until_min
        if dry or spot.is_soaked_unseen(task, start):
            return False
        pauses = sorted((*shift.pauses, *self.work.heat_bans), key=lambda p: p.from_min)
        for pause in pauses:
            if start < pause.until_min and pause.from_min < start + task.duration_min:
                start = pause.until_min
        end, latest = start + task.duration_min, task.latest_min
        closes = shift.ends_min + (shift.overtime_max_min if task.covers else 0)
        if task is spot.work.rewet:
            latest = min(latest, spot.work.ends_min)
        if start > now + 2 * _STEP_MIN + self._walk(shift, spot):
            return False  # others may be there before
        if end > min(latest, closes) or start >= self.work.horizon.length_min:
            return False
        if self._short(spot, task, start):
            return False
        point = self._draw(spot, task, start)
        if task.water is not None and point is None:
            return False
        self._book(spot, Dispatched(task, shift, start, point), end)
        return True

    def _hands(self, shift: CrewShift) -> tuple[str, ...]:
        return shift.hands or (shift.crew_id,)

    def _there_min(self, shift: CrewShift, spot: _Spot, now: int) -> int:
        """First minute at which all hands of a crew can be at a surface."""
        there = [now]
        for hand in self._hands(shift):
            at, free, on, of = self._last(hand, shift)
            stays = on == spot.work.surface_id and not self.work.walks_on_surface
            walk = 0 if stays else self.work.travel_min[at][self._zone(spot)]
            if of != shift.starts_min:  # its first job of this shift
                free = max(shift.starts_min, free + self.work.rest_min - walk)
            there.append(free + walk)
        return max(there)

    def _walk(self, shift: CrewShift, spot: _Spot) -> int:
        at = (self._last(hand, shift)[0] for hand in self._hands(shift))
        return max(self.work.travel_min[one][self._zone(spot)] for one in at)

    def _last(self, hand: str, shift: CrewShift) -> tuple[int, int, str, int]:
        home = self.zone[shift.home_zone]
        at, free, on, of = self.where.get(hand, (home, -_NEVER, "", -_NEVER))
        return (at, free, on, of) if of == shift.starts_min else (home, free, "", of)

    def _zone(self, spot: _Spot) -> int:
        return self.zone[spot.work.zone_id]

    def _short(self, spot: _Spot, task: Task, start: int) -> bool:
        """Whether the stock lacks covers that a task would take."""
        for need in spot.work.cover_needs:
            since = self._taken_from(spot, need, task, start)
            if since is None or need.kind not in self.stock:
                continue
            others = [h for h in self.held if h.need.kind == need.kind]
            times = [since, *(h.from_min for h in others if h.from_min > since)]
            most = max(
                sum(h.need.area_m2 for h in others if self._lies(h, at)) for at in times
            )
            if most + need.area_m2 > self.stock[need.kind] + _SLACK_M2:
                return True
        return False

    def _taken_from(
        self, spot: _Spot, need: CoverNeed, task: Task, start: int
    ) -> int | None:
        """From when a visit takes covers from the stock; None if it takes none."""
        if need.soaked_by == task.id:
            return start
        if need.laid_by != task.id or need.soaked_by in spot.ends:
            return None
        return max(0, start - need.soak_lead_min)

    def _lies(self, held: _Held, minute: int) -> bool:
        ends, lifted = self.spots[held.surface_id].ends, held.need.lifted_by
        until = _NEVER
        if lifted and all(name in ends for name in lifted):
            until = max(ends[name] for name in lifted) + held.need.turnaround_min
        return held.from_min <= minute < until

    def _draw(self, spot: _Spot, task: Task, start: int) -> str | None:
        """Draw a task's water from the nearest point that has it."""
        if task.water is None:
            return None
        first, until = start + task.water.from_min, start + task.water.until_min
        for name in self.work.water_points[spot.work.zone_id]:
            if self.taps[name].draw(first, until, task.water.flow_l_min):
                return name
        return None

    def _book(self, spot: _Spot, visit: Dispatched, end: int) -> None:
        task, shift, sid = visit.task, visit.shift, spot.work.surface_id
        self.visits.append(visit)
        spot.busy_until = end
        for hand in self._hands(shift):
            self.where[hand] = (self._zone(spot), end, sid, shift.starts_min)
        for need in spot.work.cover_needs:
            since = self._taken_from(spot, need, task, visit.start)
            if since is not None:
                self.held.append(_Held(need, sid, since))
        if task is not spot.work.rewet:
            spot.ends[task.id] = end
        if task.covers or (task.refills and spot.wetted_min is not None):
            spot.wetted_min = end


def _spot(surface: SurfaceWork) -> _Spot:
    """A surface that lies covered from the start was wetted as the week begins."""
    begins = 0 if surface.covered_from_min is not None else None
    return _Spot(surface, begins)


def wetted_every(work: WorkList, hours: int) -> list[Dispatched]:
    """Plan a week by wetting covers every so many hours."""
    return FixedInterval(work, 60 * hours).run()
