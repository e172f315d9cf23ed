"""Whether the crews have the hours, the hands and the legs for it.

Counted on the windows of :mod:`scheduler.audit.replayed.windows`: shifts, overtime,
breaks, other work, call-outs, daily rest, walking between zones, skills and people, one
job at a time; the last four for each party of a gang.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import chain, pairwise

from models.local_clock import WeekClock
from models.records import (
    BreakTrace,
    Finding,
    OtherWorkTrace,
    ShiftTrace,
    Site,
    Team,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.parties import Turn, same_shift, turns_by_hand
from scheduler.audit.replayed.windows import CrewWindow, walk_min


@dataclass(frozen=True)
class CrewEffort:
    """What the crews' week adds up to."""

    call_outs: int
    call_out_cost: float
    overtime_min: int
    travel_min: int


def check_crews(site: Site, turns: Sequence[Turn], clock: WeekClock) -> list[Finding]:
    """Check every shift, and for each party its jobs one after the other."""
    findings: list[Finding] = []
    teams = {team.id: team for team in site.teams}
    for window, jobs in turns:
        for job in jobs:
            findings += _hands(teams.get(job.visit.crew_id), job, clock)
            findings += _hours(window, job, clock)
    for own in turns_by_hand(site, turns).values():
        for window, jobs in own:
            findings += _walks(site, window, jobs, clock)
        findings += _one_job_at_a_time([job for _, jobs in own for job in jobs], clock)
        findings += _rests(site, [turn for turn in own if turn[0]], clock)
    return list(dict.fromkeys(findings))  # parties of one gang may fail alike


def _hands(crew: Team | None, job: Job, clock: WeekClock) -> Iterator[Finding]:
    here = (job.start_min, job.end_min)
    if crew is None:
        words = f"{job.words}: the site has no crew {job.visit.crew_id}"
        yield found(clock, "shift", words, *here, job=job)
        return
    lacking = [skill for skill in job.task.skills if skill not in crew.skills]
    if lacking:
        words = f"{job.words} needs {', '.join(lacking)}; {crew.name} has none"
        yield found(clock, "skill", words, *here, job=job)
    if job.task.people > crew.people:
        words = (
            f"{job.words} needs {job.task.people} people; {crew.name} has {crew.people}"
        )
        yield found(clock, "people", words, *here, job=job)


def _hours(window: CrewWindow | None, job: Job, clock: WeekClock) -> Iterator[Finding]:
    here = (job.start_min, job.end_min)
    span = clock.span(*here)
    if window is None or not window.takes(*here):
        words = f"{job.words} {span} is outside the shift {job.visit.shift_id}"
        if window is not None:
            hours = clock.span(window.starts_min, window.closes_min)
            words += f", {hours} with overtime"
        yield found(clock, "shift", words, *here, job=job)
        return
    for starts, ends in window.breaks:
        if job.start_min < ends and starts < job.end_min:
            words = f"{job.words} {span} runs into the break {clock.span(starts, ends)}"
            yield found(clock, "break", words, *here, job=job)
    for starts, ends, doing in window.busy:
        if job.start_min < ends and starts < job.end_min:
            words = (
                f"{job.words} {span}: {window.crew.name} is {doing} "
                f"{clock.span(starts, ends)}"
            )
            yield found(clock, "busy", words, *here, job=job)


def walks(
    site: Site, window: CrewWindow, jobs: Sequence[Job]
) -> Iterator[tuple[int, int]]:
    """Minutes to walk to each job of a shift, and the minute they may begin.

    The first walk is from the crew's home zone once the shift has begun; staying on a
    surface takes none.
    """
    zone, since, surface_id = window.crew.home_zone, window.starts_min, ""
    for job in jobs:
        stays = job.work.surface_id == surface_id
        yield (0 if stays else walk_min(site, zone, job.work.zone_id)), since
        zone, since, surface_id = job.work.zone_id, job.end_min, job.work.surface_id


def _walks(
    site: Site, window: CrewWindow | None, jobs: Sequence[Job], clock: WeekClock
) -> Iterator[Finding]:
    if window is None:
        return
    for job, (needed, since) in zip(jobs, walks(site, window, jobs), strict=True):
        if since <= job.start_min < since + needed:
            words = (
                f"{window.crew.name} has {job.start_min - since} min to walk to "
                f"{job.words} at {clock.words(job.start_min)}; the walk takes {needed}"
            )
            yield found(clock, "travel", words, since, job.start_min, job=job)


def _one_job_at_a_time(jobs: Sequence[Job], clock: WeekClock) -> Iterator[Finding]:
    last: Job | None = None
    for job in sorted(jobs, key=lambda j: (j.start_min, j.visit.id)):
        if last is not None and job.start_min < last.end_min:
            words = (
                f"{job.words} starts {clock.words(job.start_min)}; the crew is on "
                f"{last.words} until {clock.words(last.end_min)}"
            )
            yield found(clock, "overlap", words, job.start_min, last.end_min, job=job)
        if last is None or job.end_min > last.end_min:
            last = job


