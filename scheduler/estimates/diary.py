"""When somebody can come to one surface, at what price, and who is booked.

Each crew is taken as free for this surface alone. Hard as in the roster: skills,
people, shifts, breaks, the walk from the crew's home zone, daily rest, the most hours
of a week, a day and a call-out, water, one visit at a time.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from models.records import (
    CrewShift,
    Floats,
    HoursLimit,
    Stretch,
    SurfaceWork,
    Task,
    WorkList,
)
from scheduler.estimates.draws import Draws


@dataclass(frozen=True)
class Booking:
    """A visit that is booked."""

    task: Task
    start_min: int
    shift: CrewShift
    water_point_id: str | None
    overtime_cost: float

    @property
    def end_min(self) -> int:
        """Minute at which it is over."""
        return self.start_min + self.task.duration_min


class Diary:
    """Shifts of a site as one surface finds them, and its visits.

    Of the stretches on call only those ``called`` are open; they cost what they cost
    as a whole, so single visits in them are free.
    """

    def __init__(
        self, work: WorkList, surface: SurfaceWork, called: frozenset[str]
    ) -> None:
        self.horizon_min = work.horizon.length_min
        self.bookings: list[Booking] = []
        self._costs = work.costs
        self._rest_min = work.rest_min
        self._limits = work.hours_limits
        zone = work.zone_ids.index(surface.zone_id)
        walks = {h: work.travel_min[i][zone] for i, h in enumerate(work.zone_ids)}
        self._walks = walks
        self._shifts = {
            shift.id: shift
            for shift in work.shifts
            if shift.kind == "shift" or shift.id in called
        }
        self._open = {
            shift.id: _between_breaks(shift, work.heat_bans, walks[shift.home_zone])
            for shift in self._shifts.values()
        }
        supplies = {supply.id: supply for supply in work.supplies}
        reached = [supplies[name] for name in work.water_points[surface.zone_id]]
        self._draws = Draws(reached, self.horizon_min)

    def prices(self, task: Task, first: int, last: int) -> Floats:
        """Price of each start from ``first`` to ``last``; infinite where impossible."""
        prices = np.full(max(0, last - first + 1), np.inf)
        for shift_id in self._able(task):
            from_min, until_min = self._hours(self._shifts[shift_id], task)
            for start, end in self._open[shift_id]:
                low = max(start, first, from_min)
                high = min(min(end, until_min) - task.duration_min, last)
                if low <= high:
                    own = self._price(shift_id, task, low, high)
                    self._close(own, low, task, self._shifts[shift_id])
                    here = prices[low - first : high - first + 1]
                    np.minimum(here, own, out=here)
        if task.water is not None and np.isfinite(prices).any():
            prices[~self._draws.gives(task.water, first, last)] = np.inf
        return prices

    def _close(self, prices: Floats, first: int, task: Task, shift: CrewShift) -> None:
        """Rule out starts at which the surface or the crew is busy."""
        for booking in self.bookings:
            beside = bool(task.job) and task.job == booking.task.job
            if not beside or _hands(shift) & _hands(booking.shift):
                low = max(first, booking.start_min - task.duration_min + 1)
                prices[low - first : max(0, booking.end_min - first)] = np.inf

    def ready_min(self, task: Task) -> int | None:
        """Soonest start after what a task follows; None if that is not booked."""
        booked = {booking.task.id: booking for booking in self.bookings}
        if any(link.task_id not in booked for link in task.after):
            return None
        ready = [
            (before.start_min if link.from_start else before.end_min) + link.min_gap_min
            for link in task.after
            for before in (booked[link.task_id],)
        ]
        return max([0, task.earliest_min, *ready])

    def book(self, task: Task, start: int) -> Booking:
        """Book a start that has a price, with the cheapest shift that can."""
        end = start + task.duration_min
        offers = []
        for i, shift_id in enumerate(self._able(task)):
            from_min, until_min = self._hours(self._shifts[shift_id], task)
            in_hours = from_min <= start and end <= until_min
            if in_hours and any(
                a <= start and end <= b for a, b in self._open[shift_id]
            ):
                own = self._price(shift_id, task, start, start)
                self._close(own, start, task, self._shifts[shift_id])
                offers.append((float(own[0]), i, shift_id))
        _, _, shift_id = min(offers)
        shift = self._shifts[shift_id]
        booking = Booking(
            task=task,
            start_min=start,
            shift=shift,
            water_point_id=self._draws.draw(task.water, start) if task.water else None,
            overtime_cost=self._overtime(shift, end),
        )
        self.bookings.append(booking)
        self.bookings.sort(key=lambda booked: booked.start_min)
        self._rest(shift, start - self._rest_min, end + self._rest_min)
        return booking

    def call_out_cost(self) -> float:
        """Price of all call-outs: once, and by the hour from leaving home."""
        cost = 0.0
        for shift in (s for s in self._shifts.values() if s.kind == "on_call"):
            own = [booking for booking in self.bookings if booking.shift.id == shift.id]
            if own:
                last_end = max(booking.end_min for booking in own)
                away_min = last_end - own[0].start_min + self._walks[shift.home_zone]
                unpaid_min = max(0, away_min - shift.call_out_paid_min)
                cost += shift.call_out_cost + unpaid_min * shift.call_out_per_min
        return cost

    def _able(self, task: Task) -> list[str]:
        wanted = set(task.skills)
        return [
            shift_id
            for shift_id, shift in self._shifts.items()
            if shift.people >= task.people and wanted <= set(shift.skills)
        ]

    def _price(self, shift_id: str, task: Task, low: int, high: int) -> Floats:
        """Overtime of starts from one to another."""
        ends = np.arange(low, high + 1) + task.duration_min
        over_min = np.maximum(0, ends - self._shifts[shift_id].ends_min)
        return np.asarray(over_min * self._costs.overtime_cost_per_min, np.float64)

    def _overtime(self, shift: CrewShift, end: int) -> float:
        """Overtime is paid once, up to the latest end in its shift."""
        ends = [
            booking.end_min
            for booking in self.bookings
            if _same_turn(booking.shift, shift)
        ]
        paid_until = max([shift.ends_min, *ends])
        return max(0, end - paid_until) * self._costs.overtime_cost_per_min

    def _hours(self, shift: CrewShift, task: Task) -> tuple[int, int]:
        """Between which minutes the hours that are left let a task be done."""
        left = min(
            (
                limit.left_min - self._beyond_min(limit, shift)
                for limit in self._limits
                if limit.crew_id in _hands(shift) and _turn(shift) in limit.shift_ids
            ),
            default=self.horizon_min,
        )
        if shift.kind == "shift":
            return 0, shift.ends_min + max(0, left)
        own = [one for one in self.bookings if _same_turn(one.shift, shift)]
        walk_min = self._walks[shift.home_zone]
        if not own:
            enough = task.duration_min + walk_min <= left
            return 0, self.horizon_min if enough else 0
        last_end = max(one.end_min for one in own)
        return last_end + walk_min - left, own[0].start_min - walk_min + left

    def _beyond_min(self, limit: HoursLimit, but: CrewShift) -> int:
        """Overtime and call-outs of a limit that are booked, but for one shift."""
        spans: dict[str, tuple[int, int]] = {}
        for one in self.bookings:
            turn, shift = _turn(one.shift), one.shift
            if turn == _turn(but) or turn not in limit.shift_ids:
                continue
            leaves = one.start_min - self._walks[shift.home_zone]
            since = shift.ends_min if shift.kind == "shift" else leaves
            first, last = spans.get(turn, (since, since))
            spans[turn] = min(first, since), max(last, one.end_min)
        return sum(last - first for first, last in spans.values())

    def _rest(self, shift: CrewShift, from_min: int, until_min: int) -> None:
        """Close the crew's other shifts around a visit."""
        for other in self._shifts.values():
            if _hands(other) & _hands(shift) and not _same_turn(other, shift):
                self._open[other.id] = [
                    (low, high)
                    for start, end in self._open[other.id]
                    for low, high in (
                        (start, min(end, from_min)),
                        (max(start, until_min), end),
                    )
                    if low < high
                ]


def _hands(shift: CrewShift) -> set[str]:
    return set(shift.hands or (shift.crew_id,))


def _same_turn(one: CrewShift, other: CrewShift) -> bool:
    """Whether two are the same shift, or a gang's and a party's part in it."""
    return _turn(one) == _turn(other)


def _turn(shift: CrewShift) -> str:
    """Id of a gang's shift, for its parties too."""
    return shift.part_of or shift.id


def _between_breaks(
    shift: CrewShift, heat_bans: Sequence[Stretch], walk_min: int
) -> list[tuple[int, int]]:
    """Stretches in which the crew may work at the surface, overtime included.

    Nobody works in breaks, while busy elsewhere or in heat bans.
    """
    begins = shift.starts_min + walk_min
    ends = shift.ends_min + shift.overtime_max_min
    stretches = []
    for pause in sorted((*shift.pauses, *heat_bans), key=lambda p: p.from_min):
        stretches.append((begins, min(ends, pause.from_min)))
        begins = max(begins, pause.until_min)
    stretches.append((begins, ends))
    return [(max(0, a), b) for a, b in stretches if max(0, a) < b]
