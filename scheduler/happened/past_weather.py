"""Weather from before a forecast: the hours that an earlier week was planned on."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from models.records import Weather, WeatherHour

_HOUR = timedelta(hours=1)


@dataclass(frozen=True)
class Joined:
    """Weather from an instant on, and the stretches of which nobody has hours."""

    weather: Weather
    holes: tuple[tuple[datetime, datetime], ...] = ()


def joined(before: Weather | None, now: Weather, first_at: datetime) -> Joined:
    """Put hours of an earlier week in front of a forecast.

    Parameters
    ----------
    before : Weather or None
        What an earlier week was planned on.
    now : Weather
        The forecast; from its first hour on nothing else counts.
    first_at : datetime
        From when on weather is needed.

    Returns
    -------
    Joined
        With a hole, the weather is the forecast alone.
    """
    # In UTC, where an hour later is an hour later when clocks change too.
    first_at, begins_at = first_at.astimezone(UTC), _begins(now.hours[0])
    if begins_at <= first_at:
        return Joined(now)
    earlier = tuple(
        hour
        for hour in (() if before is None else before.hours)
        if first_at < _begins(hour) + _HOUR <= begins_at
    )
    edges = (
        (first_at, _begins(earlier[0]) if earlier else begins_at),
        (_begins(earlier[-1]) + _HOUR if earlier else begins_at, begins_at),
    )
    holes = tuple((start, end) for start, end in edges if start < end)
    if holes:
        return Joined(now, holes)
    return Joined(now.model_copy(update={"hours": (*earlier, *now.hours)}))


def _begins(hour: WeatherHour) -> datetime:
    return hour.at.astimezone(UTC)
