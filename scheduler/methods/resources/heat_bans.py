"""Hours in which nobody works outdoors for the heat, in the minutes of the horizon."""

from datetime import date

from models.local_clock import WeekClock
from models.records import HeatBan, SiteInput, Stretch
from scheduler.methods.resources.stretches import merge

_HOUR_MIN = 60


def heat_bans(site_input: SiteInput) -> tuple[Stretch, ...]:
    """Every stretch of the site's bans, in order, joined where they overlap."""
    site, horizon = site_input.site, site_input.horizon
    clock = WeekClock(site.timezone, horizon)
    stretches = (
        stretch
        for ban in site.heat_bans
        for on in clock.days()
        if _in_season(ban, on)
        and _is_hot(ban, stretch := clock.stretch(on, ban.starts, ban.ends), site_input)
    )
    return merge(stretches, 0, horizon.length_min)


def _in_season(ban: HeatBan, on: date) -> bool:
    return (ban.from_date is None or ban.from_date <= on) and (
        ban.until_date is None or on <= ban.until_date
    )


def _is_hot(ban: HeatBan, stretch: Stretch, site_input: SiteInput) -> bool:
    """Whether an hour of the forecast that touches the stretch is above the limit."""
    if ban.above_c is None:
        return True
    minute = site_input.horizon.minute
    return any(
        hour.air_temperature_c > ban.above_c
        for hour in site_input.weather.hours
        if stretch.from_min - _HOUR_MIN < minute(hour.at) < stretch.until_min
    )
