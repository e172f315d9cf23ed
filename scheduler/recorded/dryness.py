"""Dry gaps by the clock, and those that somebody found or made."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.records import Gap, Task
from scheduler.happened.visits import SeenVisit


@dataclass(frozen=True)
class Done:
    """A visit that was done, or is to be, and its task."""

    seen: SeenVisit
    task: Task

    @property
    def is_written(self) -> bool:
        """Whether somebody wrote of it."""
        return self.seen.entry is not None

    @property
    def begun_at(self) -> datetime:
        """When it began."""
        return self.seen.visit.starts_at

    @property
    def damp_from(self) -> datetime | None:
        """From when the surface is damp by it again; None where it wets nothing."""
        if not (self.task.refills or self.task.seals):
            return None
        return self.begun_at + timedelta(minutes=self.task.half_done_min)


def uncovered(
    surface_id: str, done: Iterable[Done], at: datetime, until: datetime
) -> tuple[Gap, ...]:
    """Give the time after the last cover came off: nothing keeps the surface damp.

    Parameters
    ----------
    at : datetime
        Visits of which nobody wrote count up to then.
    until : datetime
        End of all time that is known.
    """
    begun = [one for one in done if one.is_written or one.begun_at < at]
    off = [
        one.begun_at
        for one in begun
        if one.task.facts.lifts or one.task.kind == "drain"
    ]
    laid = [one.begun_at for one in begun if one.task.covers or one.task.facts.lays]
    if not off or max(laid, default=min(off)) > min(off):
        return ()
    bare = Gap(surface_id=surface_id, starts_at=min(off), ends_at=until, covered=False)
    return (bare,)


def cut(gaps: Iterable[Gap], bare: Sequence[Gap]) -> Iterator[Gap]:
    """Leave out what a surface has under a cover that has come off."""
    first = min((gap.starts_at for gap in bare), default=None)
    for gap in gaps:
        if first is None or gap.ends_at <= first:
            yield gap
        elif gap.starts_at < first:
            yield gap.model_copy(update={"ends_at": first})


def dry_gaps(
    surface_id: str,
    known: Iterable[Gap],
    found_dry: Iterable[datetime],
    done: Iterable[Done],
    until: datetime,
) -> tuple[Gap, ...]:
    """Join what is known to be dry with what was found: dry from a find until wetted.

    What a hand has felt counts, whatever a model says; how long it had been dry before
    that is the model's to say.

    Parameters
    ----------
    known : iterable of Gap
        Of the surface.
    found_dry : iterable of datetime
        When it was found dry.
    done : iterable of Done
        Visits to it.
    until : datetime
        A surface that nobody wets stays dry until then.
    """
    wettings = sorted(at for one in done if (at := one.damp_from) is not None)
    gaps = list(known)
    for at in found_dry:
        ends_at = next((one for one in wettings if one > at), until)
        for starts, ends in [*_beside(gaps, at, ends_at)]:
            made = Gap(
                surface_id=surface_id, starts_at=starts, ends_at=ends, covered=True
            )
            gaps.append(made)
    joined: list[Gap] = []
    for gap in sorted(gaps, key=lambda gap: gap.starts_at):
        last = joined[-1] if joined else None
        if last and last.covered == gap.covered and gap.starts_at <= last.ends_at:
            ends = max(last.ends_at, gap.ends_at)
            joined[-1] = last.model_copy(update={"ends_at": ends})
        else:
            joined.append(gap)
    return tuple(joined)


def _beside(
    gaps: Iterable[Gap], starts_at: datetime, ends_at: datetime
) -> Iterator[tuple[datetime, datetime]]:
    """Yield the parts of a stretch that are in no gap."""
    at = starts_at
    for gap in sorted(gaps, key=lambda gap: gap.starts_at):
        if gap.ends_at <= at:
            continue
        if gap.starts_at >= ends_at:
            break
        if gap.starts_at > at:
            yield at, gap.starts_at
        at = gap.ends_at
    if at < ends_at:
        yield at, ends_at
