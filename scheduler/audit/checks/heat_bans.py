"""When heat keeps everybody off, counted from the site's bans and the forecast."""

from collections.abc import Iterator, Sequence

from models.local_clock import WeekClock
from models.records import Finding, HeatBanTrace, SiteInput
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job

Span = tuple[int, int]


def ban_spans(site_input: SiteInput, clock: WeekClock) -> tuple[Span, ...]:
    """First minute and the one after the last of every ban that meets the horizon.

    A ban with a temperature holds where an hour of the forecast that it touches is
    warmer than that.
    """
    spans = []
    for ban in site_input.site.heat_bans:
        for day in clock.days():
            if ban.from_date is not None and day < ban.from_date:
                continue
            if ban.until_date is not None and day > ban.until_date:
                continue
            span = clock.stretch(day, ban.starts, ban.ends)
            starts, ends = span.from_min, span.until_min
            warmest = max(
                (
                    hour.air_temperature_c
                    for hour in site_input.weather.hours
                    if starts < clock.horizon.minute(hour.at) + 60
                    and clock.horizon.minute(hour.at) < ends
                ),
                default=-273.15,
            )
            if ban.above_c is not None and warmest <= ban.above_c:
                continue
            if ends > 0 and starts < clock.horizon.length_min:
                spans.append((max(0, starts), min(ends, clock.horizon.length_min)))
    return tuple(sorted(spans))


def check_bans(
    bans: Sequence[Span], jobs: Sequence[Job], clock: WeekClock
) -> Iterator[Finding]:
    """Find work that runs into a heat ban."""
    for job in jobs:
        for starts, ends in bans:
            if job.start_min < ends and starts < job.end_min:
                words = (
                    f"{job.words} {clock.span(job.start_min, job.end_min)} runs into "
                    f"the heat ban {clock.span(starts, ends)}"
                )
                yield found(
                    clock, "heat_ban", words, job.start_min, job.end_min, job=job
                )


def ban_traces(bans: Sequence[Span], clock: WeekClock) -> tuple[HeatBanTrace, ...]:
    """Say the bans of the week as instants."""
    return tuple(
        HeatBanTrace(starts_at=clock.horizon.at(starts), ends_at=clock.horizon.at(ends))
        for starts, ends in bans
    )
