"""Everything about one surface brought together in the minutes of the horizon."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

from models.local_clock import WeekClock
from models.records import (
    DryingHistory,
    HydrationHistory,
    SiteInput,
    SteamCycle,
    Surface,
)
from scheduler.methods.case.figures import Figures, figures_for
from scheduler.methods.case.grid_times import Times
from scheduler.methods.case.held import NONE_HELD, NOT_HELD, Held
from scheduler.methods.case.protocol import Case
from scheduler.methods.resources.busy import busy_stretches
from scheduler.methods.resources.calendar import SiteCalendar, site_calendar
from scheduler.methods.resources.gangs import Gangs
from scheduler.methods.resources.heat_bans import heat_bans
from scheduler.methods.resources.shifts import crew_shifts
from scheduler.methods.resources.travel import walks_min


@dataclass(frozen=True)
class Cases:
    """What all surfaces of a site share, worked out once: crews, calendar, figures."""

    site_input: SiteInput
    hydration: HydrationHistory
    drying: DryingHistory
    table: Mapping[str, Figures]
    gangs: Gangs
    calendar: SiteCalendar
    held: Mapping[str, Held]

    @property
    def times(self) -> Times:
        """Turns steps of the clocks' grid into minutes of the horizon."""
        return Times(self.drying.grid, self.site_input.horizon)

    def column(self, surface: Surface) -> int:
        """Column of a surface in the drying clock's arrays ``(steps, surfaces)``."""
        return self.drying.surface_ids.index(surface.id)

    def of(self, surface: Surface) -> Case:
        """Bring together all that the method of one surface needs to know."""
        site, horizon = self.site_input.site, self.site_input.horizon
        minute = horizon.minute
        events = self.hydration.events[self.hydration.surface_ids.index(surface.id)]
        exposed_min = minute(surface.exposed_at)
        windows = {
            "sheen_gone": events.sheen_gone,
            "takes_cover": events.takes_cover,
            "bears_people": events.bears_people,
        }
        ready_min = minute(windows[surface.cover_from].expected_at)
        if surface.face != "top" or surface.at_once:
            ready_min = exposed_min
        ends = events.curing_ends
        zone = next(zone for zone in site.zones if zone.id == surface.zone_id)
        flows = {point.id: point.flow_l_min for point in site.water_points}
        fog_needed = self.drying.fog_needed[:, self.column(surface)]
        return Case(
            surface=surface,
            profile=self.site_input.profiles[surface.profile_id],
            mix=next(mix for mix in site.mixes if mix.id == surface.mix_id),
            rules=site.rules,
            costs=site.costs,
            units=site.units,
            table=self.table,
            calendar=self.calendar,
            gangs=self.gangs,
            horizon_min=horizon.length_min,
            placing_min=minute(surface.placing_starts_at),
            exposed_min=exposed_min,
            ready_min=max(exposed_min, ready_min),
            covered_from_min=minute(surface.covered_at) if surface.covered_at else None,
            curing_end_min=minute(ends.expected_at) if ends else None,
            ends_min=minute(ends.expected_at) if ends else self.times.end_min,
            fog_needed=tuple(self.times.stretches(fog_needed)),
            stocks={stock.kind: stock for stock in site.covers},
            flow_l_min=flows[zone.water_points[0]],
            water_point_id=zone.water_points[0],
            clock=WeekClock(site.timezone, horizon),
            weather=self.site_input.weather,
            later_min=tuple(minute(stage.starts_at) for stage in surface.later),
            steam_min=_steam_min(surface.steam, minute),
            held=self.held.get(surface.id, NOT_HELD),
        )


def _steam_min(
    steam: SteamCycle | None, minute: Callable[[datetime], int]
) -> tuple[int, ...]:
    """Give the four times of a steam cycle in minutes of the horizon; none without."""
    if steam is None:
        return ()
    times = (steam.starts_at, steam.hold_from_at, steam.hold_until_at, steam.ends_at)
    return tuple(minute(at) for at in times)


def cases_of(
    site_input: SiteInput,
    hydration: HydrationHistory,
    drying: DryingHistory,
    held: Mapping[str, Held] = NONE_HELD,
) -> Cases:
    """Lay out crews, calendar and figures of a site.

    Parameters
    ----------
    held : mapping
        Surface id -> when its cover must stay on, see :func:`held_mornings`.
    """
    site, horizon = site_input.site, site_input.horizon
    table = figures_for(site.rates)
    return Cases(
        site_input=site_input,
        hydration=hydration,
        drying=drying,
        table=table,
        gangs=Gangs(
            site.teams,
            crew_shifts(site, horizon, busy_stretches(site_input, hydration)),
            heat_bans(site_input),
            walks_min(site),
        ),
        calendar=site_calendar(site, horizon, table["all"]["cool_morning"]),
        held=held,
    )
