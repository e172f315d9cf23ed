"""Weather and water of a shift, as a line or two for the head of its sheet."""

from collections.abc import Iterator
from datetime import UTC, datetime

from exports.text import one_line
from models.local_clock import LocalClock
from models.quantities import show
from models.records import (
    AuditReport,
    Site,
    WaterHour,
    WaterPoint,
    Weather,
    WeatherHour,
)

#: Less than this in an hour does not wet a surface; assumption.
RAIN_FROM_MM = 0.1


def weather_lines(
    site: Site, weather: Weather | None, starts_at: datetime, ends_at: datetime
) -> tuple[str, ...]:
    """Say how warm, how windy and when it rains; empty without a forecast."""
    if weather is None:
        return ()
    hours = [h for h in weather.hours if _full_hour(starts_at) <= h.at < ends_at]
    if not hours:
        return ()
    units = site.units
    temperatures = [hour.air_temperature_c for hour in hours]
    wind = max(hour.wind_m_s for hour in hours)
    return (
        f"Air {show('temperature', min(temperatures), units)} to "
        f"{show('temperature', max(temperatures), units)}",
        f"Wind up to {show('speed', wind, units)}",
        _rain(LocalClock(site.timezone), hours),
    )


def _rain(clock: LocalClock, hours: list[WeatherHour]) -> str:
    wet = [hour.at for hour in hours if hour.rain_mm >= RAIN_FROM_MM]
    if not wet:
        return "No rain forecast"
    if len(wet) == 1:
        return f"Rain in the hour from {clock.time(wet[0])}"
    return f"Rain, first at {clock.time(wet[0])}, last at {clock.time(wet[-1])}"


def water_lines(
    site: Site, report: AuditReport, starts_at: datetime, ends_at: datetime
) -> tuple[str, ...]:
    """Say for each point in use what all crews together take in a shift."""
    points = {point.id: point for point in site.water_points}
    lines = []
    for trace in report.water:
        hours = [h for h in trace.hours if _full_hour(starts_at) <= h.at < ends_at]
        if any(hour.drawn_l > 0 for hour in hours):
            facts = _facts(site, points[trace.water_point_id], hours)
            name = one_line(points[trace.water_point_id].name)
            lines.append(f"{name}: {', '.join(facts)}")
    return tuple(lines)


def _facts(site: Site, point: WaterPoint, hours: list[WaterHour]) -> Iterator[str]:
    units = site.units
    yield f"{show('volume', sum(hour.drawn_l for hour in hours), units)} to draw"
    peak = max(hour.peak_flow_l_min for hour in hours)
    flow = show("flow", point.flow_l_min, units)
    yield f"up to {show('flow', peak, units)} of {flow}"
    levels = [hour.level_l for hour in hours if hour.level_l is not None]
    if levels:
        yield f"lowest level {show('volume', min(levels), units)}"
    allotments = [
        hour.allotment_left_l for hour in hours if hour.allotment_left_l is not None
    ]
    if allotments:
        yield f"{show('volume', min(allotments), units)} of the day's allotment left"


def _full_hour(at: datetime) -> datetime:
    """Return the full hour, in UTC, in which an instant lies."""
    return at.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
