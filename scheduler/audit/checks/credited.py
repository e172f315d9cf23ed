"""What dry time takes off the curing period: it does not count, so curing ends later.

Dry time before the week counts too: of a cover that was wetted too long ago, and of a
surface that should have had one by then. Nothing that keeps a surface damp may come off
before the end that is credited.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from models.hydration.course import step_from
from models.hydration.events import initial_set_h
from models.local_clock import WeekClock
from models.profiles.period import curing_end
from models.quantities import duration
from models.records import (
    Finding,
    Flags,
    Floats,
    Grid,
    Horizon,
    HydrationHistory,
    SiteInput,
    Surface,
    SurfaceEvents,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.loss import DRY_UNITS, reserves_before
from scheduler.audit.replayed.simulation import Simulation


@dataclass(frozen=True)
class Credited:
    """An end of curing that dry time puts off.

    Attributes
    ----------
    planned_at, ends_at : datetime
        Had it been damp all the time, and as it is.
    is_known : bool
        False where the clock ends before curing does; then not before ``ends_at``.
    dry_min : int
        Minutes that do not count.
    """

    planned_at: datetime
    ends_at: datetime
    is_known: bool
    dry_min: int


def credited_ends(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    loss_l_m2_h: Floats,
    hydration: HydrationHistory,
    horizon: Horizon,
    dry: Flags | None = None,
) -> dict[str, Credited]:
    """Find the surfaces whose dry minutes put off the end of their curing.

    Parameters
    ----------
    loss_l_m2_h : array (steps, surfaces)
        Of the covers.
    dry : array of bool (minutes, surfaces), optional
        Of the horizon; without it only what is known before any roster.
    """
    grid = hydration.grid
    mixes = {mix.id: mix for mix in site_input.site.mixes}
    grace = timedelta(minutes=site_input.site.rules.uncovered_grace_min)
    put_off = {}
    for column, surface in enumerate(surfaces):
        events = hydration.events[column]
        loss = loss_l_m2_h[:, column]
        minutes = [*dry_before(surface, events, grace, loss, grid, horizon)]
        if dry is not None:
            minutes += np.flatnonzero(dry[:, column]).tolist()
        if events.curing_ends is None or not minutes:
            continue
        end = curing_end(
            site_input.profiles[surface.profile_id],
            mixes[surface.mix_id],
            surface,
            step_min=grid.step_min,
            placed_step=step_from(grid, surface.placing_ends_at),
            initial_set_h=initial_set_h(surface, events.initial_set),
            surface_temperature_c=hydration.surface_temperature_c[:, column],
            strength_fraction=hydration.strength_fraction[:, column],
            credited=damp_steps(minutes, grid, horizon),
        )
        ends_at = grid.at(grid.steps if end.step is None else end.step)
        planned_at = events.curing_ends.expected_at
        if end.step is None or ends_at > planned_at:
            put_off[surface.id] = Credited(
                planned_at, ends_at, end.step is not None, len(minutes)
            )
    return put_off


def dry_before(
    surface: Surface,
    events: SurfaceEvents,
    grace: timedelta,
    loss_l_m2_h: Floats,
    grid: Grid,
    horizon: Horizon,
) -> Iterator[int]:
    """Yield the minutes before the week in which a surface is known to be dry.

    A cover was full when last wetted, or when laid; what was before that nobody says.
    A surface that nothing covers yet is dry once its cover is late.
    """
    covered_at = surface.covered_at
    if covered_at is not None and covered_at <= horizon.starts_at:
        reserves = reserves_before(surface, loss_l_m2_h, grid, horizon)
        if surface.held_l_m2 > 0:
            yield from (minute for minute, left in reserves if left <= DRY_UNITS)
        return
    ready = {
        "sheen_gone": events.sheen_gone,
        "takes_cover": events.takes_cover,
        "bears_people": events.bears_people,
    }[surface.cover_from]
    late_at = surface.exposed_at
    if surface.face == "top":
        late_at = max(late_at, ready.expected_at)
    yield from range(horizon.minute(late_at + grace), 0)


def damp_steps(minutes: Sequence[int], grid: Grid, horizon: Horizon) -> Flags:
    """Tell the steps of the clock without a dry minute in them."""
    steps = (np.array(minutes) - horizon.minute(grid.starts_at)) // grid.step_min
    damp = np.ones(grid.steps, bool)
    damp[steps[(steps >= 0) & (steps < grid.steps)]] = False
    return damp


def _far_words(minute: int, beside_min: int, clock: WeekClock) -> str:
    """Say a time beside another; with its date where weekdays come round again."""
    if minute - beside_min < _WEEKDAYS_TELL_MIN:
        return clock.words(minute)
    at = clock.horizon.at(minute)
    return f"{clock.wall.day(at)} {clock.local(minute):%H:%M}"


#: Two times nearer than this are told apart by their weekdays.
_WEEKDAYS_TELL_MIN = 6 * 24 * 60


def check_credited(
    put_off: Mapping[str, Credited],
    surfaces: Sequence[Surface],
    simulation: Simulation,
    jobs: Sequence[Job],
    site_input: SiteInput,
    clock: WeekClock,
) -> list[Finding]:
    """Find ends of curing that dry time puts off, and what comes off before them."""
    findings = []
    for column, (surface, work) in enumerate(
        zip(surfaces, simulation.works, strict=True)
    ):
        own = put_off.get(surface.id)
        if own is None:
            continue
        given_min = clock.horizon.minute(own.planned_at)
        credited_min = clock.horizon.minute(own.ends_at)
        last_min = max(credited_min, work.ends_min)
        then = "" if own.is_known else "not before "
        ends = f"it ends {then}{_far_words(last_min, given_min, clock)}"
        title = site_input.profiles[surface.profile_id].title
        words = (
            f"{surface.label}: {duration(own.dry_min)} dry does not count as curing; "
            f"by {title} {ends}, not {clock.words(given_min)}"
        )
        covered = simulation.covered_from[column] < clock.horizon.length_min
        if covered and surface.held_l_m2 > 0:
            words += "; its cover stays on until then"
        findings.append(
            found(
                clock, "uncredited", words, given_min, last_min,
                surface_id=surface.id, minutes=own.dry_min,
            )
        )  # fmt: skip
        for job in jobs:
            takes_off = job.task.facts.uncovers and job.work is work
            if takes_off and job.start_min < credited_min:
                words = (
                    f"{job.words} starts {clock.words(job.start_min)}; with "
                    f"{duration(own.dry_min)} of dry time curing is not over: {ends}"
                )
                findings.append(
                    found(clock, "uncured", words, job.start_min, job.end_min, job=job)
                )
    return findings