def _rests(site: Site, turns: Sequence[Turn], clock: WeekClock) -> Iterator[Finding]:
    needed = round(site.rules.rest_h * 60)
    worked = sorted(turns, key=lambda turn: turn[1][0].start_min)
    for (_, before), (_, after) in pairwise(worked):
        ended = max(job.end_min for job in before)
        rested = after[0].start_min - ended
        if rested < needed:
            words = (
                f"the crew rests {max(0, rested) / 60:.1f} h from {clock.words(ended)} "
                f"to {clock.words(after[0].start_min)}; {needed / 60:g} h are required"
            )
            yield found(clock, "rest", words, ended, after[0].start_min, job=after[0])


def effort(site: Site, turns: Sequence[Turn]) -> CrewEffort:
    """Count call-outs, overtime and walking of the week.

    A gang's overtime in a shift lasts until the last of its parties is done; parties
    that walk together from one job to the next walk once.
    """
    worked = [(window, jobs) for window, jobs in turns if window is not None]
    called = [(window, jobs) for window, jobs in worked if window.pattern.on_call]
    overtime: dict[tuple[str, str, date], int] = {}
    for window, jobs in worked:
        shift = window.crew.gang_id, window.pattern.id, window.day
        overtime[shift] = max(overtime.get(shift, 0), _overtime_min(window, jobs))
    ways: dict[tuple[str, str], int] = {}
    for own in turns_by_hand(site, worked).values():
        for window, jobs in ((w, jobs) for w, jobs in own if w is not None):
            before = ""
            for job, (needed, _) in zip(jobs, walks(site, window, jobs), strict=True):
                ways[before, job.visit.id] = needed
                before = job.visit.id
    return CrewEffort(
        call_outs=len(called),
        call_out_cost=sum(_call_out_cost(site, *turn) for turn in called),
        overtime_min=sum(overtime.values()),
        travel_min=sum(ways.values()),
    )


def _call_out_cost(site: Site, window: CrewWindow, jobs: Sequence[Job]) -> float:
    """Price a call-out: once, and by the hour from leaving home, or the least paid."""
    paid_h = max(site.costs.call_out_min_h, away_min(site, window, jobs) / 60)
    return site.costs.call_out + paid_h * site.costs.call_out_hour


def away_min(site: Site, window: CrewWindow, jobs: Sequence[Job]) -> int:
    """Minutes from leaving home for the first job to the end of the last."""
    first = jobs[0]
    walk = walk_min(site, window.crew.home_zone, first.work.zone_id)
    return max(job.end_min for job in jobs) - first.start_min + walk


def _overtime_min(window: CrewWindow, jobs: Sequence[Job]) -> int:
    return max(0, max(job.end_min for job in jobs) - window.ends_min)


def shift_traces(
    site: Site, windows: Sequence[CrewWindow], turns: Sequence[Turn], clock: WeekClock
) -> tuple[ShiftTrace, ...]:
    """Trace every shift, idle ones too, under the roster's id where it has one.

    What a gang does as a whole stands in the traces of its parties too.
    """
    worked = [(window, jobs) for window, jobs in turns if window is not None]
    traces = []
    for window in windows:
        alike = [(w, jobs) for w, jobs in worked if same_shift(w, window)]
        ids = {w.crew.id: jobs[0].visit.shift_id for w, jobs in alike}
        gang_id = window.crew.gang_id
        gangs = f"{gang_id}/{window.pattern.id}/{window.day}"
        done = [jobs for w, jobs in alike if w.crew.takes_in(window.crew)]
        jobs = sorted(chain(*done), key=lambda job: (job.start_min, job.visit.id))
        walked = sum(needed for needed, _ in walks(site, window, jobs))
        traces.append(
            ShiftTrace(
                shift_id=ids.get(window.crew.id, window.id),
                part_of="" if window.crew.id == gang_id else ids.get(gang_id, gangs),
                crew_id=window.crew.id,
                starts_at=clock.horizon.at(window.starts_min),
                ends_at=clock.horizon.at(window.ends_min),
                busy_min=sum(job.end_min - job.start_min for job in jobs),
                travel_min=walked,
                overtime_min=_overtime_min(window, jobs) if jobs else 0,
                called_out=bool(jobs) and window.pattern.on_call,
                on_call=window.pattern.on_call,
                breaks=tuple(
                    _break_trace(*pause, clock)
                    for pause in sorted(window.breaks)
                    if pause[0] < max([window.ends_min, *(j.end_min for j in jobs)])
                ),
                other_work=tuple(
                    OtherWorkTrace(
                        starts_at=clock.horizon.at(one.from_min),
                        ends_at=clock.horizon.at(one.until_min),
                        doing=one.doing,
                    )
                    for one in window.busy
                ),
            )
        )
    return tuple(traces)


def _break_trace(from_min: int, until_min: int, clock: WeekClock) -> BreakTrace:
    at = clock.horizon.at
    return BreakTrace(starts_at=at(from_min), ends_at=at(until_min))
