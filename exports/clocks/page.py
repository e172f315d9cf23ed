"""The clocks as one HTML page."""

from datetime import timedelta

from exports.breaches import HEADING, breached, groups
from exports.clocks.chart import Sources, charts
from exports.clocks.figures import APART, COOLING_NAME, COVER, WARMEST
from exports.handed import Handed
from exports.html_page import lay_out
from exports.notices import PLANNING_AID_IN_FULL
from exports.text import one_line
from models.local_clock import LocalClock
from models.records import (
    AuditReport,
    DryingHistory,
    HydrationHistory,
    Roster,
    Site,
    Spread,
    Weather,
)


def clock_page(
    site: Site,
    roster: Roster,
    report: AuditReport,
    weather: Weather,
    hydration: HydrationHistory,
    drying: DryingHistory,
    handed: Handed,
    spread: Spread | None = None,
) -> str:
    """Lay out both clocks of all surfaces as HTML that needs no network and no script.

    Parameters
    ----------
    site, roster, report
        A roster and the audit of it; its week is the time axis.
    weather : Weather
        Of the site; its air temperature is drawn.
    hydration, drying
        The clocks the roster was made from.
    handed : Handed
        As which issue, or as a draft.
    spread : Spread or None
        Early and late drying clocks, to be drawn over the clock; none where it alone
        is shown.
    """
    spread = spread or Spread()
    outside = breached(
        report.findings,
        {trace.surface_id: trace.label for trace in report.surfaces},
        LocalClock(site.timezone),
        site.units,
        roster.horizon.starts_at,
    )
    sources = Sources(site, roster, report, weather, hydration, drying, spread, outside)
    week, made = charts(sources)
    return lay_out(
        "clocks/clocks.html.j2",
        title=one_line(site.name),
        span=_span(roster, site),
        issue=handed.words(LocalClock(site.timezone)),
        draft=handed.number is None,
        aid=PLANNING_AID_IN_FULL,
        breach_heading=HEADING,
        breaches=groups(outside),
        spread=spread,
        week=week,
        charts=made,
        names=(WARMEST, APART, COOLING_NAME, COVER),
    )


def _span(roster: Roster, site: Site) -> str:
    clock, horizon = LocalClock(site.timezone), roster.horizon
    last = horizon.ends_at - timedelta(minutes=1)
    return f"{clock.day(horizon.starts_at)} to {clock.day(last)}"
