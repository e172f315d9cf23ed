"""Dry gaps by the clock, and those that somebody found though the clock has none."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from models.records import Gap


def dry_gaps(
    surface_id: str,
    by_clock: Iterable[Gap],
    found_dry: Iterable[datetime],
    wettings: Sequence[datetime],
    until: datetime,
) -> tuple[Gap, ...]:
    """Join what the clock has with what was found: dry from a find until wetted.

    What a hand has felt counts, whatever a model says; how long it had been dry before
    that is the model's to say.

    Parameters
    ----------
    by_clock : iterable of Gap
        Of the surface.
    found_dry, wettings : iterable of datetime
        When it was found dry, and from when it was damp again, in order.
    until : datetime
        A surface that nobody wets stays dry until then.
    """
    gaps = sorted(by_clock, key=lambda gap: gap.starts_at)
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
