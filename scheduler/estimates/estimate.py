"""What the work of one surface would cost by itself: a quick, repeatable estimate.

Crews are free for it alone, so a real week costs more; but what a method cannot do
even then it cannot do at all.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from models.records import Flags, Stretch, SurfaceWork, Task, WorkList
from scheduler.estimates.diary import Booking, Diary
from scheduler.estimates.drying import dry_flags
from scheduler.estimates.duties import (
    book_chain,
    book_fog,
    book_inspections,
    book_soaking,
    is_met,
    late_costs,
)
from scheduler.estimates.offers import book_offers
from scheduler.estimates.rewetting import book_rewets
from scheduler.estimates.wetness import Wetness, flags_of, wetness_of


@dataclass(frozen=True)
class Estimate:
    """A surface's own week.

    Attributes
    ----------
    bookings : tuple of Booking
        Its visits in order of start.
    cost_by_part : dict
        ``dry``, ``late``, ``missed``, ``overtime``, ``call_out``, ``water``.
    covered_min : int or None
        Minute from which its cover is on; None if it never is.
    dry : tuple of Stretch
        When it is dry.
    rewets, night_rewets : int
        Fillings of what lies there, and those that begin at night.
    water_l : float
        Drawn by visits, and by a timer within the plan. [L]
    """

    bookings: tuple[Booking, ...]
    missed: tuple[Task, ...]
    cost_by_part: dict[str, float]
    covered_min: int | None
    dry: tuple[Stretch, ...]
    rewets: int
    night_rewets: int
    water_l: float

    @property
    def cost(self) -> float:
        """All parts together."""
        return sum(self.cost_by_part.values())

    @property
    def dry_min(self) -> int:
        """Minutes it is dry."""
        return sum(part.until_min - part.from_min for part in self.dry)

    @property
    def longest_dry(self) -> Stretch | None:
        """Longest dry stretch, the first of equals."""
        return max(self.dry, key=lambda p: p.until_min - p.from_min, default=None)

    @property
    def crew_min(self) -> int:
        """Minutes of work, times people."""
        return sum(
            booking.task.duration_min * booking.task.people for booking in self.bookings
        )


def estimate(
    work: WorkList, surface: SurfaceWork, nights: Sequence[Stretch]
) -> Estimate:
    """Book a surface's work by itself and count what it costs.

    Parameters
    ----------
    work : WorkList
        Crews, water, costs and horizon; its other surfaces are left aside.
    surface : SurfaceWork
        The surface under a method.
    nights : sequence of Stretch
        What counts as night.

    Notes
    -----
    A call-out opens its whole stretch. Each stretch on call is tried in turn and kept
    if the week costs less with it.
    """
    dark = flags_of(nights, work.horizon.length_min)
    wetness = wetness_of(surface, work.horizon.length_min)
    called: frozenset[str] = frozenset()
    best = _booked(work, surface, wetness, dark, called)
    for shift in work.shifts:
        if shift.kind == "on_call" and shift.call_out_cost < best.cost:
            more = called | {shift.id}
            found = _booked(work, surface, wetness, dark, more)
            if found.cost < best.cost:
                best, called = found, more
    return best


def _booked(
    work: WorkList,
    surface: SurfaceWork,
    wetness: Wetness,
    dark: Flags,
    called: frozenset[str],
) -> Estimate:
    """Book everything, with some stretches on call open."""
    diary = Diary(work, surface, called)
    book_chain(diary, wetness, surface.tasks)
    covered_min = _covered_min(surface, diary)
    book_fog(
        diary,
        wetness,
        surface.tasks,
        wetness.stop_min if covered_min is None else covered_min,
    )
    if covered_min is not None:
        book_rewets(diary, wetness, covered_min, dark)
        book_offers(diary, wetness, covered_min)
    book_soaking(diary, surface)
    book_inspections(diary, surface.tasks)
    return _counted(work, surface, wetness, diary, covered_min, dark)


def _covered_min(surface: SurfaceWork, diary: Diary) -> int | None:
    """Minute from which the cover is on; None if it never is."""
    reported = surface.covered_from_min
    if reported is not None:
        return reported
    return min((s.end_min for s in diary.bookings if s.task.covers), default=None)


def _counted(
    work: WorkList,
    surface: SurfaceWork,
    wetness: Wetness,
    diary: Diary,
    covered_min: int | None,
    dark: Flags,
) -> Estimate:
    bookings = tuple(diary.bookings)
    bare, dried_out = dry_flags(wetness, bookings, covered_min)
    dry_cost = float(
        (wetness.bare_weight * bare).sum() + wetness.covered_weight[dried_out].sum()
    )
    ends_of = {booking.task.id: booking.end_min for booking in reversed(bookings)}
    late_cost = sum(
        float(
            late_costs(booking.task, np.asarray([float(booking.start_min)]), ends_of)[0]
        )
        for booking in bookings
    )
    missed = tuple(
        task
        for task in surface.tasks
        if task.id not in ends_of and task.missed_cost and not is_met(task, bookings)
    )
    rewets = [booking for booking in bookings if booking.task.facts.rewets]
    timer_l = sum(
        flow.flow_l_min * (flow.until_min - flow.from_min) for flow in surface.automatic
    )
    worker_min = sum(one.task.worker_min for one in bookings)
    drawn_l = sum(one.task.water.litres_l for one in bookings if one.task.water)
    return Estimate(
        bookings=bookings,
        missed=missed,
        cost_by_part={
            "dry": dry_cost,
            "late": late_cost,
            "missed": sum(task.missed_cost for task in missed),
            "overtime": sum(booking.overtime_cost for booking in bookings),
            "call_out": diary.call_out_cost(),
            "labour": worker_min * work.costs.worker_minute_cost,
            "water": (drawn_l + timer_l) * work.costs.litre_cost,
        },
        covered_min=covered_min,
        dry=_stretches((bare > 0) | dried_out),
        rewets=len(rewets),
        night_rewets=sum(1 for booking in rewets if dark[booking.start_min]),
        water_l=drawn_l + timer_l,
    )


def _stretches(flags: Flags) -> tuple[Stretch, ...]:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.view(np.int8), [0]))))
    return tuple(
        Stretch(from_min=int(a), until_min=int(b))
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    )
