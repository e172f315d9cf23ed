"""Booking re-wettings: each half done when the cover would be dry.

A later filling lasts at least as long, so fewest visits come of waiting. Two things a
foreman does besides: he fills in the evening what then lasts the night, and he works
overtime only where it spares more than it costs.
"""

import numpy as np
from numpy.typing import NDArray

from models.records import Flags, Floats, Task
from scheduler.estimates.diary import Diary
from scheduler.estimates.wetness import Wetness, before

Minutes = NDArray[np.signedinteger]


def book_rewets(
    diary: Diary, wetness: Wetness, covered_min: int, nights: Flags
) -> None:
    """Book re-wettings from the minute the cover is on until dryness stops counting."""
    rewet = wetness.work.rewet
    ready_min = diary.ready_min(rewet) if rewet else None
    if rewet is None or ready_min is None or wetness.work.curve is None:
        return
    rewet = rewet.model_copy(update={"earliest_min": ready_min})
    booker = _Booker(diary, wetness, rewet, covered_min, nights)
    while booker.step():
        pass


class _Booker:
    """Walks from one filling to the next."""

    def __init__(
        self,
        diary: Diary,
        wetness: Wetness,
        rewet: Task,
        covered_min: int,
        nights: Flags,
    ) -> None:
        self._diary, self._wetness, self._rewet = diary, wetness, rewet
        rain = wetness.rain_wet(covered_min)
        self._dries = ~rain
        self._dries[wetness.stop_min :] = False
        for booking in diary.bookings:
            if booking.task.seals:
                self._dries[booking.end_min :] = False
        self._cost = before(np.where(self._dries, wetness.covered_weight, 0.0))
        self._nights = nights
        self._half_done = rewet.half_done_min
        self._last = min(rewet.latest_min, diary.horizon_min) - rewet.duration_min
        self._from = max(0, covered_min)
        self._known = sorted(
            (booking.start_min, booking.end_min)
            for booking in diary.bookings
            if booking.task.refills and booking.end_min >= self._from
        )
        begins_wet = wetness.work.covered_from_min is not None and covered_min <= 0
        dry_at = wetness.start_until() if begins_wet else self._from
        self._dry_at = self._next_dry(dry_at)

    def step(self) -> bool:
        """Go to the next filling, booked or new; False when there is none to make."""
        if self._known and self._known[0][0] <= self._dry_at:
            self._filled(self._known.pop(0)[1])
            return True
        if self._dry_at >= self._wetness.stop_min:
            return False
        start = self._choose()
        if start is None and not self._known:
            return False
        if start is None or (self._known and self._known[0][0] < start):
            self._filled(self._known.pop(0)[1])
            return True
        self._filled(self._diary.book(self._rewet, start).end_min)
        return True

    def _filled(self, end: int) -> None:
        self._from = max(self._from, end)
        self._dry_at = max(self._dry_at, self._lasts(end))

    def _lasts(self, end: int) -> int:
        return self._next_dry(self._wetness.full_until(end))

    def _next_dry(self, minute: int) -> int:
        """First minute from one on that counts and that no rain keeps wet."""
        found = np.flatnonzero(self._dries[minute:])
        return minute + int(found[0]) if len(found) else self._diary.horizon_min

    def _prices(self, first: int, last: int) -> Floats:
        first = max(first, self._rewet.earliest_min)
        return self._diary.prices(self._rewet, first, min(last, self._last))

    def _choose(self) -> int | None:
        first = max(self._from, self._rewet.earliest_min)
        latest = self._dry_at - self._half_done  # half done when it would be dry
        prices = self._prices(first, latest)
        free = first + np.flatnonzero(prices == 0)
        in_time = self._worth(self._evening_or_latest(free))
        if in_time is not None:
            return in_time
        after = self._worth(self._first_free(latest + 1))
        until = self._wetness.stop_min
        if after is not None:
            until = min(until, after + self._half_done)
        best, start = self._dry_cost(self._dry_at, until), after
        paid = first + np.flatnonzero(np.isfinite(prices) & (prices > 0))
        for one in self._worth_paying(paid, prices, first):
            lasts = self._lasts(one + self._rewet.duration_min)
            cost = prices[one - first] + self._dry_cost(lasts, until)
            if cost < best:
                best, start = cost, one
        return start

    def _evening_or_latest(self, free: Minutes) -> int | None:
        """Latest start; one before the night if it lasts to the next by daylight."""
        if not len(free):
            return None
        latest = int(free[-1])
        if not self._nights[latest]:
            return latest
        light = [int(start) for start in free if not self._nights[start]]
        if not light:
            return latest
        lasts = self._lasts(light[-1] + self._rewet.duration_min)
        morning = latest + int(np.argmin(self._nights[latest:]))
        prices = self._prices(morning, lasts - self._half_done)
        if lasts >= self._wetness.stop_min or (prices == 0).any():
            return light[-1]
        return latest

    def _worth(self, start: int | None) -> int | None:
        """Refuse a visit that keeps the cover wet for less time than it takes."""
        if start is None:
            return None
        needs_min = self._rewet.duration_min
        lasts = self._lasts(start + needs_min)
        spared = self._dries[max(start + self._half_done, self._dry_at) : lasts]
        return start if np.count_nonzero(spared) >= needs_min else None

    def _worth_paying(self, paid: Minutes, prices: Floats, first: int) -> list[int]:
        """Latest paid start, and the latest of the cheapest."""
        if not len(paid):
            return []
        of_paid = prices[paid - first]
        cheapest = paid[np.flatnonzero(of_paid == of_paid.min())[-1]]
        return [int(start) for start in dict.fromkeys((paid[-1], cheapest))]

    def _first_free(self, minute: int) -> int | None:
        first = max(minute, self._from, self._rewet.earliest_min)
        free = np.flatnonzero(self._prices(first, self._last) == 0)
        return first + int(free[0]) if len(free) else None

    def _dry_cost(self, start: int, end: int) -> float:
        return float(self._cost[max(start, end)] - self._cost[start])
