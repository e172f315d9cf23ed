"""A surface's week as a picture: the water left in its cover, drawn as a level.

A strip is ``length_min`` wide and :data:`HEIGHT` high. Wet is area, dry is an outlined
hole in it, so the picture survives a grey printer and an eye that sees no colour.
"""

from collections.abc import Sequence
from datetime import datetime

from exports.axis import Axis
from exports.breaches import Breached
from exports.reserve import share_of
from exports.why import why
from models.local_clock import LocalClock
from models.quantities import Units, duration, show
from models.records import (
    AuditReport,
    PhaseKind,
    Record,
    SurfaceTrace,
    SurfaceWork,
)

HEIGHT = 24.0
_LEVEL_SHOWN: tuple[PhaseKind, ...] = ("covered", "ponded", "steamed")
#: Phases of a surface that nothing covers.
_BARE: tuple[PhaseKind, ...] = ("fresh", "fogged", "exposed")
FULL = 20.0  # of HEIGHT, taken by a full cover; the rest parts it from the strip above


class Box(Record):
    """A stretch of a strip, in minutes of the week."""

    from_min: float
    width_min: float
    words: str


class Strip(Record):
    """One row of the board.

    Attributes
    ----------
    outside : tuple of str
        Temperatures outside their limits, a line each.
    level : tuple of str
        Points of SVG polygons: the water left, one polygon a covered stretch.
    edge : tuple of str
        The same upper edges as polylines.
    wetted_min : tuple of float
        Minutes at which the cover was filled.
    """

    surface_id: str
    label: str
    zone_words: str
    note: str
    outside: tuple[str, ...]
    level: tuple[str, ...]
    edge: tuple[str, ...]
    fogged: tuple[Box, ...]
    waiting: tuple[Box, ...]
    sealed: tuple[Box, ...]
    ponded: tuple[Box, ...]
    steamed: tuple[Box, ...]
    insulated: tuple[Box, ...]
    automatic: tuple[Box, ...]
    done: tuple[Box, ...]
    dry: tuple[Box, ...]
    breached: tuple[Box, ...]
    wetted_min: tuple[float, ...]
    spoken: str


def strip(
    trace: SurfaceTrace,
    work: SurfaceWork,
    report: AuditReport,
    outside: Sequence[Breached],
    zone_words: str,
    axis: Axis,
    clock: LocalClock,
    units: Units,
) -> Strip:
    """Draw a surface's trace.

    Parameters
    ----------
    trace, work : SurfaceTrace, SurfaceWork
        Of the same surface.
    report : AuditReport
        The whole audit; its gaps of this surface are drawn as outlined holes.
    outside : sequence of Breached
        Its temperatures outside their limits.
    zone_words : str
        Name of the zone.
    axis, clock, units
        Of the site.
    """
    stretches = _under_cover(trace)
    levels = [_heights(trace, starts, ends, axis) for starts, ends in stretches]
    gaps = [gap for gap in report.gaps if gap.surface_id == trace.surface_id]
    return Strip(
        surface_id=trace.surface_id,
        label=trace.label,
        zone_words=zone_words,
        note=_note(trace, work, clock, axis, units),
        outside=tuple(f"{one.title}: {one.worst}" for one in outside),
        level=tuple(_polygon(points) for points in levels if points),
        edge=tuple(_points(points) for points in levels if points),
        fogged=_boxes(trace, "fogged", axis, clock, "fog"),
        waiting=_boxes(trace, "fresh", axis, clock, "no cover needed yet"),
        sealed=_boxes(trace, "sealed", axis, clock, "sealed, needs no water"),
        ponded=_boxes(trace, "ponded", axis, clock, "under water"),
        steamed=_boxes(trace, "steamed", axis, clock, "in steam"),
        insulated=_boxes(trace, "insulated", axis, clock, "under blankets"),
        automatic=_boxes(trace, "automatic", axis, clock, "water on a timer"),
        done=_boxes(trace, "done", axis, clock, "curing period over"),
        dry=tuple(
            Box(
                from_min=axis.minute(gap.starts_at),
                width_min=axis.minute(gap.ends_at) - axis.minute(gap.starts_at),
                words=f"Dry {clock.span(gap.starts_at, gap.ends_at)}, "
                f"{duration(gap.minutes)}: {why(gap, clock)}",
            )
            for gap in gaps
        ),
        breached=tuple(
            Box(
                from_min=axis.minute(span.starts_at),
                width_min=axis.minute(span.ends_at) - axis.minute(span.starts_at),
                words=one.sentence,
            )
            for one in outside
            for span in one.spans
        ),
        wetted_min=tuple(axis.minute(at) for at in trace.wettings),
        spoken=_spoken(trace, report, outside, clock),
    )


