"""When a cover runs dry if nobody comes: the reserve of the audit, run down again."""

from bisect import bisect_right
from datetime import datetime
from math import ceil

from models.records import DryingCurve, Phase, SurfaceTrace, TracePoint

#: As little water as the audit calls dry. [L/m²]
DRY_L_M2 = 1e-6


def share_of(trace: SurfaceTrace, point: TracePoint) -> float:
    """Share of what the cover in place holds that is in it at a point."""
    held_l_m2 = trace.held_l_m2 if point.held_l_m2 is None else point.held_l_m2
    return point.reserve_l_m2 / held_l_m2 if held_l_m2 else 0.0


def share_at(trace: SurfaceTrace, at: datetime) -> float:
    """Share of what the cover holds at an instant, between the points of the trace.

    Parameters
    ----------
    trace : SurfaceTrace
        The audit's; where two points share an instant the later one holds.
    at : datetime
        The instant; before the first point the cover is empty.

    Returns
    -------
    float
        Reserve over what the cover in place holds. [-]
    """
    after = bisect_right([point.at for point in trace.points], at)
    if after == 0:
        return 0.0
    before = trace.points[after - 1]
    if after == len(trace.points):
        return share_of(trace, before)
    following = trace.points[after]
    part = (at - before.at) / (following.at - before.at)
    begins = share_of(trace, before)
    return begins + part * (share_of(trace, following) - begins)


def phase_at(trace: SurfaceTrace, at: datetime) -> Phase | None:
    """Find what the surface is in at an instant; None before and after all phases."""
    for phase in trace.phases:
        if phase.starts_at <= at < phase.ends_at:
            return phase
    return None


def dry_from_min(
    curve: DryingCurve, reserve_l_m2: float, from_min: int, until_min: int
) -> int | None:
    """First minute at which the cover is dry if nobody wets it.

    Parameters
    ----------
    curve : DryingCurve
        Loss of the cover, step by step from minute 0.
    reserve_l_m2 : float
        Water in it at ``from_min``, in litres of the curve's cover. [L/m²]
    from_min : int
        Where to begin. [min]
    until_min : int
        Dryness from here on does not count. [min]

    Returns
    -------
    int or None
        The minute, None if it stays wet until ``until_min`` or the curve ends.
    """
    minute, reserve = from_min, reserve_l_m2
    end = min(until_min, curve.step_min * len(curve.loss_l_m2_h))
    while minute < end:
        if reserve <= DRY_L_M2:
            return minute
        step = minute // curve.step_min
        stretch = min((step + 1) * curve.step_min, end) - minute
        loss_per_min = curve.loss_l_m2_h[step] / 60
        if loss_per_min > 0:
            left = ceil((reserve - DRY_L_M2) / loss_per_min)
            if left < stretch:
                return minute + left
        reserve = min(curve.held_l_m2, reserve - loss_per_min * stretch)
        minute += stretch
    return None
