"""Hours of every gang, week by week: its shifts, overtime and call-outs."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from models.local_clock import WeekClock
from models.records import Crew, Site, WeekHours
from scheduler.audit.checks.crews import away_min
from scheduler.audit.checks.hours_limits import beyond_shift_min, shift_min
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.parties import Turn
from scheduler.audit.replayed.windows import CrewWindow


def week_hours(
    site: Site, windows: Sequence[CrewWindow], turns: Sequence[Turn], clock: WeekClock
) -> tuple[WeekHours, ...]:
    """Count every calendar week in which a gang has a shift or is on call in the plan.

    Shifts count in full less breaks, those beside the plan too; a gang's overtime lasts
    until the last of its parties is done.
    """
    return tuple(
        hours
        for crew in site.crews
        for monday in sorted({w.monday for w in windows if w.crew.id == crew.id})
        for hours in (_of_week(site, crew, monday, turns, clock),)
    )


def _of_week(
    site: Site, crew: Crew, monday: date, turns: Sequence[Turn], clock: WeekClock
) -> WeekHours:
    team = next(team for team in site.teams if team.id == crew.id)
    days = (monday + timedelta(days=i) for i in range(7))
    overtime, called, paid = 0, [], 0
    for window, jobs in _shifts(crew, monday, turns):
        if window.pattern.on_call:
            away = away_min(site, window, jobs)
            called.append(away)
            paid += max(away, round(60 * site.costs.call_out_min_h))
        else:
            overtime += beyond_shift_min(site, window, jobs)
    return WeekHours(
        crew_id=crew.id,
        starts_on=monday,
        people=crew.people,
        shift_min=sum(shift_min(site, team, day, clock) for day in days),
        overtime_min=overtime,
        call_outs=len(called),
        call_out_min=sum(called),
        call_out_paid_min=paid,
    )


def _shifts(
    crew: Crew, monday: date, turns: Sequence[Turn]
) -> Iterator[tuple[CrewWindow, list[Job]]]:
    """Yield what all of a gang does, shift by shift of a week."""
    found: dict[tuple[str, date], list[Job]] = defaultdict(list)
    at: dict[tuple[str, date], CrewWindow] = {}
    for window, jobs in turns:
        if window and window.crew.gang_id == crew.id and window.monday == monday:
            shift = window.pattern.id, window.day
            found[shift] += jobs
            at.setdefault(shift, window)
    for shift, jobs in found.items():
        yield at[shift], sorted(jobs, key=lambda job: job.start_min)
