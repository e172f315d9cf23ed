"""Changes of cover known beforehand: by age, before the weekend, before frost."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from models.local_clock import WeekClock
from models.quantities import show
from models.records import (
    CoverStage,
    MethodKey,
    Pour,
    SiteInput,
    Stretch,
    Surface,
)
from scheduler.methods.case.figures import figures_for
from scheduler.methods.case.method_table import first_cover, methods
from scheduler.methods.resources.calendar import SiteCalendar, at_weekend, site_calendar
from scheduler.methods.resources.stretches import clip

#: Nothing is laid for a weekend that another change follows so soon.
_SOON = timedelta(hours=12)
#: A night shift must leave at least this much of a night to be no work in it. [min]
_WORKED_MIN = 4 * 60
#: People of a shift that ended longer before a night than this are gone. [min]
_SAME_DAY_MIN = 12 * 60


def then(surface: Surface, pour: Pour, site_input: SiteInput) -> Surface:
    """Plan the method that the pour names as its next, when the pour says."""
    method = pour.then_method
    if surface.face != "top" or not method or not pour.then_after:
        return surface
    if pour.then_after == "weekend":
        stage = _before_weekend(surface, method, site_input)
    elif pour.then_after == "frost":
        stage = _before_frost(surface, method, site_input)
    else:
        age = timedelta(hours=pour.then_after_h or 0)
        # The window around it begins at the age.
        starts_at = pour.placing_ends_at + age + _around(site_input)
        why = f"{pour.then_after} after placing"
        stage = _stage(method, starts_at, why, site_input)
    if stage is None:
        return surface
    kept = (s for s in surface.later if s.starts_at < stage.starts_at)
    return surface.model_copy(update={"later": (*kept, stage)})


def weekend_cover(surface: Surface, _pour: Pour, site_input: SiteInput) -> Surface:
    """Plan the site's weekend cover where a cover lies open that would dry out.

    What is planned for after the weekend stays planned.
    """
    method = site_input.site.rules.weekend_cover
    stage = _before_weekend(surface, method, site_input) if method else None
    if stage is None:
        return surface
    before = tuple(s for s in surface.later if s.starts_at <= stage.starts_at)
    after = surface.later[len(before) :]
    lying = before[-1].method if before else surface.method
    soon = any(s.starts_at - stage.starts_at < _SOON for s in after)
    if not methods()[lying].open or soon:
        return surface
    return surface.model_copy(update={"later": (*before, stage, *after)})


def _before_weekend(
    surface: Surface, method: MethodKey, site_input: SiteInput
) -> CoverStage | None:
    """Plan a change in the last shift before the first weekend night nobody works."""
    calendar, clock = _calendar(site_input), _clock(site_input)
    for night in _nights(surface, calendar, site_input):
        if at_weekend(clock, night.from_min) and not _worked(calendar, night):
            return _before(surface, method, night, "before the weekend", site_input)
    return None


def _before_frost(
    surface: Surface, method: MethodKey, site_input: SiteInput
) -> CoverStage | None:
    """Plan a change in the last shift before the first night with frost."""
    site, minute = site_input.site, site_input.horizon.minute
    limit_c = figures_for(site.rates)["all"]["frost_from"]
    for night in _nights(surface, _calendar(site_input), site_input):
        coldest = min(
            (
                (hour.air_temperature_c, minute(hour.at))
                for hour in site_input.weather.hours
                if night.from_min <= minute(hour.at) < night.until_min
            ),
            default=(limit_c, 0),
        )
        if coldest[0] < limit_c:
            words = _clock(site_input).words(coldest[1])
            air = show("temperature", coldest[0], site.units)
            why = f"frost before the night, {air} forecast {words}"
            return _before(surface, method, night, why, site_input)
    return None


def _before(
    surface: Surface,
    method: MethodKey,
    night: Stretch,
    reason: str,
    site_input: SiteInput,
) -> CoverStage:
    """Plan a change before a night, while the people of its day are still there."""
    ends = (
        watch.stretch.until_min
        for watch in _calendar(site_input).shifts
        if 0 <= night.from_min - watch.stretch.until_min < _SAME_DAY_MIN
    )
    by_min = max(ends, default=night.from_min)
    starts_at = site_input.horizon.at(by_min) - _around(site_input)
    starts_at = max(starts_at, surface.placing_ends_at)
    return _stage(method, starts_at, reason, site_input)


def _nights(
    surface: Surface, calendar: SiteCalendar, site_input: SiteInput
) -> Iterator[Stretch]:
    """Yield the nights of the plan that begin once the surface is placed."""
    placed_min = site_input.horizon.minute(surface.placing_ends_at)
    length_min = site_input.horizon.length_min
    for night in calendar.nights:
        if max(0, placed_min) <= night.from_min < length_min:
            yield night


def _worked(calendar: SiteCalendar, night: Stretch) -> bool:
    parts = (
        clip(watch.stretch, night.from_min, night.until_min)
        for watch in calendar.shifts
    )
    return any(p and p.until_min - p.from_min >= _WORKED_MIN for p in parts)


def _calendar(site_input: SiteInput) -> SiteCalendar:
    cool_h = figures_for(site_input.site.rates)["all"]["cool_morning"]
    return site_calendar(site_input.site, site_input.horizon, cool_h)


def _clock(site_input: SiteInput) -> WeekClock:
    return WeekClock(site_input.site.timezone, site_input.horizon)


def _around(site_input: SiteInput) -> timedelta:
    """Give how long before and after its planned time a change may be done."""
    around_min = figures_for(site_input.site.rates)["all"]["hand_over"]
    return timedelta(minutes=around_min)


def _stage(
    method: MethodKey, starts_at: datetime, reason: str, site_input: SiteInput
) -> CoverStage:
    return CoverStage(
        method=method,
        cover=first_cover(method, site_input.site),
        starts_at=starts_at,
        reason=reason,
    )
