"""Whether crews, party by party, keep to the most hours of a calendar week.

A week runs from Monday to Sunday by the site's clock; a shift counts whole in the week
it begins in. Shifts count in full less their breaks, worked or idle, in the plan or
beside it; overtime comes on top, and call-outs from the walk to the first job to the
end of the last.
"""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from models.local_clock import WeekClock
from models.records import Finding, Site, Team
from scheduler.audit.checks.crews import away_min
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.parties import Turn, turns_by_hand
from scheduler.audit.replayed.windows import CrewWindow, day_windows


def check_weeks(
    site: Site, turns: Sequence[Turn], clock: WeekClock
) -> Iterator[Finding]:
    """Find crews whose overtime and call-outs take them past the most of a week."""
    if site.rules.week_hours_max_h is None:
        return
    most_min = round(60 * site.rules.week_hours_max_h)
    teams = {team.id: team for team in site.teams}
    for hand, own in turns_by_hand(site, turns).items():
        by_week: dict[date, list[tuple[CrewWindow, list[Job]]]] = {}
        for window, jobs in own:
            if window is not None:
                by_week.setdefault(window.monday, []).append((window, jobs))
        for monday, worked in sorted(by_week.items()):
            regular = _shift_min(site, teams[hand], monday, clock)
            beyond = sum(beyond_shift_min(site, w, jobs) for w, jobs in worked)
            if beyond and regular + beyond > most_min:
                jobs = [job for _, done in worked for job in done]
                first, last = jobs[0], max(jobs, key=lambda job: job.end_min)
                words = (
                    f"{teams[hand].name} works {(regular + beyond) / 60:.1f} h in the "
                    f"week of {monday}, {beyond} min of it outside shifts; "
                    f"{most_min / 60:g} h are allowed"
                )
                yield found(
                    clock, "week", words, first.start_min, last.end_min, crew_id=hand
                )


def beyond_shift_min(site: Site, window: CrewWindow, jobs: Sequence[Job]) -> int:
    """Minutes of overtime, or all of a call-out; one job or more, in order of start."""
    if window.pattern.on_call:
        return away_min(site, window, jobs)
    return max(0, max(job.end_min for job in jobs) - window.ends_min)


def _shift_min(site: Site, crew: Team, monday: date, clock: WeekClock) -> int:
    """Count a crew's shifts of one week less breaks."""
    total = 0
    for day in (monday + timedelta(days=i) for i in range(7)):
        for window in day_windows(site, crew, day, clock):
            if not window.pattern.on_call:
                total += window.ends_min - window.starts_min
                total -= sum(b - a for a, b in window.breaks)
    return total
