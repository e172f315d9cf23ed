"""The site's working time: shifts, days off, nights and cool mornings."""

from dataclasses import dataclass
from datetime import date, time, timedelta

from models.local_clock import WeekClock
from models.records import Horizon, Site, Stretch
from scheduler.methods.resources.shifts import pattern_days
from scheduler.methods.resources.stretches import clip

#: A morning counts as worked if a shift leaves at least this much of it. [min]
_SHORTEST_MORNING_MIN = 60


#: When air and sun warm a face most (assumption: before and after its peak).
_MIDDAY = (time(12), time(15))
#: Monday is 0: a night that begins on one of these days is a night of the weekend.
_WEEKEND = (4, 5, 6)


def at_weekend(clock: WeekClock, minute: int) -> bool:
    """Whether a minute of the horizon lies on a local Friday, Saturday or Sunday."""
    return clock.local(minute).weekday() in _WEEKEND


@dataclass(frozen=True)
class Watch:
    """A worked shift, or the daylight of a day off, named the same in every plan."""

    name: str
    on: date
    stretch: Stretch


@dataclass(frozen=True)
class SiteCalendar:
    """The site's working time in minutes of the horizon.

    Attributes
    ----------
    first_day : date
        Local day of minute 0; a night shift of the day before may reach in.
    shifts : tuple of Watch
        Worked shifts, each distinct pair of hours once.
    days_off : tuple of Watch
        Daylight hours of local days on which no worked shift begins.
    mornings : tuple of Stretch
        Cool hours of mornings that somebody works in.
    middays : tuple of Stretch
        The warmest hours of days on which somebody works in them.
    """

    first_day: date
    shifts: tuple[Watch, ...]
    days_off: tuple[Watch, ...]
    mornings: tuple[Stretch, ...]
    middays: tuple[Stretch, ...]
    nights: tuple[Stretch, ...]

    def is_night(self, minute: int) -> bool:
        """Tell whether a minute counts as night."""
        return any(n.from_min <= minute < n.until_min for n in self.nights)

    def daily(self) -> tuple[Watch, ...]:
        """Give one watch a local day: its first worked shift, else its daylight."""
        first: dict[date, Watch] = {}
        for watch in (*self.shifts, *self.days_off):
            if watch.on >= self.first_day:
                first.setdefault(watch.on, watch)
        return tuple(first[on] for on in sorted(first))


def site_calendar(site: Site, horizon: Horizon, cool_morning_h: float) -> SiteCalendar:
    """Lay the site's patterns over the horizon."""
    clock = WeekClock(site.timezone, horizon)
    shifts = _worked(site, clock)
    worked = {watch.on for watch in shifts}
    daylight = [
        (on, clock.stretch(on, site.night_ends, site.night_starts))
        for on in clock.days()
    ]
    cool = timedelta(hours=cool_morning_h)
    mornings = (
        clock.stretch(on, site.night_ends, _later(site.night_ends, cool))
        for on in clock.days()
    )
    middays = (clock.stretch(on, *_MIDDAY) for on in clock.days())
    return SiteCalendar(
        first_day=clock.days()[1],
        shifts=shifts,
        days_off=tuple(
            Watch(f"{on.isoformat()}", on, part)
            for on, day in daylight
            if on not in worked and (part := clip(day, 0, horizon.length_min))
        ),
        mornings=tuple(m for m in mornings if _is_worked(m, shifts)),
        middays=tuple(m for m in middays if _is_worked(m, shifts)),
        nights=tuple(
            clock.stretch(on, site.night_starts, site.night_ends) for on in clock.days()
        ),
    )


def _worked(site: Site, clock: WeekClock) -> tuple[Watch, ...]:
    """Give the shifts that some crew works, each pair of hours once."""
    used = {name for crew in site.crews for name in crew.shifts}
    by_hours: dict[tuple[int, int], Watch] = {}
    for pattern in site.shifts:
        if pattern.on_call or pattern.id not in used:
            continue
        for on in pattern_days(pattern, clock):
            whole = clock.stretch(on, pattern.starts, pattern.ends)
            part = clip(whole, 0, clock.horizon.length_min)
            if part:
                watch = Watch(f"{on.isoformat()}-{pattern.id}", on, part)
                by_hours.setdefault((part.from_min, part.until_min), watch)
    return tuple(by_hours[hours] for hours in sorted(by_hours))


def _later(clock: time, by: timedelta) -> time:
    minutes = clock.hour * 60 + clock.minute + round(by.total_seconds() / 60)
    return time(minutes // 60 % 24, minutes % 60)


def _is_worked(morning: Stretch, shifts: tuple[Watch, ...]) -> bool:
    """Whether a shift leaves enough of a morning for covers to come off."""
    parts = (clip(morning, w.stretch.from_min, w.stretch.until_min) for w in shifts)
    return any(p and p.until_min - p.from_min >= _SHORTEST_MORNING_MIN for p in parts)
