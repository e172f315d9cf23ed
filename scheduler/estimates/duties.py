"""Booking what a surface asks for once: its chain, the fog before it, the inspections.

One duty after the other, each at the start that costs least: lateness, overtime,
call-out, and the dry minutes of a bare surface that waits for it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from models.records import Floats, SurfaceWork, Task
from scheduler.estimates.diary import Booking, Diary
from scheduler.estimates.wetness import Wetness, before


def book_chain(diary: Diary, wetness: Wetness, tasks: Sequence[Task]) -> None:
    """Book all but fog, soaking ahead, inspections and offers, in the chain's order.

    Once something lies there, what follows is no longer waited for on a bare surface.
    """
    stints = _stints(diary, wetness, tasks)
    waiting = _waiting_cost(wetness, stints)
    bare = before(np.where(wetness.bare, wetness.bare_weight, 0.0))
    for task in tasks:
        if task.facts.inspects or task.kind in ("fog", "rewet", "soak_ahead"):
            continue
        if not task.protects:
            _book(diary, task, _crowding_cost(diary, task, stints))
        else:
            working = _until_half_done(bare, task)
            _book(diary, task, (waiting + working) * task.share_fraction)
        if any(booking.task.covers for booking in diary.bookings):
            waiting, bare = np.zeros_like(waiting), np.zeros_like(bare)


def book_fog(
    diary: Diary, wetness: Wetness, tasks: Iterable[Task], covered_min: int
) -> None:
    """Book the stints that spare more than they cost, until the cover is on."""
    bare = before(np.where(wetness.bare, wetness.bare_weight, 0.0))
    for task in tasks:
        start, end = task.earliest_min, task.earliest_min + task.duration_min
        if task.kind == "fog" and start < covered_min:
            price = diary.prices(task, start, start)[0]
            spares = bare[min(end, covered_min)] - bare[start]
            if price < spares * task.share_fraction:
                diary.book(task, start)


def book_soaking(diary: Diary, surface: SurfaceWork) -> None:
    """Book the visits that put covers into water, as late as costs no more.

    None for what was in water before the plan; one that nobody can make in time is left
    to the rest of the site, whose covers may come wet.
    """
    begun = {booking.task.id: booking.start_min for booking in diary.bookings}
    tasks = {task.id: task for task in surface.tasks}
    for need in surface.cover_needs:
        laid_min = begun.get(need.laid_by or "", 0)
        if need.soaked_by is None or laid_min < max(1, need.in_water_until_min):
            continue
        task = tasks[need.soaked_by]
        first = max(0, task.earliest_min)
        last = laid_min - need.soak_lead_min - task.duration_min
        if first > last:
            continue
        prices = diary.prices(task, first, last)
        if np.isfinite(prices).any():
            diary.book(task, last - int(np.argmin(prices[::-1])))


def book_inspections(diary: Diary, tasks: Iterable[Task]) -> None:
    """Book the inspections that no wetting meets, in what time is left."""
    nothing = np.zeros(diary.horizon_min + 1)
    for task in tasks:
        if task.facts.inspects and not is_met(task, diary.bookings):
            _book(diary, task, nothing)


def is_met(task: Task, bookings: Iterable[Booking]) -> bool:
    """Whether a visit that wets the surface in a task's time does it too."""
    return task.met_by_wetting and any(
        task.earliest_min <= booking.start_min < task.latest_min
        for booking in bookings
        if booking.task.refills
    )


def late_min(task: Task, starts: Floats, ends_of: Mapping[str, int]) -> Floats:
    """Minutes by which a task is late at each start: past due, or after a long gap."""
    late = np.maximum(0, starts + task.duration_min - task.due_min)
    for link in task.after:
        if link.max_gap_min is not None and link.task_id in ends_of:
            gap_min = starts - ends_of[link.task_id]
            late += np.maximum(0, gap_min - link.max_gap_min)
    return late


def late_costs(task: Task, starts_min: Floats, ends_of: Mapping[str, int]) -> Floats:
    """Price of lateness by start; always less than that of leaving the duty out."""
    cost = task.late_cost_per_min * late_min(task, starts_min, ends_of)
    return np.minimum(cost, task.late_cost_most)


def _book(diary: Diary, task: Task, besides: Floats) -> None:
    """Book a task where it costs least, first of equals; leave it where that is less.

    ``besides`` is what each start costs otherwise. What protects the surface is never
    left out for its price.
    """
    first = diary.ready_min(task)
    if first is None:
        return
    ends_of = {booking.task.id: booking.end_min for booking in diary.bookings}
    last = min(task.latest_min, diary.horizon_min) - task.duration_min
    if first > last:
        return
    prices = diary.prices(task, first, last)
    starts = np.arange(first, last + 1).astype(np.float64)
    cost = prices + late_costs(task, starts, ends_of)
    cost += besides[first : last + 1]
    best = int(np.argmin(cost))
    given_up = not task.protects and cost[best] > task.missed_cost
    if np.isfinite(cost[best]) and not given_up:
        diary.book(task, first + best)


@dataclass(frozen=True)
class _Stint:
    """Fog that somebody can see to, and the dry minutes it spares."""

    start_min: int
    end_min: int
    share_fraction: float
    spares: float


def _stints(diary: Diary, wetness: Wetness, tasks: Iterable[Task]) -> list[_Stint]:
    """Fog that there can be and that is worth its price."""
    bare = before(np.where(wetness.bare, wetness.bare_weight, 0.0))
    stints = []
    for task in tasks:
        start, end = task.earliest_min, task.earliest_min + task.duration_min
        if task.kind == "fog":
            share = task.share_fraction
            spares = float(bare[end] - bare[start]) * share
            if diary.prices(task, start, start)[0] < spares:
                stints.append(_Stint(start, end, share, spares))
    return stints


def _waiting_cost(wetness: Wetness, stints: Iterable[_Stint]) -> Floats:
    """Cost of the bare minutes before each start of a cover, with all fog there can be.

    A stint that the cover would cut into is not done, so its minutes are dry.
    """
    weight = np.where(wetness.bare, wetness.bare_weight, 0.0)
    raw = before(weight)
    guarded = weight.copy()
    for stint in stints:
        there = slice(stint.start_min, stint.end_min)
        guarded[there] -= weight[there] * stint.share_fraction
    waiting = before(guarded)
    for stint in stints:
        cut = slice(stint.start_min + 1, stint.end_min)
        waiting[cut] = waiting[stint.start_min] + raw[cut] - raw[stint.start_min]
    return waiting


def _until_half_done(bare: Floats, task: Task) -> Floats:
    """Cost of the bare minutes from each start of a cover until it is half laid.

    ``bare`` is the cost of all bare minutes before each one.
    """
    starts = np.arange(len(bare))
    return bare[np.minimum(starts + task.half_done_min, len(bare) - 1)] - bare


def _crowding_cost(diary: Diary, task: Task, stints: Iterable[_Stint]) -> Floats:
    """Cost of the fog that a task would be in the way of at each start."""
    crowding = np.zeros(diary.horizon_min + 1)
    for stint in stints:
        first = max(0, stint.start_min - task.duration_min + 1)
        crowding[first : stint.end_min] += stint.spares
    return crowding
