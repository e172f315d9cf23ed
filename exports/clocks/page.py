"""The clocks as one HTML page, or one surface's chart as a picture of its own."""

from datetime import timedelta

from exports.clocks.chart import Sources, charts
from exports.clocks.figures import APART, COOLING_NAME, COVER, WARMEST
from exports.html_page import lay_out
from exports.notices import PLANNING_AID_IN_FULL
from exports.text import one_line, shorten, shorten_label
from models.errors import InputError, Place, Problem
from models.local_clock import LocalClock
from models.records import (
    AuditReport,
    DryingHistory,
    HydrationHistory,
    Roster,
    Site,
    Weather,
)
from models.wording import one_of, say


def clock_page(
    site: Site,
    roster: Roster,
    report: AuditReport,
    weather: Weather,
    hydration: HydrationHistory,
    drying: DryingHistory,
    surface_ids: tuple[str, ...] | None = None,
    spread: tuple[DryingHistory, ...] = (),
) -> str:
    """Lay out both clocks of surfaces as HTML that needs no network and no script.

    Parameters
    ----------
    site, roster, report
        A roster and the audit of it; its week is the time axis.
    weather : Weather
        Of the site; its air temperature is drawn.
    hydration, drying
        The clocks the roster was made from.
    surface_ids : tuple of str or None
        Which surfaces, in this order; None for all that the audit followed.
    spread : tuple of DryingHistory
        Early and late drying clocks, to be outlined over the clock; none where the
        forecast alone is shown.

    Raises
    ------
    InputError
        If there is no such surface.
    """
    ids = surface_ids or tuple(trace.surface_id for trace in report.surfaces)
    _require(ids, report)
    sources = Sources(site, roster, report, weather, hydration, drying, spread)
    week, made = charts(sources, ids)
    return lay_out(
        "clocks/clocks.html.j2",
        title=one_line(site.name),
        span=_span(roster, site),
        aid=PLANNING_AID_IN_FULL,
        week=week,
        charts=made,
        names=(WARMEST, APART, COOLING_NAME, COVER),
    )


def clock_svg(
    site: Site,
    roster: Roster,
    report: AuditReport,
    weather: Weather,
    hydration: HydrationHistory,
    drying: DryingHistory,
    surface_id: str,
) -> str:
    """Draw one surface as an SVG file, its figures above it.

    Parameters are those of :func:`clock_page`; the scale of temperature is its own.

    Raises
    ------
    InputError
        If there is no such surface.
    """
    _require((surface_id,), report)
    sources = Sources(site, roster, report, weather, hydration, drying)
    week, (chart,) = charts(sources, (surface_id,))
    return lay_out(
        "clocks/clock.svg.j2",
        short_label=shorten_label(chart.label, 48),
        short_note=shorten(
            f"{one_line(site.name)}, {_span(roster, site)}; {chart.note}", 90
        ),
        aid=PLANNING_AID_IN_FULL,
        week=week,
        chart=chart,
    )


def _require(surface_ids: tuple[str, ...], report: AuditReport) -> None:
    known = [trace.surface_id for trace in report.surfaces]
    missing = [each for each in surface_ids if each not in known]
    if missing:
        raise InputError(
            [
                Problem(Place("clocks"), "surface", say(each), one_of(known))
                for each in missing
            ]
        )


def _span(roster: Roster, site: Site) -> str:
    clock, horizon = LocalClock(site.timezone), roster.horizon
    last = horizon.ends_at - timedelta(minutes=1)
    return f"{clock.day(horizon.starts_at)} to {clock.day(last)}"
