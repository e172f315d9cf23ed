"""Whether crews, party by party, keep to the most hours of a week, a day, a call-out.

A week runs from Monday to Sunday by the site's clock; a shift counts whole in the week
and on the day that it begins in. Shifts count in full less their breaks, worked or
idle, in the plan or beside it; overtime comes on top, and call-outs from the walk to
the first job to the end of the last.
"""

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from models.local_clock import WeekClock
from models.records import Finding, FindingKind, Site, Team
from scheduler.audit.checks.crews import away_min
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.parties import Turn, turns_by_hand
from scheduler.audit.replayed.windows import CrewWindow, day_windows

Worked = list[tuple[CrewWindow, list[Job]]]


class _Most(NamedTuple):
    """The most hours of some days with all their shifts, or of a call-out alone."""

    kind: FindingKind
    when: str
    hours_h: float
    days: Sequence[date] = ()


def check_hours(
    site: Site, turns: Sequence[Turn], clock: WeekClock
) -> Iterator[Finding]:
    """Find crews whose overtime and call-outs take them past the most allowed."""
    rules = site.rules
    teams = {team.id: team for team in site.teams}
    for hand, own in turns_by_hand(site, turns).items():
        worked = [(window, jobs) for window, jobs in own if window is not None]
        if not worked:
            continue
        crew = teams[hand]
        if rules.week_hours_max_h is not None:
            for monday, of_week in _grouped(worked, lambda window: window.monday):
                days = [monday + timedelta(days=i) for i in range(7)]
                when = f"in the week of {monday}"
                most = _Most("week", when, rules.week_hours_max_h, days)
                yield from _too_long(most, site, crew, of_week, clock)
        for day, of_day in _grouped(worked, lambda window: window.day):
            most = _Most("day", f"on {day}", rules.day_hours_max_h, [day])
            yield from _too_long(most, site, crew, of_day, clock)
        for one in worked:
            if one[0].pattern.on_call:
                most = _Most("call_out", "in one call-out", rules.call_out_max_h)
                yield from _too_long(most, site, crew, [one], clock)


def _grouped(
    worked: Worked, by: Callable[[CrewWindow], date]
) -> Iterator[tuple[date, Worked]]:
    groups: dict[date, Worked] = {}
    for window, jobs in worked:
        groups.setdefault(by(window), []).append((window, jobs))
    yield from sorted(groups.items(), key=lambda group: group[0])


def _too_long(
    most: _Most, site: Site, crew: Team, worked: Worked, clock: WeekClock
) -> Iterator[Finding]:
    """Find a crew's hours beyond the most."""
    most_min = round(60 * most.hours_h)
    regular = sum(shift_min(site, crew, day, clock) for day in most.days)
    beyond = sum(beyond_shift_min(site, window, jobs) for window, jobs in worked)
    if not beyond or regular + beyond <= most_min:
        return
    jobs = [job for _, done in worked for job in done]
    first, last = jobs[0], max(jobs, key=lambda job: job.end_min)
    outside = f", {beyond} min of it outside shifts" if most.days else ""
    words = (
        f"{crew.name} works {(regular + beyond) / 60:.1f} h {most.when}{outside}; "
        f"{most_min / 60:g} h are allowed"
    )
    yield found(clock, most.kind, words, first.start_min, last.end_min, crew_id=crew.id)


def beyond_shift_min(site: Site, window: CrewWindow, jobs: Sequence[Job]) -> int:
    """Minutes of overtime, or all of a call-out; one job or more, in order of start."""
    if window.pattern.on_call:
        return away_min(site, window, jobs)
    return max(0, max(job.end_min for job in jobs) - window.ends_min)


def shift_min(site: Site, crew: Team, day: date, clock: WeekClock) -> int:
    """Count a crew's shifts of one day less their own breaks."""
    return sum(
        window.ends_min
        - window.starts_min
        - sum(b - a for a, b in window.breaks if a < window.ends_min)
        for window in day_windows(site, crew, day, clock)
        if not window.pattern.on_call
    )
