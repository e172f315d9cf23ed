"""A greedy dispatcher: the baseline that a solver has to beat.

Whoever is free goes where the cover dries out first, the nearest first among equals;
covers, fog and compound go before rewets; covers are topped up in the last hours before
a stretch that nobody serves; a call-out is taken where much would dry. It keeps every
rule but never looks back. Shares no code with the solver.
"""

from collections import defaultdict
from dataclasses import dataclass, field

from models.records import CrewShift, SurfaceWork, Task, WaterSupply, WorkList

STEP_MIN = 5
URGENT = frozenset({"fog", "lay_cover", "soak", "mix_compound", "spray_compound"})


@dataclass(frozen=True)
class BenchRule:
    """How the dispatcher chooses.

    Attributes
    ----------
    look_min : int
        A cover is wetted if it would be dry within so long.
    top_up_min : int
        How long before a shift ends covers are topped up for the time after it.
    walk_weight : float
        Minutes of urgency that a minute of walking is worth.
    call_factor : float
        A call-out is made where it saves so many times its price.
    """

    look_min: int = 45
    top_up_min: int = 150
    walk_weight: float = 2.0
    call_factor: float = 1.3


#: Foremen to choose the best of; the two other rules hardly matter.
BENCH_RULES = tuple(
    BenchRule(look_min=look, top_up_min=top_up)
    for look in (20, 45, 90)
    for top_up in (90, 150)
)


@dataclass
class Spot:
    """A surface as the dispatcher knows it."""

    work: SurfaceWork
    zone: int
    loss: list[float]
    dry_at: int | None
    ends: dict[str, int] = field(default_factory=dict)
    busy_until: int = 0

    def dries_at(self, wetted: int) -> int:
        """First dry minute of a cover that is full at a minute."""
        assert self.work.curve is not None
        left, held = self.work.curve.held_l_m2, self.work.curve.held_l_m2
        return self._runs_out(wetted, left, held)

    def _runs_out(self, minute: int, left: float, held: float) -> int:
        while left > 1e-6 and minute < len(self.loss):
            left = min(held, left - self.loss[minute])
            minute += 1
        return minute


@dataclass(frozen=True)
class Dispatched:
    """A visit: task, shift, start, water point."""

    task: Task
    shift: CrewShift
    start: int
    point: str | None


class Tap:
    """What a supply still gives."""

    def __init__(self, supply: WaterSupply, length: int) -> None:
        self.supply, self.length = supply, length
        self.flow = [supply.flow_l_min] * length
        self.drawn = [0.0] * length
        self.taken = [0.0] * length
        for use in supply.taken:
            for minute in range(max(0, use.from_min), min(length, use.until_min)):
                self.taken[minute] += use.flow_l_min
                self.flow[minute] = max(0.0, self.flow[minute] - use.flow_l_min)
        self.arriving = [supply.refill_l_min] * length
        for delivery in supply.deliveries:
            if 0 <= delivery.at_min < length:
                self.arriving[delivery.at_min] += delivery.litres_l

    def draw(self, first: int, last: int, flow: float) -> bool:
        """Draw, if there is water for it."""
        if last > self.length or any(f < flow - 1e-9 for f in self.flow[first:last]):
            return False
        for minute in range(first, last):
            self.drawn[minute] += flow
        fits = self._day_fits(first, last) and self._tank_fits()
        for minute in range(first, last):
            if fits:
                self.flow[minute] -= flow
            else:
                self.drawn[minute] -= flow
        return fits

    def _day_fits(self, first: int, last: int) -> bool:
        allowed = self.supply.daily_allotment_l
        return allowed is None or all(
            sum(self.drawn[max(0, d.from_min) : max(0, d.until_min)]) <= allowed
            for d in self.supply.days
            if d.from_min < last and first < d.until_min
        )

    def _tank_fits(self) -> bool:
        capacity = self.supply.capacity_l
        if capacity is None:
            return True
        level = min(capacity, self.supply.level_at_start_l)
        for minute in range(self.length):
            level = min(capacity, level + self.arriving[minute])
            level = max(0.0, level - self.taken[minute]) - self.drawn[minute]
            if level < 0:
                return False
        return True


