"""Booking what may be filled once a shift: a cover that is not the fastest to dry.

A surface with several covers has one pattern of re-wettings; its other covers are
offered one visit a shift, and get those that spare more than they cost.
"""

from collections.abc import Iterator

import numpy as np

from models.records import Flags, Task
from scheduler.estimates.diary import Diary
from scheduler.estimates.drying import dry_flags
from scheduler.estimates.wetness import Wetness


def book_offers(diary: Diary, wetness: Wetness, covered_min: int) -> None:
    """Book for each dry stretch the last visit before it, else the first in it."""
    offers = [task for task in wetness.work.tasks if task.kind == "rewet"]
    at_min = max(0, covered_min)
    while offers:
        _, dried_out = dry_flags(wetness, diary.bookings, covered_min)
        dry = at_min + np.flatnonzero(dried_out[at_min:])
        if not len(dry):
            return
        at_min = int(dry[0])
        starts = (
            (task, start)
            for task, start in _starts(diary, offers, at_min)
            if _worth(diary, wetness, dried_out, task, start)
        )
        found = next(starts, None)
        if found is None:
            return
        task, start = found
        diary.book(task, start)
        offers.remove(task)
        at_min = max(at_min, start + task.half_done_min)


def _starts(
    diary: Diary, offers: list[Task], dry_min: int
) -> Iterator[tuple[Task, int]]:
    """Give the latest starts half done by the dry minute first, then the soonest."""
    for task in reversed(offers):
        first, last = _span(diary, task)
        prices = diary.prices(task, first, min(last, dry_min - task.half_done_min))
        if np.isfinite(prices).any():
            yield task, first + int(np.flatnonzero(prices == prices.min())[-1])
    for task in offers:
        first, last = _span(diary, task)
        first = max(first, dry_min - task.half_done_min + 1)
        prices = diary.prices(task, first, last)
        if np.isfinite(prices).any():
            yield task, first + int(np.argmin(prices))


def _span(diary: Diary, task: Task) -> tuple[int, int]:
    """First and last start of an offer; an empty span if what it follows is not done.

    A cover that was laid late is filled after that only.
    """
    last = min(task.latest_min, diary.horizon_min) - task.duration_min
    ready_min = diary.ready_min(task)
    return (last + 1, last) if ready_min is None else (ready_min, last)


def _worth(
    diary: Diary, wetness: Wetness, dried_out: Flags, task: Task, start: int
) -> bool:
    """Tell whether a visit spares more than its price, and more time than it takes."""
    lasts_min = wetness.full_until(start + task.duration_min)
    kept_from_min = start + task.half_done_min
    spared = dried_out[kept_from_min:lasts_min]
    if np.count_nonzero(spared) < task.duration_min:
        return False
    weights = wetness.covered_weight[kept_from_min:lasts_min]
    price = float(diary.prices(task, start, start)[0])
    return float(weights[spared].sum()) > price
