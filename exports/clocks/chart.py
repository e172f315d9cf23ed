"""One surface's chart: all that its picture and its words need."""

from dataclasses import dataclass
from datetime import time

from exports.axis import Axis, Mark
from exports.breaches import Breached
from exports.clocks.dryness import COVERED, DryingPlot, drying_of
from exports.clocks.figures import ChartFigure, cover_figures, heat_figures
from exports.clocks.frame import Frame, Text, x_of_minute
from exports.clocks.heat import (
    Line,
    courses,
    heat_lines,
    heat_scale,
    strength_texts,
)
from exports.clocks.limits import BreachBand, breach_bands, limit_courses
from exports.clocks.marks import EventMark, EventRow, event_marks, event_rows
from exports.clocks.scale import Scale
from exports.text import one_line
from models.local_clock import LocalClock
from models.quantities import measure, show
from models.records import (
    AuditReport,
    DryingHistory,
    Gap,
    HydrationHistory,
    Record,
    Roster,
    Site,
    Spread,
    SurfaceTrace,
    Weather,
)


class Week(Record):
    """What all charts of a page have behind them."""

    frame: Frame
    nights: tuple[tuple[float, float], ...]
    days: tuple[Text, ...]
    noons_px: tuple[float, ...]
    heat_scale: Scale
    heat_unit: str


class Chart(Record):
    """A surface."""

    surface_id: str
    label: str
    note: str
    outside: tuple[str, ...]
    bands: tuple[BreachBand, ...]
    figures: tuple[ChartFigure, ...]
    lines: tuple[Line, ...]
    strengths: tuple[Text, ...]
    marks: tuple[EventMark, ...]
    events: tuple[EventRow, ...]
    curing_rule: str
    drying: DryingPlot
    rows: int
    spoken: str

    def value(self, name: str) -> str:
        """Return a figure's value by its name, a dash where it has none."""
        return next((f.value for f in self.figures if f.name == name), "–")


@dataclass(frozen=True)
class Sources:
    """What charts are drawn from.

    ``spread`` holds early and late drying clocks, ``breached`` all temperatures outside
    their limits.
    """

    site: Site
    roster: Roster
    report: AuditReport
    weather: Weather
    hydration: HydrationHistory
    drying: DryingHistory
    spread: Spread
    breached: tuple[Breached, ...]


def charts(sources: Sources) -> tuple[Week, tuple[Chart, ...]]:
    """Draw what the audit followed over one week and one scale of temperature."""
    site = sources.site
    surface_ids = [trace.surface_id for trace in sources.report.surfaces]
    axis = Axis(sources.roster.horizon, site.timezone)
    drawn = [
        courses(sources.hydration, sources.weather, surface_id, axis, site.units)
        for surface_id in surface_ids
    ]
    heights, unit = heat_scale(drawn), measure("exact temperature", site.units).unit
    week = Week(
        frame=Frame(),
        nights=tuple(
            _pixels(night, axis)
            for night in axis.nights(site.night_starts, site.night_ends)
        ),
        days=tuple(Text(x=_pixels(d, axis)[0], words=d.words) for d in axis.days()),
        noons_px=tuple(x_of_minute(axis, minute) for minute in axis.daily(time(12))),
        heat_scale=heights,
        heat_unit=unit,
    )
    made = []
    for surface_id, lines in zip(surface_ids, drawn, strict=True):
        own = [one for one in sources.breached if one.surface_id == surface_id]
        points = dict(lines)
        limits = limit_courses(own, points["surface"], points["air"], axis, site.units)
        heat = heat_lines(lines, heights, axis, unit, limits)
        made.append(_chart(sources, surface_id, heat, own, axis))
    return week, tuple(made)


def _chart(
    sources: Sources,
    surface_id: str,
    lines: tuple[Line, ...],
    outside: list[Breached],
    axis: Axis,
) -> Chart:
    site, report = sources.site, sources.report
    clock = LocalClock(site.timezone)
    trace = next(t for t in report.surfaces if t.surface_id == surface_id)
    work = next(w for w in sources.roster.surfaces if w.surface_id == surface_id)
    events = next(e for e in sources.hydration.events if e.surface_id == surface_id)
    zone = next(zone.name for zone in site.zones if zone.id == trace.zone_id)
    gaps = tuple(gap for gap in report.gaps if gap.surface_id == surface_id)
    covered = [(p.starts_at, p.ends_at) for p in trace.phases if p.kind in COVERED]
    figures = heat_figures(
        sources.hydration, surface_id, axis.ends_at, clock, site.units
    )
    figures += cover_figures(sources.drying, surface_id, covered, clock, sources.spread)
    marks = event_marks(events, axis, clock)
    label = one_line(trace.label)
    held = show("water per area", trace.held_l_m2, site.units)
    return Chart(
        surface_id=surface_id,
        label=label,
        note=f"{one_line(zone)}, {show('area', work.area_m2, site.units)}"
        + (f", cover holds {held}" if trace.held_l_m2 else ""),
        outside=tuple(one.sentence for one in outside),
        bands=breach_bands(outside, axis),
        figures=figures,
        lines=lines,
        strengths=strength_texts(sources.hydration, surface_id, axis),
        marks=marks,
        events=event_rows(events, clock),
        curing_rule=one_line(events.curing_rule),
        drying=drying_of(
            sources.drying, trace, gaps, axis, clock, site.units, sources.spread
        ),
        rows=1 + max((mark.row for mark in marks), default=-1),
        spoken=_spoken(label, outside, figures, marks, gaps, trace, clock),
    )


def _spoken(
    label: str,
    outside: list[Breached],
    figures: tuple[ChartFigure, ...],
    marks: tuple[EventMark, ...],
    gaps: tuple[Gap, ...],
    trace: SurfaceTrace,
    clock: LocalClock,
) -> str:
    """Everything the picture shows, in one breath."""
    parts = [f"{one.title} {one.when}, {one.worst}" for one in outside]
    parts += [figure.words for figure in figures] + [mark.spoken for mark in marks]
    if trace.wettings:
        times = len(trace.wettings)
        parts.append(f"wetted {times} time{'' if times == 1 else 's'}")
    dry = "; ".join(clock.span(gap.starts_at, gap.ends_at) for gap in gaps)
    parts.append(f"dry {dry}" if gaps else "no dry gap planned")
    return f"{label}: " + "; ".join(parts)


def _pixels(mark: Mark, axis: Axis) -> tuple[float, float]:
    """Left edge and width, in pixels, of a stretch of the axis."""
    left = x_of_minute(axis, mark.left_pct * axis.length_min / 100)
    right = (mark.left_pct + mark.width_pct) * axis.length_min / 100
    return left, round(x_of_minute(axis, right) - left, 1)