class BenchDispatcher:
    """Walks through the week in steps of five minutes."""

    def __init__(self, work: WorkList, rule: BenchRule | None = None) -> None:
        self.work, self.rule = work, rule or BenchRule()
        self.horizon = work.horizon.length_min
        self.zone = {zone: index for index, zone in enumerate(work.zone_ids)}
        length = max([self.horizon, *(_closes(s) for s in work.shifts)]) + 1
        self.taps = {supply.id: Tap(supply, length) for supply in work.supplies}
        self.spots = [self._spot(s) for s in work.surfaces]
        self.visits: list[Dispatched] = []
        self.where: dict[str, tuple[int, int, str]] = {}
        self.last_end: dict[str, int] = defaultdict(lambda: -(10**6))
        self.shifts = sorted(work.shifts, key=lambda s: (s.starts_min, s.id))

    def _spot(self, surface: SurfaceWork) -> Spot:
        loss: list[float] = []
        if surface.curve is not None:
            loss = [
                rate / 60
                for rate in surface.curve.loss_l_m2_h
                for _ in range(surface.curve.step_min)
            ][: self.horizon]
        spot = Spot(surface, self.zone[surface.zone_id], loss, None)
        if surface.covered_from_min is not None and surface.curve is not None:
            spot.dry_at = spot._runs_out(
                0, surface.reserve_at_start_l_m2, surface.curve.held_l_m2
            )
        return spot

    def run(self) -> list[Dispatched]:
        """Give out the week's work."""
        for now in range(0, self.horizon, STEP_MIN):
            for shift in self.shifts:
                if shift.starts_min <= now < shift.ends_min:
                    self._send(shift, now)
        return self.visits

    def _send(self, shift: CrewShift, now: int) -> None:
        at, free, last = self.where.get(
            shift.id, (self.zone[shift.home_zone], max(0, shift.starts_min), "")
        )
        if free > now:
            return
        new = shift.id not in self.where
        if new and self.last_end[shift.crew_id] + self.work.rest_min > now:
            return
        if new and shift.kind == "on_call" and not self._pays(shift, now):
            return
        ranked, weight = [], self.rule.walk_weight
        for spot in self.spots:
            if spot.busy_until > now:
                continue
            walk = self.work.travel_min[at][spot.zone]
            if spot.work.surface_id == last and not self.work.walks_on_surface:
                walk = 0
            for task in self._open_tasks(spot):
                start = max(now + walk, task.earliest_min)
                urgency = self._urgency(spot, task, shift, start)
                if urgency is not None and start <= now + 60:
                    ranked.append(
                        (urgency + weight * walk, walk, task.id, start, spot, task)
                    )
        for *_, start, spot, task in sorted(ranked, key=lambda r: r[:3]):
            if self._take(spot, task, shift, start):
                return

    def _open_tasks(self, spot: Spot) -> list[Task]:
        tasks = [task for task in spot.work.tasks if task.id not in spot.ends]
        if spot.work.rewet is not None and spot.dry_at is not None:
            tasks.append(spot.work.rewet)
        return tasks

    def _urgency(
        self, spot: Spot, task: Task, shift: CrewShift, start: int
    ) -> float | None:
        if task.kind == "rewet":
            dry = spot.dry_at
            if dry is None:
                return None
            if dry > start + self.rule.look_min:
                late = shift.ends_min - start <= self.rule.top_up_min
                if not late or dry >= self._served_again(shift.ends_min):
                    return None
                if spot.dries_at(min(start, self.horizon - 1)) - dry < 30:
                    return None
            return float(dry)
        if task.kind in URGENT:
            return task.earliest_min - 600.0
        slack = min(task.due_min, task.latest_min) - task.duration_min - start
        return start + (self.rule.look_min + 30.0 if slack > 240 else 20.0)

    def _take(self, spot: Spot, task: Task, shift: CrewShift, start: int) -> bool:
        if task.people > shift.people or not set(task.skills) <= set(shift.skills):
            return False
        for link in task.after:
            if link.task_id not in spot.ends:
                return False
            start = max(start, spot.ends[link.task_id] + link.min_gap_min)
        for pause in shift.pauses:
            if start < pause.until_min and start + task.duration_min > pause.from_min:
                start = pause.until_min
        end = start + task.duration_min
        latest = min(_closes(shift), task.latest_min)
        if task.kind == "rewet":
            latest = min(latest, spot.work.ends_min)
        if start >= self.horizon or end > latest:
            return False
        point = None
        if task.water is not None:
            first, until = start + task.water.from_min, start + task.water.until_min
            reach = self.work.water_points[spot.work.zone_id]
            flow = task.water.flow_l_min
            point = next(
                (p for p in reach if self.taps[p].draw(first, until, flow)), None
            )
            if point is None:
                return False
        self.visits.append(Dispatched(task, shift, start, point))
        spot.busy_until = end
        if task.kind != "rewet":
            spot.ends[task.id] = end
        if spot.work.curve is not None:
            if task.covers:
                spot.dry_at = end
            if task.effect == "wet" and spot.dry_at is not None:
                spot.dry_at = spot.dries_at(min(end, self.horizon))
        self.where[shift.id] = (spot.zone, end, spot.work.surface_id)
        self.last_end[shift.crew_id] = end
        return True

    def _pays(self, shift: CrewShift, now: int) -> bool:
        """Whether a call-out saves more than its price, roughly."""
        until = self._served_again(now)
        saved = sum(
            max(0, min(until, spot.work.ends_min) - max(spot.dry_at, now + 60))
            * spot.work.weights[-1].per_min
            for spot in self.spots
            if spot.dry_at is not None
        )
        return saved > self.rule.call_factor * shift.call_out_cost

    def _served_again(self, now: int) -> int:
        starts = [
            max(s.starts_min, now)
            for s in self.shifts
            if s.kind == "shift" and s.ends_min > now + 30
        ]
        return min(starts, default=self.horizon)


def _closes(shift: CrewShift) -> int:
    return shift.ends_min + shift.overtime_max_min