def _boxes(
    trace: SurfaceTrace, kind: PhaseKind, axis: Axis, clock: LocalClock, words: str
) -> tuple[Box, ...]:
    return tuple(
        Box(
            from_min=axis.minute(phase.starts_at),
            width_min=axis.minute(phase.ends_at) - axis.minute(phase.starts_at),
            words=f"{words}, {clock.span(phase.starts_at, phase.ends_at)}",
        )
        for phase in trace.phases
        if phase.kind == kind
    )


def _under_cover(trace: SurfaceTrace) -> list[tuple[datetime, datetime]]:
    """Stretches with a level to draw; one that follows another goes on with it."""
    stretches: list[tuple[datetime, datetime]] = []
    for phase in trace.phases:
        if phase.kind not in _LEVEL_SHOWN:
            continue
        if stretches and stretches[-1][1] == phase.starts_at:
            stretches[-1] = (stretches[-1][0], phase.ends_at)
        else:
            stretches.append((phase.starts_at, phase.ends_at))
    return stretches


def _heights(
    trace: SurfaceTrace, starts_at: datetime, ends_at: datetime, axis: Axis
) -> list[tuple[float, float]]:
    """Points (minute, y) of the level inside a stretch; y grows downwards.

    The level is the share of what the cover in place holds, whichever that is.
    """
    return [
        (axis.minute(point.at), HEIGHT - FULL * share_of(trace, point))
        for point in trace.points
        if starts_at <= point.at <= ends_at
    ]


def _points(points: list[tuple[float, float]]) -> str:
    return " ".join(f"{x:g},{y:.2f}" for x, y in points)


def _polygon(points: list[tuple[float, float]]) -> str:
    first, last = points[0][0], points[-1][0]
    return f"{first:g},{HEIGHT:g} {_points(points)} {last:g},{HEIGHT:g}"


def _note(
    trace: SurfaceTrace, work: SurfaceWork, clock: LocalClock, axis: Axis, units: Units
) -> str:
    area, ends_at = show("area", work.area_m2, units), trace.curing_ends_at
    if ends_at is not None and ends_at < axis.ends_at:
        return f"{area}, curing to {clock.day_time(ends_at)}"
    bare = all(phase.kind in _BARE for phase in trace.phases)
    if bare and work.ends_min < axis.length_min:
        return f"{area}, not covered, so not cured"
    return f"{area}, curing beyond this week"


def _spoken(
    trace: SurfaceTrace,
    report: AuditReport,
    outside: Sequence[Breached],
    clock: LocalClock,
) -> str:
    gaps = [gap for gap in report.gaps if gap.surface_id == trace.surface_id]
    wetted = len(trace.wettings)
    parts = [f"{one.title} {one.when}, {one.worst}" for one in outside]
    parts.append(f"wetted {wetted} time{'' if wetted == 1 else 's'}")
    spans = "; ".join(clock.span(gap.starts_at, gap.ends_at) for gap in gaps)
    parts.append(f"dry {spans}" if gaps else "no dry gap planned")
    return f"{trace.label}: {', '.join(parts)}"
